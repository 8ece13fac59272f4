// Fuses: present, no larger than the wire's ampacity, no smaller than the load, and rated for the supply's voltage.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import type { WireRun } from '../../power/schedule.ts'
import { makeSource, supplyRangeV } from '../../power/supply.ts'
import type { Finding, Severity } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { amps, counted, plain } from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const
const SOURCE =
  'NEC table 310.16, 210.20(A) and 240.4(D) (second-hand) govern fixed wiring; 1.25 to 1.5 times the load is common practice. Local codes come first.'

const mostOf = (w: WireRun): number => w.fuseRange?.mostA ?? w.bearsA

export function fuses(lamp: Lamp, { wiring }: PowerParts): Finding[] {
  if (!lamp.power) return []
  const [fullV] = supplyRangeV(makeSource(powerOf(lamp).value.supply))
  const found: Finding[] = []
  const main = wiring.filter((w) => w.part === 'main')
  const channels = wiring.filter((w) => w.part === 'channel')
  for (const [runs, what] of [
    [main, 'main fuse'],
    [channels, 'channel fuse'],
  ] as const) {
    const say = (rule: string, severity: Severity, of: readonly WireRun[], title: string, why: string) => {
      if (of.length > 0) found.push({ rule, severity, title, why: `${why} ${SOURCE}`, cure: cureOf(of), place })
    }
    const big = runs.filter((w) => w.fuse && w.fuse.amps > mostOf(w))
    say(
      'fuse-too-big',
      'severe',
      big,
      `${counted(big.length, what)} of ${amps(big[0]?.fuse?.amps ?? 0)} on ${big[0]?.gaugeWords}, which may have ${amps(big[0] ? mostOf(big[0]) : 0)} at most.`,
      'A fault may then heat the wire until its insulation burns, and the fuse stays whole.',
    )
    const small = runs.filter((w) => w.fuse && w.fuseRange && w.fuse.amps < w.fuseRange.leastA)
    say(
      'fuse-too-small',
      'warning',
      small,
      `${counted(small.length, what)} of ${amps(small[0]?.fuse?.amps ?? 0)} for ${amps(small[0]?.amps ?? 0)} that last.`,
      'So close to its rating a fuse warms, ages and opens when nothing is wrong. The load is that of the emptiest supply.',
    )
    const low = runs.filter((w) => w.fuse && w.fuse.volts < fullV)
    say(
      'fuse-voltage',
      'severe',
      low,
      `${counted(low.length, what)} for ${plain(low[0]?.fuse?.volts ?? 0)} V on a supply of ${plain(fullV)} V.`,
      'Over its voltage a fuse may not break the arc it makes.',
    )
  }
  found.push(...missing(main, channels))
  return found
}

function missing(main: readonly WireRun[], channels: readonly WireRun[]): Finding[] {
  const found: Finding[] = []
  if (main.some((w) => !w.fuse)) {
    found.push({
      rule: 'fuse-missing',
      severity: 'severe',
      title: 'The main run has no fuse.',
      why: `Any fault behind the supply is then fed by all of it. ${SOURCE}`,
      cure: `Fuse it at the supply’s own terminal${main[0]?.fuseRange?.fitsA ? `, ${amps(main[0].fuseRange.fitsA)}` : ''}.`,
      place,
    })
  }
  const bare = channels.filter((w) => !w.fuse && (main[0]?.fuse?.amps ?? Number.POSITIVE_INFINITY) > w.bearsA)
  if (bare.length > 0) {
    found.push({
      rule: 'fuse-missing',
      severity: 'warning',
      title: `${counted(bare.length, 'channel')} without a fuse, on ${bare[0]!.gaugeWords} that bears less than the main fuse lets through.`,
      why: `A fault in one channel heats its wire, and puts out all others with the main fuse at best. ${SOURCE}`,
      cure: `Fuse every channel${bare[0]!.fuseRange?.fitsA ? ` with ${amps(bare[0]!.fuseRange.fitsA)}` : ''}.`,
      place,
    })
  }
  return found
}

function cureOf(runs: readonly WireRun[]): string {
  const range = runs[0]!.fuseRange
  if (range?.fitsA) return `Use ${amps(range.fitsA)}, for more than the full supply’s voltage.`
  return `No usual fuse fits between ${amps(range?.leastA ?? 0)} and ${amps(range?.mostA ?? 0)}: use thicker wire.`
}
