// The worst that can happen to supply, drivers, wires and emitters, apart from what any one run met: every mode × every voltage of the supply
// from full to cut-off × cold, in the air given, and hot. Rules, the wiring list and the power-up list read this table.
import { isGroupOn } from '../lamp/groups.ts'
import type { Driver, Mode } from '../lamp/schema.ts'
import { type BusAt, solveBus } from './bus.ts'
import type { DriverRequest } from './driver.ts'
import { shortedDriverA, unevenShareA } from './share.ts'
import type { Source } from './supply.ts'

/**
 * cold: every junction as cold as the coldest air, at the instant of switch-on. air: plate at the document's air,
 * junctions warmed by themselves: what lasts. hot: every junction at its limit.
 */
export const TEMPERATURES = ['cold', 'air', 'hot'] as const
export type Temperature = (typeof TEMPERATURES)[number]

/** A value, and where it occurs. */
export interface WorstPoint {
  value: number
  modeId: string
  mode: string
  /** At the supply's terminals. */
  terminalV: number
  /** Of full; null on a supply without end. */
  charge: number | null
  temperature: Temperature
}

/** One mode, one kind of channel; the largest at any voltage and temperature. A, V, W. */
interface ModeChannel {
  /** Asked of the driver while it is on, before the driver's own limit. */
  wantedA: number
  outA: number
  emitterA: number
  /** In the string that takes most. */
  unevenA: number
  /** At some voltage between full and cut-off. */
  inputTooHigh: boolean
  /** Volts at the supply's terminals under which it no longer holds its current; null: holds down to cut-off. */
  sagsUnderV: number | null
  /** At no voltage anything. */
  dark: boolean
}

interface WorstMode {
  id: string
  name: string
  /** From the supply, at any temperature, and what lasts. */
  supplyA: WorstPoint
  lastingA: WorstPoint
  /** In the order of `WorstCase.channels`. */
  channels: ModeChannel[]
  /** By group that has channels: what lasts into it, A; null: off in this mode. */
  groupsA: { id: string; lastingA: number | null }[]
}

/** A group that has channels: into all of them together, for an instant and what lasts. */
interface WorstGroup {
  id: string
  peakA: WorstPoint
  lastingA: WorstPoint
}

/** Channels that are alike. */
export interface WorstChannel {
  ids: string[]
  driverId: string
  strings: number
  maxEmitterA: number
  inV: WorstPoint
  inA: WorstPoint
  lastingInA: WorstPoint
  outA: WorstPoint
  outV: WorstPoint
  outW: WorstPoint
  /** Lost in one driver. */
  driverW: WorstPoint
  emitterA: WorstPoint
  unevenA: WorstPoint
  /** Its driver fails and connects the boards to the full supply: current of all of them, and of the emitter that gets most. */
  shortedA: number
  shortedEmitterA: number
}

export interface WorstCase {
  /** °C; hot: of the emitter that bears most. */
  celsius: Record<Temperature, number>
  /** Supply's terminals: full and at rest, and at cut-off. */
  fullV: number
  emptyV: number
  supplyA: WorstPoint
  lastingA: WorstPoint
  modes: WorstMode[]
  channels: WorstChannel[]
  groups: WorstGroup[]
}

export interface WorstChannelInput {
  id: string
  /** Channels of the same key are alike. */
  key: string
  group: string
  driver: Driver
  /** That share the output. */
  strings: number
  maxEmitterA: number
  /** Between the branching place and the boards, out and back, Ω. */
  inOhm: number
  outOhm: number
  /** While it is on, before the driver's own limit, A. */
  wantedA(mode: Mode): number
  /** Across all of its boards, hot; rises without end. */
  faultV(outA: number): number
  /** Across one string, V. */
  stringV(amps: number): number
  /** By how much the voltage of the string that takes most lies lower. */
  lower: number
}

export interface WorstInput {
  source: Source
  mainOhm: number
  celsius: Record<Temperature, number>
  modes: readonly Mode[]
  /**
   * The same with every group on (`weldedModes`): what emitters, drivers and the wires after them then get counts. What draws more than it should
   * from the supply is for the fuses to open.
   */
  welded: readonly Mode[]
  channels: readonly WorstChannelInput[]
  /** One for each channel. */
  requests(mode: Mode, temperature: Temperature): readonly DriverRequest[]
}

/** Voltages tried between full and cut-off, and turns of the search about the one where most is drawn. */
const VOLTAGES = 32
const TURNS = 18

/**
 * The worst-case table, A, V, W: each mode at 33 voltages of the supply's terminals from full to cut-off, and closer
 * about the largest current (golden section), at three temperatures. The supply's own resistance sets only the charge
 * at which a voltage occurs: an old or cold pack comes to every one of them. Lamps without channels give zeros.
 */
export function makeWorstCase(input: WorstInput): WorstCase {
  const { source, channels, celsius } = input
  const fullV = source.openV(1)
  // A cut-off over the full voltage cuts nothing off.
  const cutOffV = source.cutOffV ?? fullV
  const emptyV = cutOffV > fullV ? source.openV(0) : cutOffV
  const kinds = alikeChannels(channels)
  const table: WorstCase = {
    celsius,
    fullV,
    emptyV,
    supplyA: noPoint(fullV),
    lastingA: noPoint(fullV),
    modes: [],
    channels: kinds.map(({ first, ids }) => noChannel(input, first, ids, fullV)),
    groups: [...new Set(channels.map((c) => c.group))].map((id) => ({
      ...{ id, peakA: noPoint(fullV), lastingA: noPoint(fullV) },
    })),
  }
  const runs = [
    ...input.modes.map((mode) => ({ mode, isWelded: false })),
    ...input.welded.map((mode) => ({ mode, isWelded: true })),
  ]
  for (const { mode, isWelded } of channels.length > 0 ? runs : []) {
    const worst = noMode(mode, kinds, table.groups, fullV)
    for (const temperature of TEMPERATURES) {
      const requests = input.requests(mode, temperature)
      const drawnAt = (terminalV: number): number => {
        // A supply without end has one open voltage: there its own resistance sets what is left.
        const bus = solveBus(terminalV, source.capacityC === null ? source.ohm : 0, input.mainOhm, requests)
        note({ table, worst, kinds, mode, isWelded, temperature, terminalV, bus, source })
        return bus.supplyA
      }
      scan(drawnAt, fullV, emptyV)
    }
    if (isWelded) continue
    table.modes.push(worst)
    table.supplyA = larger(table.supplyA, worst.supplyA)
    table.lastingA = larger(table.lastingA, worst.lastingA)
  }
  return table
}

const noMode = (mode: Mode, kinds: readonly Kind[], groups: readonly WorstGroup[], fullV: number): WorstMode => ({
  id: mode.id,
  name: mode.name,
  supplyA: noPoint(fullV, mode),
  lastingA: noPoint(fullV, mode),
  channels: kinds.map(({ first }) => ({
    wantedA: first.wantedA(mode),
    outA: 0,
    emitterA: 0,
    unevenA: 0,
    inputTooHigh: false,
    sagsUnderV: null,
    dark: true,
  })),
  groupsA: groups.map(({ id }) => ({ id, lastingA: isGroupOn(mode, id) ? 0 : null })),
})

interface Kind {
  first: WorstChannelInput
  ids: string[]
  /** Place of the first in the list of channels. */
  index: number
}

function alikeChannels(channels: readonly WorstChannelInput[]): Kind[] {
  const kinds = new Map<string, Kind>()
  for (const [index, first] of channels.entries()) {
    const had = kinds.get(first.key)
    if (had) had.ids.push(first.id)
    else kinds.set(first.key, { first, ids: [first.id], index })
  }
  return [...kinds.values()]
}

const noPoint = (terminalV: number, mode?: Mode): WorstPoint => ({
  value: 0,
  modeId: mode?.id ?? '',
  mode: mode?.name ?? '',
  terminalV,
  charge: null,
  temperature: 'air',
})

function noChannel(input: WorstInput, c: WorstChannelInput, ids: string[], fullV: number): WorstChannel {
  const none = noPoint(fullV)
  const ohm = input.source.ohm + input.mainOhm + c.inOhm + c.outOhm
  const shortedA = Math.min(shortedDriverA(fullV, ohm, c.faultV), input.source.shortA ?? Number.POSITIVE_INFINITY)
  return {
    ids,
    driverId: c.driver.id,
    strings: c.strings,
    maxEmitterA: c.maxEmitterA,
    // At rest a driver has the whole voltage at its input.
    inV: { ...none, value: fullV },
    inA: none,
    lastingInA: none,
    outA: none,
    outV: none,
    outW: none,
    driverW: none,
    emitterA: none,
    unevenA: none,
    shortedA,
    shortedEmitterA: unevenShareA(shortedA, c.strings, c.stringV, c.lower),
  }
}

const larger = (a: WorstPoint, b: WorstPoint): WorstPoint => (b.value > a.value ? b : a)

/** Even steps from full to empty, then a golden section about the step with the largest current. */
function scan(drawnAt: (terminalV: number) => number, fullV: number, emptyV: number): void {
  const step = (fullV - emptyV) / VOLTAGES
  let [bestV, most] = [fullV, drawnAt(fullV)]
  if (!(step > 0)) return
  for (let i = 1; i <= VOLTAGES; i++) {
    const volts = i === VOLTAGES ? emptyV : fullV - i * step
    const amps = drawnAt(volts)
    if (amps > most) [bestV, most] = [volts, amps]
  }
  let [low, high] = [Math.max(emptyV, bestV - step), Math.min(fullV, bestV + step)]
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)]
  let [atA, atB] = [drawnAt(a), drawnAt(b)]
  for (let turn = 1; turn < TURNS; turn++) {
    if (atA > atB) {
      high = b
      ;[b, atB] = [a, atA]
      a = high - GOLDEN * (high - low)
      atA = drawnAt(a)
    } else {
      low = a
      ;[a, atA] = [b, atB]
      b = low + GOLDEN * (high - low)
      atB = drawnAt(b)
    }
  }
}

/** The golden section, (√5 − 1)/2. */
const GOLDEN = (Math.sqrt(5) - 1) / 2

interface Looked {
  table: WorstCase
  worst: WorstMode
  kinds: readonly Kind[]
  mode: Mode
  isWelded: boolean
  temperature: Temperature
  terminalV: number
  bus: BusAt
  source: Source
}

function note({ table, worst, kinds, mode, isWelded, temperature, terminalV, bus, source }: Looked): void {
  // The same for all that is noted here, and not cheap.
  let charge: number | null | undefined
  const at = (value: number, before: WorstPoint): WorstPoint => {
    if (!(value > before.value)) return before
    if (charge === undefined) charge = chargeAt(source, terminalV + bus.supplyA * source.ohm)
    return { value, modeId: mode.id, mode: mode.name, terminalV, charge, temperature }
  }
  const lasts = temperature !== 'cold'
  worst.supplyA = at(bus.supplyA, worst.supplyA)
  if (lasts) worst.lastingA = at(bus.supplyA, worst.lastingA)
  for (const [g, group] of isWelded ? [] : table.groups.entries()) {
    let amps = 0
    for (const { first, index, ids } of kinds)
      if (first.group === group.id) amps += ids.length * (bus.channels[index]?.inA ?? 0)
    const own = worst.groupsA[g]
    group.peakA = at(amps, group.peakA)
    if (!lasts) continue
    group.lastingA = at(amps, group.lastingA)
    if (own && own.lastingA !== null) own.lastingA = Math.max(own.lastingA, amps)
  }
  for (const [k, { first, index }] of kinds.entries()) {
    const d = bus.channels[index]
    const [own, sum] = [worst.channels[k], table.channels[k]]
    if (!d || !own || !sum) continue
    if (own.wantedA > 0 && d.state !== 'holds' && d.state !== 'input too high')
      own.sagsUnderV = Math.max(own.sagsUnderV ?? 0, terminalV)
    if (d.state === 'input too high') own.inputTooHigh = true
    if (d.state === 'off') continue
    const emitterA = d.outA / first.strings
    const unevenA = unevenShareA(d.outA, first.strings, first.stringV, first.lower)
    own.dark = false
    own.outA = Math.max(own.outA, d.outA)
    own.emitterA = Math.max(own.emitterA, emitterA)
    own.unevenA = Math.max(own.unevenA, unevenA)
    if (!isWelded) sum.inA = at(d.inA, sum.inA)
    if (lasts && !isWelded) sum.lastingInA = at(d.inA, sum.lastingInA)
    sum.outA = at(d.outA, sum.outA)
    sum.outV = at(d.boardV + d.outA * first.outOhm, sum.outV)
    sum.outW = at(d.duty * d.outA * d.boardV, sum.outW)
    sum.driverW = at(d.driverW, sum.driverW)
    sum.emitterA = at(emitterA, sum.emitterA)
    sum.unevenA = at(unevenA, sum.unevenA)
  }
}

/** Charge at which the supply at rest has so many volts, 0 to 1 and never beyond; null on a supply without end. */
function chargeAt(source: Source, openV: number): number | null {
  if (source.capacityC === null) return null
  let [low, high] = [0, 1]
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2
    if (source.openV(middle) > openV) high = middle
    else low = middle
  }
  return (low + high) / 2
}
