// Drivers outside their ratings: input voltage too high or too low, no headroom, too much output current.
import type { Driver, Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { type Finding, partOf } from '../finding.ts'
import { namesByFirst, namesByMost, namesOf, type PowerParts } from '../powerParts.ts'
import { amps, ampsAtMost, counted, downThree, plain, seconds, upThree } from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const
/** Rounding of a current that was set to the driver's own limit. */
const SAME = 1.0001

type Modes = PowerParts['modes']
type WorstModes = PowerParts['worst']['modes']

export function driverRange(lamp: Lamp, { modes, worst }: PowerParts): Finding[] {
  const found: Finding[] = []
  for (const driver of powerOf(lamp).value.drivers) {
    const places = worst.channels.flatMap((c, i) => (c.driverId === driver.id ? [i] : []))
    if (places.length === 0) continue
    const ids = new Set(worst.channels.flatMap((c) => (c.driverId === driver.id ? c.ids : [])))
    // Of this driver alone, in each mode.
    const table = worst.modes.map((m) => ({ ...m, channels: m.channels.filter((_, i) => places.includes(i)) }))
    const runs = modes.map((m) => ({ ...m, channels: m.channels.filter((c) => ids.has(c.id)) }))
    found.push(
      ...tooHigh(driver, worst.fullV),
      ...tooMuchAsked(driver, table),
      ...cantHoldDown(driver, table),
      ...givesNothing(driver, table, runs, worst.fullV),
      ...sags(driver, table, runs, worst.emptyV),
    )
  }
  return found
}

const about = ({ id }: Driver) => ({ place, parts: [partOf({ kind: 'driver', id })] })

function tooHigh(driver: Driver, fullV: number): Finding[] {
  if (!(fullV > driver.inputMaxV)) return []
  return [
    {
      rule: 'driver-input-too-high',
      severity: 'severe',
      title: `“${driver.name}” bears ${downThree(driver.inputMaxV)} V; the full supply gives ${upThree(fullV)} V.`,
      why: 'Above its input range a driver fails, often short-circuited, and then the full supply stands across the emitters. The range is the driver’s own, from its data; the supply counts as full, whatever charge was entered.',
      cure: `Use a driver for at least ${plain(Math.ceil(1.1 * fullV))} V, or fewer cells in series.`,
      ...about(driver),
    },
  ]
}

function tooMuchAsked(driver: Driver, table: WorstModes): Finding[] {
  const wanted = (m: WorstModes[number]) => m.channels.reduce((most, c) => Math.max(most, c.wantedA), 0)
  const over = table.filter((m) => wanted(m) > driver.maxOutputA * SAME)
  if (over.length === 0) return []
  const most = over.reduce((top, m) => Math.max(top, wanted(m)), 0)
  return [
    {
      rule: 'driver-output-too-small',
      severity: 'warning',
      title: `“${driver.name}” gives ${ampsAtMost(driver.maxOutputA)} at most; its boards are meant to have ${amps(most)} in ${namesByMost(over, wanted, amps)}.`,
      why: 'The boards get what the driver gives: less light than the beam was computed with (unless the beam is taken at a mode’s moment). A driver that does not limit itself is overloaded. Boards and strings in parallel add up.',
      cure: 'Use a stronger driver, one for each board, or set the boards’ current or the mode’s share to what it gives.',
      ...about(driver),
    },
  ]
}

function cantHoldDown(driver: Driver, table: WorstModes): Finding[] {
  const lifts = table.filter((m) => driver.kind === 'boost' && m.channels.some((c) => c.inputTooHigh))
  if (lifts.length === 0) return []
  return [
    {
      rule: 'driver-range',
      severity: 'severe',
      title: `“${driver.name}” can only step up: in ${namesOf(lifts)} its input is as high as the boards’ own voltage.`,
      why: 'A step-up driver passes its input through once that stands above what the string needs: the current is then held by nothing. Judged from full to cut-off, cold to hot.',
      cure: 'Use fewer cells in series, more emitters in series, or a driver that steps up and down.',
      ...about(driver),
    },
  ]
}

function givesNothing(driver: Driver, table: WorstModes, runs: Modes, fullV: number): Finding[] {
  const dead = (name: string) =>
    runs.some(
      ({ limit, ...m }) =>
        m.name === name &&
        limit.atS === 0 &&
        (limit.kind === 'drivers' || limit.kind === 'supply') &&
        m.channels.some((c) => c.state === 'off' && c.inV > 0),
    )
  const dark = table.filter((m) => m.channels.some((c) => c.wantedA > 0 && c.dark) || dead(m.name))
  if (dark.length === 0) return []
  return [
    {
      rule: 'driver-range',
      severity: 'severe',
      title: `${namesOf(dark)}: “${driver.name}” gives nothing from a supply of ${plain(fullV)} V.`,
      why: 'Its input lies under its range, or under what the string needs.',
      cure: 'Use more cells in series, fewer emitters in series, or a driver that steps up.',
      ...about(driver),
    },
  ]
}

function sags(driver: Driver, table: WorstModes, runs: Modes, emptyV: number): Finding[] {
  if (driver.kind === 'boost' || driver.kind === 'buck-boost') return []
  const sagging = runs.filter((m) => m.sagsFromS !== null)
  const first = sagging.reduce((least, m) => Math.min(least, m.sagsFromS ?? least), Number.POSITIVE_INFINITY)
  const undimmed = table.flatMap((m) => {
    const underV = m.channels.reduce((most, c) => Math.max(most, c.dark ? 0 : (c.sagsUnderV ?? 0)), 0)
    return underV > 0 && !sagging.some((s) => s.name === m.name) ? [{ name: m.name, underV }] : []
  })
  if (sagging.length === 0 && undimmed.length === 0) return []
  const names = namesByFirst(sagging, (m) => m.sagsFromS ?? 0)
  const underV = undimmed.reduce((most, m) => Math.max(most, m.underV), 0)
  return [
    {
      rule: 'driver-sags',
      severity: first === 0 ? 'warning' : 'note',
      title:
        first === 0
          ? `${names}: “${driver.name}” can’t hold its current from the start.`
          : sagging.length > 0
            ? `${names}: from ${seconds(first)} on “${driver.name}” can’t hold its current any more; the light fades with the pack.`
            : `${namesByMost(undimmed, (m) => m.underV, plain, 'first')}: under ${plain(underV)} V of the supply “${driver.name}” can’t hold its current; no run came so far.`,
      why: `It needs ${plain(driver.headroomV)} V more than the string; the supply falls to ${plain(emptyV)} V. ${counted(sagging.length, 'mode')} of the lamp come so far.`,
      cure: 'One more cell in series, or one emitter fewer in each string; or let the light fade, as a sign that the pack ends.',
      ...about(driver),
    },
  ]
}
