// Drivers outside their ratings: input voltage too high or too low, no headroom, too much output current.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { channelsOf } from '../../power/channels.ts'
import { makeSource, supplyRangeV } from '../../power/supply.ts'
import type { Finding } from '../finding.ts'
import { namesOf, type PowerParts } from '../powerParts.ts'
import { amps, counted, plain, seconds } from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const

export function driverRange(lamp: Lamp, { modes }: PowerParts): Finding[] {
  const power = powerOf(lamp).value
  const [full, empty] = supplyRangeV(makeSource(power.supply))
  const channels = channelsOf(lamp, power)
  const found: Finding[] = []
  for (const driver of power.drivers) {
    const own = new Set(channels.filter((c) => c.driver.id === driver.id).map((c) => c.id))
    if (own.size === 0) continue
    const ours = modes.map((m) => ({ ...m, channels: m.channels.filter((c) => own.has(c.id)) }))
    if (full > driver.inputMaxV) found.push(tooHigh(driver.name, full, driver.inputMaxV))
    const over = ours.find((m) => m.channels.some((c) => c.outA > driver.maxOutputA * 0.9999))
    const wanted = over?.channels.find((c) => c.outA > driver.maxOutputA * 0.9999)
    if (wanted && wantsMore(lamp, driver.maxOutputA, own)) found.push(tooMuchAsked(driver.name, driver.maxOutputA))
    const lifts = ours.filter((m) => driver.kind === 'boost' && m.channels.some((c) => c.state === 'input too high'))
    if (lifts.length > 0) found.push(cantHoldDown(driver.name, namesOf(lifts)))
    const dark = ours.filter((m) => m.limit.atS === 0 && m.channels.some((c) => c.state === 'off' && c.inV > 0))
    if (dark.length > 0 && ours.some((m) => m.limit.kind === 'drivers' || m.limit.kind === 'supply'))
      found.push(givesNothing(driver.name, namesOf(dark), full))
    const sagging = ours.filter((m) => m.sagsFromS !== null)
    if (sagging.length > 0 && driver.kind !== 'boost' && driver.kind !== 'buck-boost')
      found.push(sags(driver.name, sagging, empty, driver.headroomV))
  }
  return found
}

function wantsMore(lamp: Lamp, maxA: number, own: ReadonlySet<string>): boolean {
  const strings = new Map(lamp.boardTypes.map((t) => [t.id, t.strings ?? 1]))
  return lamp.boards.some((b) => own.has(b.id) && b.currentA * strings.get(b.type)! > maxA * 1.0001)
}

const tooHigh = (name: string, fullV: number, maxV: number): Finding => ({
  rule: 'driver-input-too-high',
  severity: 'severe',
  title: `“${name}” bears ${plain(maxV)} V; the full supply gives ${plain(fullV)} V.`,
  why: 'Above its input range a driver fails, often short-circuited, and then the full supply stands across the emitters. The range is the driver’s own, from its data.',
  cure: `Use a driver for at least ${plain(Math.ceil(1.1 * fullV))} V, or fewer cells in series.`,
  place,
})

const tooMuchAsked = (name: string, maxA: number): Finding => ({
  rule: 'driver-output-too-small',
  severity: 'warning',
  title: `“${name}” gives ${amps(maxA)} at most; its boards are meant to have more.`,
  why: 'The boards get what the driver gives: less light than the beam was computed with (unless the beam is taken at a mode’s moment).',
  cure: 'Use a stronger driver, or set the boards’ current to what it gives.',
  place,
})

const cantHoldDown = (name: string, modes: string): Finding => ({
  rule: 'driver-range',
  severity: 'severe',
  title: `“${name}” can only lift: in ${modes} its input is as high as the boards’ own voltage.`,
  why: 'A step-up driver passes its input through once that stands above what the string needs: the current is then held by nothing.',
  cure: 'Use fewer cells in series, more emitters in series, or a driver that lifts and lowers.',
  place,
})

const givesNothing = (name: string, modes: string, fullV: number): Finding => ({
  rule: 'driver-range',
  severity: 'severe',
  title: `${modes}: “${name}” gives nothing from a supply of ${plain(fullV)} V.`,
  why: 'Its input lies under its range, or under what the string needs.',
  cure: 'Use more cells in series, fewer emitters in series, or a driver that lifts.',
  place,
})

function sags(
  name: string,
  modes: readonly { name: string; sagsFromS: number | null }[],
  emptyV: number,
  headV: number,
): Finding {
  const first = modes.reduce((least, m) => Math.min(least, m.sagsFromS!), Number.POSITIVE_INFINITY)
  return {
    rule: 'driver-sags',
    severity: first === 0 ? 'warning' : 'note',
    title:
      first === 0
        ? `${namesOf(modes)}: “${name}” can’t hold its current from the start.`
        : `${namesOf(modes)}: from ${seconds(first)} on “${name}” can’t hold its current any more; the light fades with the pack.`,
    why: `It needs ${plain(headV)} V more than the string; the supply falls to ${plain(emptyV)} V. ${counted(modes.length, 'mode')} of the lamp come so far.`,
    cure: 'One more cell in series, or one emitter fewer in each string; or let the light fade, as a sign that the pack ends.',
    place,
  }
}
