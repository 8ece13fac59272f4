// The wiring as a list: every run with its ends, gauge, length, current, what it may carry, its fuse, and its colours by function, in words.
import type { Gauge, Harness, Power } from '../lamp/schema.ts'
import { type Channel, wireTemperatureC } from './channels.ts'
import type { FaultCurrents } from './fault.ts'
import { type FuseKind, type FuseRange, fuseMostA, fuseRange, opensAtA } from './fuse.ts'
import { makeSource } from './supply.ts'
import { ampacityA, gaugeWords, insulationAtC, loopOhm, ohmPerM } from './wire.ts'
import type { WorstCase, WorstChannel } from './worstCase.ts'

type Fuse = NonNullable<Harness['main']['fuse']>

export interface WireRun {
  id: string
  /** main, channel (to a driver), board (from it), link (from board to board). */
  part: 'main' | 'channel' | 'board' | 'link'
  channel: string | null
  group: string | null
  from: string
  to: string
  gauge: Gauge
  gaugeWords: string
  /** One way. */
  lengthMm: number
  /** Out and back, or out alone. */
  conductors: 1 | 2
  /** Pairs of contacts. */
  connectors: number
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
  insulationC: number
  bundled: number
  fuse: Fuse | null
  /** What a fuse here should be, for this run and every wire after it; null where none belongs. */
  fuseRange: FuseRange | null
  /** The thinnest wire that this run's fuse has to protect. */
  weakest: string
  /** The fuse nearest before it, its own counted. */
  protectedBy: (Fuse & { at: 'main' | 'channel' }) | null
  /** What that fuse carries for long without opening, or the supply gives, if less, A; and the insulation at it, °C. Null without a fuse. */
  heldA: number | null
  heldC: number | null
  /** Into a short circuit where it begins, A; null: not known. */
  shortA: number | null
  /** Of an almost empty pack, or of a fixed supply, into a short circuit at its end, all wires warm, A; null where a driver stands before it, or not known. */
  endShortA: number | null
  plus: string
  minus: string
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

/**
 * Colours of wires by function, plus and minus. Our own choice: functions must look unlike, and the choice must be
 * the same everywhere.
 */
const COLOURS = {
  supply: ['red', 'black'],
  led: ['white', 'brown'],
} as const

type Base = Pick<
  WireRun,
  | 'id'
  | 'part'
  | 'channel'
  | 'group'
  | 'from'
  | 'to'
  | 'lengthMm'
  | 'connectors'
  | 'amps'
  | 'mode'
  | 'terminalV'
  | 'peakA'
>

/**
 * Every run of wire: main, in and out of each driver, and from board to board in a group. Currents (A) of the
 * worst-case table; drop (V) and loss (W) as warm as the insulation may get; what each bears (A) where it runs. A fuse
 * answers for every wire after it as far as the next fuse.
 */
export function listWiring(facts: WiringFacts): WireRun[] {
  const { power, channels, worst, faults } = facts
  const { main, channel } = power.harness
  const kindOf = new Map(worst.channels.flatMap((kind) => kind.ids.map((id) => [id, kind] as const)))
  const runs = channels.map((c) => channelRuns(facts, c, kindOf.get(c.id)))
  const first = mainRun(facts)
  // Without a fuse of its own a channel hangs on the main fuse, and so do its boards.
  const afterMain = channel.fuse ? [] : runs.flat()
  const mainFuse = main.fuse ? { ...main.fuse, at: 'main' as const } : null
  const channelFuse = channel.fuse ? { ...channel.fuse, at: 'channel' as const } : mainFuse
  const mainEnd = { protectedBy: mainFuse, shortA: faults.supplyA, endShortA: endShortA(facts, 0) }
  return [
    { ...withFuse(first, main.fuse, afterMain, mainFuse), ...mainEnd },
    ...runs.flatMap((own, i) =>
      own.map((run) => ({
        ...(run.part === 'channel'
          ? { ...withFuse(run, channel.fuse, own, channelFuse), endShortA: endShortA(facts, channels[i]?.inOhm ?? 0) }
          : run),
        protectedBy: channelFuse,
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

function mainRun(facts: WiringFacts): WireRun {
  const { supply, harness } = facts.power
  const { lastingA, supplyA } = facts.worst
  const through = harness.contactor ? 'fuse and contactor' : 'fuse'
  const base: Base = {
    id: 'main',
    part: 'main',
    channel: null,
    group: null,
    from: supply.name,
    to: `branching place (through ${through})`,
    lengthMm: harness.main.lengthMm,
    connectors: harness.main.connectors,
    amps: lastingA.value,
    mode: lastingA.mode,
    terminalV: lastingA.terminalV,
    peakA: supplyA.value,
  }
  return runOf(facts, base, harness.main)
}

function channelRuns(facts: WiringFacts, c: Channel, kind: WorstChannel | undefined): WireRun[] {
  const { harness } = facts.power
  const at = (point: WorstChannel['outA'] | undefined) => ({
    amps: point?.value ?? 0,
    mode: point?.mode ?? '',
    terminalV: point?.terminalV ?? facts.worst.fullV,
  })
  const into: Base = {
    id: `${c.id} in`,
    part: 'channel',
    channel: c.id,
    group: c.group.id,
    from: 'branching place',
    to: `driver ${c.id}`,
    lengthMm: c.lengthMm,
    connectors: harness.channel.connectors,
    ...at(kind?.lastingInA),
    peakA: kind?.inA.value ?? 0,
  }
  const out: Base = {
    id: `${c.id} out`,
    part: 'board',
    channel: c.id,
    group: c.group.id,
    from: `driver ${c.id}`,
    to: c.wired === 'each' ? `board ${c.id}` : `${c.boards.length} boards of ${c.id}, in ${c.wired}`,
    lengthMm: harness.board.lengthMm,
    connectors: harness.board.connectors,
    ...at(kind?.outA),
    peakA: kind?.outA.value ?? 0,
  }
  return [runOf(facts, into, harness.channel), runOf(facts, out, harness.board), ...linkRuns(facts, c, out)]
}

/** In series each link carries all of it, one wire alone; side by side a pair carries what the boards after it take. */
function linkRuns(facts: WiringFacts, c: Channel, out: Base): WireRun[] {
  const { length: n } = c.boards
  const name = (k: number) => facts.boardNames[c.boards[k] ?? 0] ?? `${k + 1}`
  return c.linksMm.map((lengthMm, k) => {
    const share = c.wired === 'series' ? 1 : (n - 1 - k) / n
    const isReturn = k === n - 1
    const base: Base = {
      ...out,
      id: `${c.id} link ${k + 1}`,
      part: 'link',
      from: `board ${name(k)}`,
      to: isReturn ? `driver ${c.id}, its minus` : `board ${name(k + 1)}`,
      lengthMm,
      connectors: 0,
      amps: share * out.amps,
      peakA: share * out.peakA,
    }
    return runOf(facts, base, facts.power.harness.board, c.wired === 'series' ? 1 : 2)
  })
}

function runOf(facts: WiringFacts, base: Base, run: Harness['board'], conductors: 1 | 2 = 2): WireRun {
  const { harness } = facts.power
  const { gauge } = run
  const wireC = wireTemperatureC(harness)
  const ohm =
    conductors === 2
      ? loopOhm({ ...base, gauge }, harness.connectorMilliohm, wireC)
      : (base.lengthMm * ohmPerM(gauge, wireC)) / 1000
  const onPlate = base.part === 'board' || base.part === 'link'
  const airC = onPlate ? Math.max(facts.airC, facts.plateC ?? facts.airC) : facts.airC
  const leftOnC = onPlate && (facts.leftOnC ?? airC) > airC ? (facts.leftOnC ?? null) : null
  const insulationC = run.insulationC ?? harness.insulationC
  const bundled = run.bundled ?? 2
  const [plus, minus] = onPlate ? COLOURS.led : COLOURS.supply
  return {
    ...base,
    gauge,
    gaugeWords: gaugeWords(gauge),
    conductors,
    dropV: base.amps * ohm,
    lossW: base.amps ** 2 * ohm,
    bearsA: ampacityA(gauge, insulationC, airC, bundled),
    coolBearsA: ampacityA(gauge, insulationC, facts.airC, bundled),
    airC,
    leftOnC,
    insulationC,
    bundled,
    fuse: null,
    fuseRange: null,
    weakest: gaugeWords(gauge),
    protectedBy: null,
    heldA: null,
    heldC: null,
    shortA: null,
    endShortA: null,
    plus,
    minus,
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
