// A lamp made ready for runs of its modes: plate, sink, channels, supply, and what all of them do at given temperatures and charge.

import { type EmitterTables, makeEmitterTables } from '../heat/emitterTables.ts'
import { boardAreaM2 } from '../heat/face.ts'
import type { FrontRise } from '../heat/frontRise.ts'
import type { Plate } from '../heat/plate.ts'
import type { ArealConductances } from '../heat/plateTemperatures.ts'
import { makeSink, type SinkModel } from '../heat/sink.ts'
import { spreadingResistance } from '../heat/spreading.ts'
import { isGroupOn } from '../lamp/groups.ts'
import { ownEntry } from '../lamp/ownEntry.ts'
import { boardTypeOf } from '../lamp/place.ts'
import type { Lamp, Mode, Power, Protection } from '../lamp/schema.ts'
import { METALS } from '../library/metals.ts'
import { boardThermalOf, coolingOf, powerOf, TYPICAL_BOARD } from '../library/typicalPower.ts'
import { type BusAt, solveBus } from '../power/bus.ts'
import { type Channel, channelsOf, emittersInSeries, parallelStrings, wireTemperatureC } from '../power/channels.ts'
import type { DriverRequest } from '../power/driver.ts'
import { makeSource, type Source } from '../power/supply.ts'
import { loopOhm } from '../power/wire.ts'
import { makePlateOf } from './plateOf.ts'
import type { RetainedLight } from './result.ts'

export interface BoardModel {
  index: number
  id: string
  tables: EmitterTables
  emitters: number
  strings: number
  series: number
  /** Plate to the board's underside, of the board's whole heat; from there to the junction, of one emitter's. */
  jointKW: number
  chainKW: number
  channel: number
  group: string
  ownA: number
  maxJunctionC: number
}

export interface PowerModel {
  lamp: Lamp
  power: Power
  plate: Plate
  /** What the front is hotter at the boards than the plate's own field. */
  rise: FrontRise
  sink: SinkModel
  boards: BoardModel[]
  channels: Channel[]
  source: Source
  /** Null: the lamp has none, or it is taken as failed (`withoutProtection`). */
  protection: Protection | null
  /** Where the protection reads, as a cell of the plate (null: its hottest), and how slowly. */
  sensor: { cell: number | null; lagS: number }
  /** Neither the emitters' limit nor the cells' ends a run: what the lamp comes to when nobody switches it off (`leftOn`). */
  isLeftOn: boolean
  /** Main wires, their contacts and the contactor, out and back. */
  mainOhm: number
  retained: RetainedLight
  assumed: string[]
  plateKg: number
  ambientC: number
}

/** State of a run, as far as the electrics need it. */
export interface OperatingState {
  /** Plate under each board's emitters: mean, and hottest. */
  siteC: Float64Array
  hotC: Float64Array
  charge: number
  /** Of the mode's current, after a step-down. */
  share: number
  /** Channels that let go for good. */
  tripped: ReadonlySet<number>
  /** Junctions of the last solution; updated by the next. */
  junctionC: Float64Array
  /** The supply's current of the last solution: the search begins there. */
  guessA: number
}

/** A junction moved by less changes a voltage by a few parts in ten thousand. */
const SETTLED_K = 0.2

export interface Electrics {
  bus: BusAt
  openV: number
  /** By board. Current through each emitter while it is on. */
  currentA: Float64Array
  lm: Float64Array
  /** Into the plate, W, with light that stays in the optics. */
  heatW: Float64Array
  /** Of the board's hottest emitter. */
  hotJunctionC: Float64Array
  totalLm: number
  lightW: number
  heatToPlateW: number
  driverW: number
  /** Of it, the part of drivers that are mounted on the plate: spread over all of it, and in heatToPlateW. */
  driverToPlateW: number
  wireW: number
}

/**
 * A lamp prepared for runs: plate, sink, channels, supply. `traced`: light that stays in the lamp, from a trace;
 * null: what the optics are stated to lose. What the document doesn't say is taken as typical and listed in
 * `assumed`. Throws on an unknown id.
 */
export function makeModel(lamp: Lamp, traced: RetainedLight | null, refine = 1): PowerModel {
  const cooling = coolingOf(lamp)
  const power = powerOf(lamp)
  const { ambientC } = lamp.reading
  const sink = makeSink(cooling.value, lamp.face, ambientC)
  const { plate, rise } = makePlateOf(lamp, refine)
  const channels = channelsOf(lamp, power.value)
  const channelOf = new Map(channels.flatMap((c, i) => c.boards.map((b) => [b, i] as const)))
  const tables = new Map(lamp.emitterTypes.map((e) => [e.id, makeEmitterTables(e)]))
  const assumed = new Set([...cooling.assumptions, ...power.assumptions])
  const boards = lamp.boards.map((board, index): BoardModel => {
    const type = boardTypeOf(lamp, board)
    const emitter = tables.get(type.emitter)!
    const thermal = boardThermalOf(type, emitter.type)
    for (const s of thermal.assumptions) assumed.add(s)
    const areaM2 = boardAreaM2(type.outline)
    const spread = type.thermal ? 0 : padSpreadKW(emitter.type.bodyMm, areaM2, type.sites.length)
    return {
      index,
      id: board.id,
      tables: emitter,
      emitters: type.sites.length,
      strings: parallelStrings(lamp, index),
      series: emittersInSeries(lamp, index),
      jointKW: thermal.value.jointKcm2W / (areaM2 * 1e4),
      chainKW: emitter.type.thermalResistanceKW + thermal.value.padKW + spread,
      channel: channelOf.get(index)!,
      group: board.group ?? power.value.groups[0]!.id,
      ownA: board.currentA,
      maxJunctionC: emitter.type.maxJunctionC,
    }
  })
  const retained = traced ?? retainedByOptics(lamp)
  if (!retained.traced)
    assumed.add('No trace was given: light that comes back to the face or ends on the wall is not counted.')
  const { harness } = power.value
  return {
    lamp,
    power: power.value,
    plate,
    rise,
    sink,
    boards,
    channels,
    source: makeSource(power.value.supply),
    protection: power.value.protection ?? null,
    sensor: sensorOf(plate, power.value.protection?.sensor),
    isLeftOn: false,
    mainOhm:
      loopOhm(harness.main, harness.connectorMilliohm, wireTemperatureC(harness)) +
      (harness.contactor?.milliohm ?? 0) / 1000,
    retained,
    assumed: [...assumed],
    plateKg: (plate.storedJm2K * plate.totalM2) / METALS[cooling.value.plate.metal].heatJkgK,
    ambientC,
  }
}

/** The cell whose middle lies nearest. */
function sensorOf(plate: Plate, sensor: NonNullable<Protection>['sensor']): PowerModel['sensor'] {
  if (!sensor) return { cell: null, lagS: 0 }
  let [nearest, least] = [0, Number.POSITIVE_INFINITY]
  for (const [at, cell] of plate.cellAt.entries()) {
    const xMm = plate.fromXMm + ((at % plate.columns) + 0.5) * plate.cellMm
    const yMm = plate.fromYMm + (Math.floor(at / plate.columns) + 0.5) * plate.cellMm
    const off = Math.hypot(xMm - sensor.xMm, yMm - sensor.yMm)
    if (cell >= 0 && off < least) [nearest, least] = [cell, off]
  }
  return { cell: nearest, lagS: sensor.lagS }
}

/** The emitter's pad in the board's metal, each emitter with its share of the board (Lee et al. 1995, the mean). */
function padSpreadKW(bodyMm: number, boardM2: number, emitters: number): number {
  const { metalMm, metalWmK, jointKcm2W } = TYPICAL_BOARD
  return spreadingResistance({
    sourceM: bodyMm / 1000 / Math.sqrt(Math.PI),
    plateM: Math.sqrt(boardM2 / emitters / Math.PI),
    thicknessM: metalMm / 1000,
    conductivityWmK: metalWmK,
    film: 1e4 / jointKcm2W,
  }).meanKW
}

/** Without a trace: the loss that collimators are stated to have, as if every emitter carried the lamp's own optic. */
function retainedByOptics(lamp: Lamp): RetainedLight {
  const optic = lamp.opticTypes.find((o) => o.id === lamp.optic)
  const optics = optic?.kind === 'collimator' ? 1 - optic.efficiency : 0
  return { face: 0, optics, wall: 0, traced: false }
}

/** Conductances of the sink by area, W/m²K, and what the fins store, J/m²K, at the plate's mean temperature in °C. */
export function conductancesAt(model: PowerModel, plateMeanC: number): ArealConductances {
  const { base, link, fin } = model.sink.at(plateMeanC)
  const area = model.plate.totalM2
  return { base: base / area, link: link / area, fin: fin / area, finStored: model.sink.finHeatJK / area }
}

/**
 * Current wanted through each of a board's emitters, on average, A: the group's of the mode, or the mode's share of
 * the board's own; times `share`, the fraction left after a step-down. 0 of a group that is off.
 */
export const wantedA = (board: BoardModel, mode: Mode, share: number): number =>
  isGroupOn(mode, board.group) ? share * (ownEntry(mode.groupA, board.group) ?? mode.share * board.ownA) : 0

/**
 * Currents, light (lm, W) and heat (W) of all boards and drivers at given temperatures and charge. Brings
 * `at.junctionC` and `at.guessA` up to date. T_j = T_site + heat · (R_chain + n R_joint), JEDEC JESD51-51; voltages
 * and junctions by at most three fixed-point steps.
 */
export function solveElectrics(model: PowerModel, mode: Mode, at: OperatingState): Electrics {
  const openV = model.source.openV(at.charge)
  let bus: BusAt | null = null
  let out: Electrics | null = null
  // Junctions set voltages, voltages set heat, heat sets junctions: the loop's gain is a few per cent.
  for (let turn = 0; turn < 3; turn++) {
    const before = at.junctionC.slice()
    const requests = model.channels.map((c, i) => makeDriverRequest(model, mode, at, c, i))
    bus = solveBus(openV, model.source.ohm, model.mainOhm, requests, bus?.supplyA ?? at.guessA)
    out = splitLightAndHeat(model, at, before, bus, openV)
    if (before.every((c, i) => Math.abs(c - at.junctionC[i]!) < SETTLED_K)) break
  }
  at.guessA = out!.bus.supplyA
  return out!
}

const stringsOf = (model: PowerModel, { boards, wired }: Channel): number => {
  const strings = boards.map((b) => model.boards[b]!.strings)
  return wired === 'parallel' ? strings.reduce((sum, n) => sum + n, 0) : strings[0]!
}

/** What a mode asks of a channel's driver while it is on, A, before the driver's own limit. */
export function wantedOutputA(model: PowerModel, mode: Mode, channel: Channel, share = 1): number {
  const first = model.boards[channel.boards[0]!]!
  const wanted = wantedA(first, mode, share)
  if (!(wanted > 0)) return 0
  return stringsOf(model, channel) * (channel.driver.dimming === 'pulse width' ? Math.max(first.ownA, wanted) : wanted)
}

/** What one channel's driver is to do in a mode, with the boards' voltages at the junctions of `at`. */
export function makeDriverRequest(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  channel: Channel,
  index: number,
): DriverRequest {
  const boards = channel.boards.map((b) => model.boards[b]!)
  const first = boards[0]!
  const wanted = wantedA(first, mode, at.share)
  const pulsed = channel.driver.dimming === 'pulse width'
  const peak = pulsed ? Math.max(first.ownA, wanted) : wanted
  // Boards in series share the current; in parallel each takes its part.
  const strings = stringsOf(model, channel)
  const emitterA = (outA: number) => outA / strings
  return {
    driver: channel.driver,
    outA: Math.min(wantedOutputA(model, mode, channel, at.share), channel.driver.maxOutputA),
    duty: pulsed && peak > 0 ? wanted / peak : 1,
    boardV: memoizeLast((outA) => {
      if (boards.length === 1) return first.series * first.tables.volts(emitterA(outA), at.junctionC[first.index]!)
      let sum = 0
      for (const b of boards) sum += b.series * b.tables.volts(emitterA(outA), at.junctionC[b.index]!)
      return channel.wired === 'parallel' ? sum / boards.length : sum
    }),
    inOhm: channel.inOhm,
    outOhm: channel.outOhm,
    tripped: at.tripped.has(index),
  }
}

/** f with its last result cached: while the bus is found a driver needs the same current many times. */
function memoizeLast(f: (x: number) => number): (x: number) => number {
  let [lastX, lastY] = [Number.NaN, 0]
  return (x) => {
    if (x !== lastX) [lastX, lastY] = [x, f(x)]
    return lastY
  }
}

function splitLightAndHeat(
  model: PowerModel,
  at: OperatingState,
  before: Float64Array,
  bus: BusAt,
  openV: number,
): Electrics {
  const n = model.boards.length
  const e: Electrics = {
    bus,
    openV,
    currentA: new Float64Array(n),
    lm: new Float64Array(n),
    heatW: new Float64Array(n),
    hotJunctionC: new Float64Array(n),
    totalLm: 0,
    lightW: 0,
    heatToPlateW: 0,
    driverW: 0,
    driverToPlateW: 0,
    wireW: bus.supplyA ** 2 * model.mainOhm,
  }
  for (const [i, c] of bus.channels.entries()) {
    e.driverW += c.driverW
    if (model.channels[i]?.driver.mounted === 'plate') e.driverToPlateW += c.driverW
    e.wireW += c.wireW
  }
  e.heatToPlateW = e.driverToPlateW
  for (const b of model.boards) addBoard(model, at, before, bus, e, b)
  return e
}

function addBoard(
  model: PowerModel,
  at: OperatingState,
  before: Float64Array,
  bus: BusAt,
  e: Electrics,
  b: BoardModel,
): void {
  const channel = model.channels[b.channel]!
  const d = bus.channels[b.channel]!
  const strings =
    channel.wired === 'parallel' ? channel.boards.reduce((sum, i) => sum + model.boards[i]!.strings, 0) : b.strings
  const amps = d.outA / strings
  const i = b.index
  e.currentA[i] = amps
  // The power into the board follows from the voltages that the driver was solved with, so that the energy account closes.
  const inW = boardInputW(model, before, d, b, amps)
  const each = inW / b.emitters
  let junction = at.junctionC[i]!
  let lightEach = 0
  for (let turn = 0; turn < 3; turn++) {
    lightEach = (d.duty * b.tables.fluxLm(amps, junction)) / b.tables.lmPerW
    lightEach = Math.min(lightEach, each)
    junction = at.siteC[i]! + (each - lightEach) * (b.chainKW + b.jointKW * b.emitters)
  }
  at.junctionC[i] = junction
  e.hotJunctionC[i] = junction + at.hotC[i]! - at.siteC[i]!
  const light = lightEach * b.emitters
  e.lm[i] = light * b.tables.lmPerW
  e.totalLm += e.lm[i]!
  e.lightW += light
  e.heatW[i] = inW - light + light * model.retained.optics
  e.heatToPlateW += e.heatW[i]! + light * model.retained.face
}

function boardInputW(
  model: PowerModel,
  junctionC: Float64Array,
  d: BusAt['channels'][number],
  b: BoardModel,
  amps: number,
): number {
  const channel = model.channels[b.channel]!
  const whole = d.duty * d.boardV * d.outA
  if (channel.boards.length === 1) return whole
  const own = (x: BoardModel) => x.series * x.tables.volts(amps, junctionC[x.index]!) * x.strings
  const sum = channel.boards.reduce((total, i) => total + own(model.boards[i]!), 0)
  return sum > 0 ? (whole * own(b)) / sum : 0
}

/** W into each cell of the plate: boards at their places; light absorbed by the face, and drivers on the plate, spread evenly. */
export function makeHeatField(model: PowerModel, e: Electrics): Float64Array {
  const { plate } = model
  const q = new Float64Array(plate.areaM2.length)
  const even = (e.lightW * model.retained.face + e.driverToPlateW) / plate.totalM2
  if (even > 0) for (let i = 0; i < q.length; i++) q[i] = even * plate.areaM2[i]!
  for (const [b, { cells, shares }] of plate.boards.entries()) {
    for (let k = 0; k < cells.length; k++) q[cells[k]!]! += shares[k]! * e.heatW[b]!
  }
  return q
}
