// Fuses: present, no larger than what any wire after it may have, no smaller than the load, rated for the supply's voltage, able to break
// its short circuit, and small enough to protect the pack.

import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { gaugeInEither } from '../../library/wireGauge.ts'
import { opensAtA, opensWords, usualBreaks } from '../../power/fuse.ts'
import type { WireRun } from '../../power/schedule.ts'
import { makeSource } from '../../power/supply.ts'
import { type Finding, partOf, type Severity } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { amps, ampsAtMost, celsius, counted, degreesC, downThree, plain, upThree } from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const
const SOURCE =
  'NEC table 310.16, 210.20(A) and 240.4(D) (second-hand) govern fixed wiring, thinner wire by NFPA 79, table 12.5.1 (memory); 1.25 to 1.5 times the load is common practice. Local codes come first.'

/** Direct voltage that usual small fuses break (common practice, no source). */
const DC_BREAKS_V = 32
/** So far over its limit insulation ages in weeks instead of years (our choice). */
const FAR_OVER_K = 20

const mostOf = (w: WireRun): number => w.fuseRange?.mostA ?? w.bearsA
const fusesOf = (runs: readonly WireRun[]): string[] => runs.map((w) => partOf({ kind: 'fuse', id: w.id }))

export function fuses(lamp: Lamp, parts: PowerParts): Finding[] {
  if (!lamp.power) return []
  const { wiring, worst } = parts
  const main = wiring.filter((w) => w.part === 'main')
  const groups = wiring.filter((w) => w.part === 'group')
  const channels = wiring.filter((w) => w.part === 'channel')
  const isFixed = lamp.power.supply.kind === 'fixed'
  return [
    ...fusesOfRuns(main, 'main fuse', worst.fullV, isFixed),
    ...fusesOfRuns(groups, 'group fuse', worst.fullV, isFixed),
    ...fusesOfRuns(channels, 'channel fuse', worst.fullV, isFixed),
    ...missing(main, groups, channels),
    ...overPack(lamp, main),
    ...holdsOverload(wiring),
  ]
}

/**
 * A fuse of the right rating still carries somewhat more for long. One that is too big for its wire is said by its own rule, and so is
 * insulation that does not bear its place.
 */
function holdsOverload(wiring: readonly WireRun[]): Finding[] {
  return (['main', 'group', 'channel'] as const).flatMap((at): Finding[] => {
    const tooBig = wiring.some((w) => w.part === at && w.fuse && w.fuse.amps > mostOf(w))
    const hot = wiring.filter((w) => w.protectedBy?.at === at && w.bearsA > 0 && (w.heldC ?? 0) > w.insulationC)
    const over = (w: WireRun) => (w.heldC ?? 0) - w.insulationC
    const worst = hot.reduce<WireRun | null>((a, b) => (a && over(a) >= over(b) ? a : b), null)
    if (tooBig || !worst?.protectedBy || worst.heldA === null || worst.heldC === null) return []
    return [
      {
        rule: 'fuse-holds-overload',
        severity: over(worst) > FAR_OVER_K ? 'warning' : 'note',
        title: `A ${at} fuse of ${amps(worst.protectedBy.amps)} may carry ${amps(worst.heldA)} for ever: ${gaugeInEither(worst.gaugeWords)} then gets to ${celsius(worst.heldC)}, its insulation bears ${degreesC(worst.insulationC)}.`,
        why: `${opensWords(worst.protectedBy)}. The rise over its place, ${degreesC(Math.round(worst.airC))}, goes with the square of the current. Codes for buildings permit up to 1.45 times, for overloads are rare and end there (IEC 60364-4-43, 433.1: second-hand); in a lamp a driver or a board that half fails can draw it for hours. ${SOURCE}`,
        cure: `Thicker wire, insulation for more, or a fuse of ${ampsAtMost(Math.floor(100 * worst.protectedBy.amps * bearableShare(worst, worst.heldC)) / 100)} at most where the load permits it.`,
        place,
        parts: [...hot.map((w) => partOf({ kind: 'wire', id: w.id })), ...fusesOf(wiring.filter((w) => w.part === at))],
      },
    ]
  })
}

/** Share of that current at which the insulation keeps its limit: rises go with the square. */
const bearableShare = ({ insulationC, airC }: WireRun, heldC: number): number =>
  Math.sqrt((insulationC - airC) / (heldC - airC))

function fusesOfRuns(runs: readonly WireRun[], what: string, fullV: number, isFixed: boolean): Finding[] {
  const found: Finding[] = []
  const say = (
    of: readonly WireRun[],
    rule: string,
    severity: Severity,
    words: (worst: WireRun & { fuse: NonNullable<WireRun['fuse']> }) => Pick<Finding, 'title' | 'why' | 'cure'>,
  ) => {
    const [first] = of
    if (!first?.fuse) return
    found.push({ rule, severity, ...words({ ...first, fuse: first.fuse }), place, parts: fusesOf(of) })
  }
  const big = runs.filter((w) => w.fuse && w.fuse.amps > mostOf(w)).sort((a, b) => mostOf(a) - mostOf(b))
  say(big, 'fuse-too-big', 'severe', (w) => ({
    title: `${counted(big.length, what)} of ${amps(w.fuse.amps)} on ${gaugeInEither(w.gaugeWords)}${w.weakest === w.gaugeWords ? '' : ` and, after it, ${gaugeInEither(w.weakest)}`}, which may have ${ampsAtMost(mostOf(w))} at most.`,
    why: `A fault may then heat the wire until its insulation burns, and the fuse stays whole. It answers for every wire after it, down to the boards’ leads. ${opensWords(w.fuse)}: at most 1.45 times what a wire bears (IEC 60364-4-43, 433.1: second-hand). ${SOURCE}`,
    cure: cureOf(w),
  }))
  const small = runs
    .filter((w) => w.fuse && w.fuseRange && w.fuse.amps < w.fuseRange.leastA)
    .sort((a, b) => b.amps - a.amps)
  say(small, 'fuse-too-small', 'warning', (w) => ({
    title: `${counted(small.length, what)} of ${amps(w.fuse.amps)} for ${amps(w.amps)} that last.`,
    why: `${w.amps < w.fuse.amps ? 'So close to' : 'Over'} its rating a fuse warms, ages and opens when nothing is wrong. The load is the largest that lasts: “${w.mode}” at ${plain(w.terminalV)} V of the supply. ${SOURCE}`,
    cure: cureOf(w),
  }))
  const low = runs.filter((w) => w.fuse && w.fuse.volts < fullV)
  say(low, 'fuse-voltage', 'severe', (w) => ({
    title: `${counted(low.length, what)} for ${downThree(w.fuse.volts)} V on a supply of ${upThree(fullV)} V.`,
    why: `Over its voltage a fuse may not break the arc it makes. The supply counts as full, whatever charge was entered. ${SOURCE}`,
    cure: cureOf(w),
  }))
  const alternating = runs.filter(
    (w) => (w.fuse?.kind === 'miniature' || w.fuse?.kind === 'UL 248') && fullV > DC_BREAKS_V && w.fuse.volts >= fullV,
  )
  say(alternating, 'fuse-voltage', 'warning', (w) => ({
    title: `${counted(alternating.length, what)} of a kind whose ${plain(w.fuse.volts)} V are mostly alternating, on ${plain(fullV)} V DC.`,
    why: `A direct-current arc has no zero to go out at: such a fuse may burn on at far less than its alternating voltage. IEC 60127 and UL 248-14 rate alternating current where nothing else is printed (memory); up to ${DC_BREAKS_V} V most break it (common practice, no source).`,
    cure: `A fuse with a direct-current rating of ${upThree(fullV)} V or more: a blade fuse for 58 V or 80 V, or gG.`,
  }))
  const breaksA = ({ fuse }: WireRun) => (fuse ? (fuse.breaksA ?? usualBreaks(fuse).amps) : 0)
  const weak = runs.filter((w) => w.fuse && w.shortA !== null && w.shortA > breaksA(w))
  say(weak, 'fuse-breaking-capacity', 'severe', (w) => ({
    title: `${counted(weak.length, what)} may have to break ${upThree(w.shortA ?? 0)} A and ${w.fuse.breaksA === undefined ? 'usually break' : 'can break'} ${downThree(breaksA(w))} A.`,
    why: `Into a short circuit the full supply of ${plain(fullV)} V gives what its resistance${w.part === 'main' ? '' : ' and that of the main wires'} lets through. Over its breaking capacity a fuse bursts, and the arc goes on.${w.fuse.breaksA === undefined ? ` The document names no breaking capacity: ${usualBreaks(w.fuse).words}.` : ''}`,
    cure: `A fuse with a breaking capacity of ${upThree(w.shortA ?? 0)} A or more, at ${upThree(fullV)} V DC.`,
  }))
  const blind = runs.filter((w) => w.fuse && w.endShortA !== null && w.endShortA < opensAtA(w.fuse))
  say(blind, 'fuse-never-opens', isFixed ? 'warning' : 'severe', (w) => ({
    title: `${counted(blind.length, what)} of ${amps(w.fuse.amps)}: a short circuit at the wire’s end draws ${ampsAtMost(w.endShortA ?? 0)} only, and may never open it.`,
    why: `${isFixed ? 'The supply gives no more, or the wires hold it down, and the fault goes on burning with it.' : 'The resistance of cells and wires holds the current down, and the cells and the fault burn with it.'} ${opensWords(w.fuse)}. ${isFixed ? 'Warm wires' : 'An almost empty pack and warm wires'} are taken.`,
    cure: isFixed
      ? 'A smaller fuse, or a supply that switches itself off in a short circuit.'
      : 'A smaller fuse, thicker or shorter wire, or cells of less resistance.',
  }))
  return found
}

function missing(main: readonly WireRun[], groups: readonly WireRun[], channels: readonly WireRun[]): Finding[] {
  const found: Finding[] = []
  if (main.some((w) => !w.fuse)) {
    found.push({
      rule: 'fuse-missing',
      severity: 'severe',
      title: 'The main run has no fuse.',
      why: `Any fault behind the supply is then fed by all of it. ${SOURCE}`,
      cure: `Fuse it at the supply’s own terminal${main[0]?.fuseRange?.fitsA ? `, ${amps(main[0].fuseRange.fitsA)}` : ''}.`,
      place,
      parts: [...fusesOf(main), ...main.map((w) => partOf({ kind: 'wire', id: w.id }))],
    })
  }
  const fuseBefore = (w: WireRun) => (w.protectedBy?.at === 'group' ? w.protectedBy : main[0]?.fuse)
  const beforeA = (w: WireRun) => fuseBefore(w)?.amps ?? Number.POSITIVE_INFINITY
  const atOf = (w: WireRun) => (w.protectedBy?.at === 'group' ? 'group' : 'main')
  const thin = (runs: readonly WireRun[]) =>
    runs.filter((w) => !w.fuse && beforeA(w) > (w.fuseRange?.mostA ?? w.bearsA))
  const fed = thin(groups)
  if (fed[0]) {
    found.push({
      rule: 'fuse-missing',
      severity: 'warning',
      title: `${counted(fed.length, 'group')} with wires of ${gaugeInEither(fed[0].gaugeWords)} and no fuse of their own${main[0]?.fuse ? ': they bear less than the main fuse lets through' : ', and none in the main run either'}.`,
      why: `A fault in these wires heats them, ${main[0]?.fuse ? 'and puts out all groups with the main fuse at best' : 'and nothing opens'}. ${SOURCE}`,
      cure: `Fuse each group’s wires where they begin${fed[0].fuseRange?.fitsA ? `, ${amps(fed[0].fuseRange.fitsA)}` : ''}.`,
      place,
      parts: [...fusesOf(fed), ...fed.map((w) => partOf({ kind: 'wire', id: w.id }))],
    })
  }
  const bare = thin(channels)
  const [first] = bare
  if (first) {
    found.push({
      rule: 'fuse-missing',
      severity: 'warning',
      title: `${counted(bare.length, 'channel')} without a fuse, on ${gaugeInEither(first.gaugeWords)}${fuseBefore(first) ? ` that bears less than the ${atOf(first)} fuse lets through` : ', and none in the main run either'}.`,
      why: `A fault in one channel heats its wire, ${fuseBefore(first) ? `and puts out all others with the ${atOf(first)} fuse at best` : 'and nothing opens'}. ${SOURCE}`,
      cure: `Fuse every channel${first.fuseRange?.fitsA ? ` with ${amps(first.fuseRange.fitsA)}` : ''}.`,
      place,
      parts: [...fusesOf(bare), ...bare.map((w) => partOf({ kind: 'wire', id: w.id }))],
    })
  }
  return found
}

/** A main fuse that lets a fault draw more than the cells bear. */
function overPack(lamp: Lamp, main: readonly WireRun[]): Finding[] {
  const { supply } = powerOf(lamp).value
  const { maxA } = makeSource(supply)
  const over = main.filter((w) => w.fuse && w.fuse.amps > maxA)
  const fuse = over[0]?.fuse
  if (supply.kind !== 'pack' || !fuse) return []
  const { protectionA } = supply
  const hasBoard = protectionA !== undefined && protectionA <= maxA
  return [
    {
      rule: 'fuse-over-pack',
      severity: hasBoard ? 'warning' : 'severe',
      title: `The main fuse of ${amps(fuse.amps)} is larger than what the pack may give, ${ampsAtMost(maxA)}.`,
      why: `A fault between the two overloads the cells for as long as it lasts, and the fuse stays whole${hasBoard ? `; only the protection board of ${ampsAtMost(protectionA)} opens, as long as it works` : ''}. ${supply.parallel} in parallel of ${ampsAtMost(supply.maxCellA)} each, the cells’ own limit.`,
      cure: `A fuse of ${ampsAtMost(maxA)} at most, or more cells in parallel${hasBoard ? '' : ', or a protection board that opens before'}.`,
      place,
      parts: [...fusesOf(over), partOf({ kind: 'supply' })],
    },
  ]
}

function cureOf(run: WireRun): string {
  const range = run.fuseRange
  if (range?.fitsA) return `Use ${amps(range.fitsA)}, for more than the full supply’s voltage.`
  return `No usual fuse fits between ${amps(range?.leastA ?? 0)} and ${ampsAtMost(range?.mostA ?? 0)}: use thicker wire${run.part === 'main' ? ', or fuse every channel' : ''}.`
}
