// The wiring as a list: every run with its ends, gauge, length, current, what it may carry, its fuse, and its colours by function, in words.
import type { Power } from '../lamp/schema.ts'
import { type Channel, groupOhm, wireTemperatureC } from './channels.ts'
import type { FaultCurrents } from './fault.ts'
import { type FuseKind, type FuseRange, fuseMostA, fuseRange, opensAtA } from './fuse.ts'
import { type Fuse, type LaidRun, layWires } from './laidRuns.ts'
import { makeSource } from './supply.ts'
import { ampacityA, insulationAtC, loopOhm, ohmPerM } from './wire.ts'
import type { WorstCase, WorstChannel } from './worstCase.ts'

export interface WireRun extends LaidRun {
  /** Largest that lasts, and the mode and voltage at the supply's terminals where it occurs. */
  amps: number
  mode: string
  terminalV: number
  /** For moments: a cold start. */
  peakA: number
  /** At the limit of the insulation. */
  dropV: number
  lossW: number
  /** Where it runs and how it lies: air (the plate's where it ends on it), insulation, conductors in its bundle. */
  bearsA: number
  /** The same in the air given, away from the plate. */
  coolBearsA: number
  airC: number
  /** Of its place when the lamp is left on past its emitters' limit; null: it doesn't get hotter than `airC`. */
  leftOnC: number | null
  /** What a fuse here should be, for this run and every wire after it; null where none belongs. */
  fuseRange: FuseRange | null
  /** The thinnest wire that this run's fuse has to protect. */
  weakest: string
  /** The fuse nearest before it, its own counted. */
  protectedBy: (Fuse & { at: 'main' | 'group' | 'channel' }) | null
  /** What that fuse carries for long without opening, or the supply gives, if less, A; and the insulation at it, °C. Null without a fuse. */
  heldA: number | null
  heldC: number | null
  /** Into a short circuit where it begins, A; null: not known. */
  shortA: number | null
  /** Of an almost empty pack, or of a fixed supply, into a short circuit at its end, all wires warm, A; null where a driver stands before it, or not known. */
  endShortA: number | null
}

export interface WiringFacts {
  power: Power
  channels: readonly Channel[]
  /** Of all boards, in the lamp's order. */
  boardNames: readonly string[]
  worst: WorstCase
  faults: FaultCurrents
  airC: number
  /** The plate's hottest place in any mode, °C, and what it gets to when left on past the emitters' limit; null: no mode was run, or none ends there. */
  plateC: number | null
  leftOnC?: number | null
}

type Load = Pick<WireRun, 'amps' | 'mode' | 'terminalV' | 'peakA'>

/**
 * Every run of wire: main, in and out of each driver, and from board to board in a group. Currents (A) of the
 * worst-case table; drop (V) and loss (W) as warm as the insulation may get; what each bears (A) where it runs. A fuse
 * answers for every wire after it as far as the next fuse.
 */
export function listWiring(facts: WiringFacts): WireRun[] {
  const { power, channels, worst, faults } = facts
  const { main, channel } = power.harness
  const fed = new Map(power.groups.flatMap((g) => (g.feed ? [[g.id, g.feed] as const] : [])))
  const kindOf = new Map(worst.channels.flatMap((kind) => kind.ids.map((id) => [id, kind] as const)))
  const laid = layWires(power, channels, facts.boardNames)
  const runs = channels.map((c, i) => channelRuns(facts, laid.channels[i] ?? [], c, kindOf.get(c.id)))
  const first = mainRun(facts, laid.main)
  const mainFuse = main.fuse ? { ...main.fuse, at: 'main' as const } : null
  const feedFuse = ({ group }: LaidRun) => fed.get(group ?? '')?.fuse ?? null
  const groupFuse = (group: string) => {
    const fuse = fed.get(group)?.fuse
    return fuse ? { ...fuse, at: 'group' as const } : mainFuse
  }
  const fuseOf = (c: Channel) => (channel.fuse ? { ...channel.fuse, at: 'channel' as const } : groupFuse(c.group.id))
  /** A channel's runs as far as no fuse of their own or of their group comes first. */
  const behind = (wanted: (c: Channel) => boolean) =>
    channel.fuse ? [] : runs.flatMap((own, i) => (channels[i] && wanted(channels[i]) ? own : []))
  const groups = laid.groups.map((run) => groupRun(facts, run))
  const by = (i: number) => (channels[i] ? fuseOf(channels[i]) : mainFuse)
  const mainEnd = { protectedBy: mainFuse, shortA: faults.supplyA, endShortA: endShortA(facts, 0) }
  const afterMain = [...groups.filter((run) => !feedFuse(run)), ...behind((c) => !fed.get(c.group.id)?.fuse)]
  return [
    { ...withFuse(first, main.fuse, afterMain, mainFuse), ...mainEnd },
    ...groups.map((run) => {
      const group = power.groups.find((g) => g.id === run.group)
      const by = groupFuse(run.group ?? '')
      return {
        ...withFuse(
          run,
          feedFuse(run),
          behind((c) => c.group.id === run.group),
          by,
        ),
        ...{ protectedBy: by, shortA: faults.branchA },
        endShortA: endShortA(facts, group ? groupOhm(group, power.harness) : 0),
      }
    }),
    ...runs.flatMap((own, i) =>
      own.map((run) => ({
        ...(run.part === 'channel'
          ? { ...withFuse(run, channel.fuse, own, by(i)), endShortA: endShortA(facts, aloneOhm(channels[i], power)) }
          : run),
        protectedBy: by(i),
        shortA: faults.branchA,
      })),
    ),
  ].map(withHeld)
}

function withHeld(run: WireRun): WireRun {
  const { protectedBy, shortA } = run
  if (!protectedBy) return run
  const heldA = Math.min(opensAtA(protectedBy), shortA ?? Number.POSITIVE_INFINITY)
  return { ...run, heldA, heldC: insulationAtC(run, heldA) }
}

function endShortA({ power, worst }: WiringFacts, channelOhm: number): number | null {
  const { harness, supply } = power
  const main = loopOhm(harness.main, harness.connectorMilliohm, wireTemperatureC(harness))
  const wires = main + (harness.contactor?.milliohm ?? 0) / 1000 + channelOhm
  // A fixed supply's own resistance is that of its load line, not of its limit: what its document says counts.
  if (supply.kind === 'fixed') {
    const { shortA } = supply
    return shortA === undefined ? null : wires > 0 ? Math.min(shortA, worst.emptyV / wires) : shortA
  }
  const ohm = makeSource(supply).ohm + wires
  return ohm > 0 ? worst.emptyV / ohm : null
}

function mainRun(facts: WiringFacts, laid: LaidRun): WireRun {
  const { lastingA, supplyA } = facts.worst
  const { value: amps, mode, terminalV } = lastingA
  return runOf(facts, laid, { amps, mode, terminalV, peakA: supplyA.value })
}

/** A short circuit in one channel flows alone through its group's wires: their resistance counts once. */
function aloneOhm(channel: Channel | undefined, { harness }: Power): number {
  if (!channel) return 0
  const { group, wired, inOhm, alike } = channel
  return wired === 'each' ? inOhm - (alike - 1) * groupOhm(group, harness) : inOhm
}

function groupRun(facts: WiringFacts, laid: LaidRun): WireRun {
  const own = facts.worst.groups.find((g) => g.id === laid.group)
  const { value: amps, mode, terminalV } = own?.lastingA ?? { value: 0, mode: '', terminalV: facts.worst.fullV }
  return runOf(facts, laid, { amps, mode, terminalV, peakA: own?.peakA.value ?? 0 })
}

/** In series each link carries all of it; side by side a pair carries what the boards after it take. */
function channelRuns(
  facts: WiringFacts,
  laid: readonly LaidRun[],
  { boards, wired }: Channel,
  kind: WorstChannel | undefined,
): WireRun[] {
  const load = (point: WorstChannel['outA'] | undefined, peak: WorstChannel['outA'] | undefined): Load => ({
    amps: point?.value ?? 0,
    mode: point?.mode ?? '',
    terminalV: point?.terminalV ?? facts.worst.fullV,
    peakA: peak?.value ?? 0,
  })
  const out = load(kind?.outA, kind?.outA)
  let link = 0
  return laid.map((run) => {
    if (run.part === 'channel') return runOf(facts, run, load(kind?.lastingInA, kind?.inA))
    if (run.part === 'board') return runOf(facts, run, out)
    link++
    const share = wired === 'series' ? 1 : (boards.length - link) / boards.length
    return runOf(facts, run, { ...out, amps: share * out.amps, peakA: share * out.peakA })
  })
}

function runOf(facts: WiringFacts, laid: LaidRun, load: Load): WireRun {
  const { harness } = facts.power
  const { gauge, insulationC, bundled } = laid
  const wireC = wireTemperatureC(harness)
  const ohm =
    laid.conductors === 2
      ? loopOhm(laid, harness.connectorMilliohm, wireC)
      : (laid.lengthMm * ohmPerM(gauge, wireC)) / 1000
  const onPlate = laid.part === 'board' || laid.part === 'link'
  const airC = onPlate ? Math.max(facts.airC, facts.plateC ?? facts.airC) : facts.airC
  const leftOnC = onPlate && (facts.leftOnC ?? airC) > airC ? (facts.leftOnC ?? null) : null
  return {
    ...laid,
    ...load,
    dropV: load.amps * ohm,
    lossW: load.amps ** 2 * ohm,
    bearsA: ampacityA(gauge, insulationC, airC, bundled),
    coolBearsA: ampacityA(gauge, insulationC, facts.airC, bundled),
    airC,
    leftOnC,
    fuse: null,
    fuseRange: null,
    weakest: laid.gaugeWords,
    protectedBy: null,
    heldA: null,
    heldC: null,
    shortA: null,
    endShortA: null,
  }
}

/** Where insulation does not bear its place that is a fault of its own, and the fuse is judged by the air given. */
const mostFuseA = (run: WireRun, kind: FuseKind | undefined): number =>
  fuseMostA(run.gauge, run.bearsA > 0 ? run.bearsA : run.coolBearsA, kind)

/** By the kind of fuse that protects it, its own or the one before. */
function withFuse(run: WireRun, fuse: Fuse | null, after: readonly WireRun[], by: Fuse | null): WireRun {
  const mostA = (of: WireRun) => mostFuseA(of, by?.kind)
  const weakest = after.reduce((a, b) => (mostA(b) < mostA(a) ? b : a), run)
  return { ...run, fuse, fuseRange: fuseRange(run.amps, mostA(weakest)), weakest: weakest.gaugeWords }
}
