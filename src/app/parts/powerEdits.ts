// Edits of cooling and power. A lamp without them gets the typical ones into its document with the first edit.
import type {
  BoardThermal,
  BoardType,
  Cooling,
  Driver,
  Gauge,
  Group,
  Lamp,
  Mode,
  Power,
  Protection,
} from '../../lamp/schema.ts'
import { boardThermalOf, coolingOf, powerOf } from '../../library/typicalPower.ts'
import { modesWithout } from '../common/groupEdits.ts'
import { freeId, withBoardType } from './edits.ts'

export const withCooling = (lamp: Lamp, part: Partial<Cooling>): Lamp => ({
  ...lamp,
  cooling: { ...coolingOf(lamp).value, ...part },
})

export const withPower = (lamp: Lamp, change: (power: Power) => Power): Lamp => ({
  ...lamp,
  power: change(powerOf(lamp).value),
})

type RatedSink = Extract<Cooling['sink'], { kind: 'rated' }>

const FINS: Extract<Cooling['sink'], { kind: 'fins' }> = {
  kind: 'fins',
  count: 12,
  heightMm: 30,
  thicknessMm: 2,
  spacingMm: 8,
}
const PINS: Extract<Cooling['sink'], { kind: 'pins' }> = {
  kind: 'pins',
  count: 100,
  heightMm: 30,
  diameterMm: 3,
  spacingMm: 8,
}

const RATED: RatedSink = { kind: 'rated', resistanceKW: 0.5, heatCapacityJK: 400, flow: 'natural' }

export function sinkOf(kind: Cooling['sink']['kind']): Cooling['sink'] {
  switch (kind) {
    case 'none':
      return { kind }
    case 'fins':
      return FINS
    case 'pins':
      return PINS
    case 'rated':
      return RATED
  }
}

/** Changes entries of a sink by its data sheet; another kind stays as it is. */
export function withRatedSink(lamp: Lamp, change: (sink: RatedSink) => RatedSink): Lamp {
  const { sink } = coolingOf(lamp).value
  return sink.kind === 'rated' ? withCooling(lamp, { sink: change(sink) }) : lamp
}

export const airOf = (kind: Cooling['air']['kind']): Cooling['air'] => {
  if (kind === 'still') return { kind }
  if (kind === 'moved') return { kind, speedMS: 2 }
  return {
    kind,
    curve: [
      { flowM3h: 0, pascal: 40 },
      { flowM3h: 80, pascal: 0 },
    ],
  }
}

/** Four cells, fully charged, as a default. */
const PACK: Extract<Power['supply'], { kind: 'pack' }> = {
  kind: 'pack',
  name: 'Pack',
  chemistry: 'li-ion',
  series: 4,
  parallel: 1,
  cellAh: 3,
  cellMilliohm: 25,
  cellGram: 47,
  maxCellA: 10,
  maxCellC: 60,
  cutOffCellV: 3,
  charged: 1,
}

export function supplyOf(kind: Power['supply']['kind'], { supply }: Power): Power['supply'] {
  if (kind === supply.kind) return supply
  if (supply.kind === 'pack')
    return { kind: 'fixed', name: 'Fixed supply', volts: Math.round(3.7 * supply.series), milliohm: 20, maxA: 30 }
  return { ...PACK, series: Math.min(400, Math.max(1, Math.round(supply.volts / 3.7))) }
}

type Lists = { drivers: Driver; groups: Group; modes: Mode }
export type ListName = keyof Lists

export const withItem = <K extends ListName>(power: Power, list: K, id: string, part: Partial<Lists[K]>): Power => ({
  ...power,
  [list]: power[list].map((row) => (row.id === id ? { ...row, ...part } : row)),
})

/** Duplicates a row; returns the new id too. */
export function withCopy(power: Power, list: ListName, id: string): { power: Power; id: string } {
  const rows: readonly (Driver | Group | Mode)[] = power[list]
  const from = rows.find((r) => r.id === id)!
  const next = freeId(rows, id)
  return { id: next, power: { ...power, [list]: [...rows, { ...from, id: next, name: `${from.name}, another` }] } }
}

export const withoutItem = (power: Power, list: ListName, id: string): Power => {
  const rows: readonly (Driver | Group | Mode)[] = power[list]
  const modes = list === 'groups' ? modesWithout(power.modes, id) : power.modes
  return { ...power, modes, [list]: rows.filter((r) => r.id !== id) }
}

/** The nearest standard size of the other system, not a converted number. */
export const gaugeOf = (system: Gauge['system'], from: Gauge, areaMm2: number): Gauge => {
  if (system === from.system) return from
  if (system === 'mm2') return { system, mm2: SIZES_MM2.find((s) => s >= areaMm2 * 0.999) ?? 120 }
  // ASTM B258, solved for the gauge number, rounded towards the thicker wire.
  const diameterMm = Math.sqrt((4 * areaMm2) / Math.PI)
  const number = Math.floor(36 - (39 * Math.log(diameterMm / 0.127)) / Math.log(92) + 1e-6)
  return { system, number: Math.min(40, Math.max(-3, number)) }
}

/** IEC 60228 */
const SIZES_MM2 = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120]

export function thermalOf(lamp: Lamp, type: BoardType): BoardThermal {
  const emitter = lamp.emitterTypes.find((e) => e.id === type.emitter)!
  return boardThermalOf(type, emitter).value
}

export function withThermal(lamp: Lamp, id: string, part: Partial<BoardThermal>): Lamp {
  const type = lamp.boardTypes.find((t) => t.id === id)!
  return withBoardType(lamp, id, { thermal: { ...thermalOf(lamp, type), ...part } })
}

/** Sets the strings of a board type; absent means one. */
export function withStrings(lamp: Lamp, id: string, strings: number): Lamp {
  const boardTypes = lamp.boardTypes.map((type) => {
    if (type.id !== id) return type
    const { strings: _, ...rest } = type
    return strings > 1 ? { ...rest, strings } : rest
  })
  return { ...lamp, boardTypes }
}

/** Sets or deletes an entry; an empty record is dropped. */
function withEntry(of: Record<string, number> | undefined, key: string, value: number | null) {
  const { [key]: _, ...rest } = of ?? {}
  const next = value === null ? rest : { ...rest, [key]: value }
  return Object.keys(next).length > 0 ? next : undefined
}

/** Frequency or depth of a driver's pulses; null: not known, or full depth. */
export function withPulses(
  power: Power,
  driver: string,
  key: 'pwmHz' | 'pwmModulationPercent',
  value: number | null,
): Power {
  const changed = (d: Driver) => (value === null ? without(d, key) : { ...d, [key]: value })
  return { ...power, drivers: power.drivers.map((d) => (d.id === driver ? changed(d) : d)) }
}

/** Sets or takes away the cut-out; protection without any part is dropped. */
export const withCutOut = (power: Power, cutOut: Protection['cutOut'] | null): Power => {
  const rest = without(power.protection ?? {}, 'cutOut')
  return withProtection(power, cutOut ? { ...rest, cutOut } : rest)
}

export const withFoldBack = (power: Power, foldBack: Protection['foldBack'] | null): Power => {
  const rest = without(power.protection ?? {}, 'foldBack')
  return withProtection(power, foldBack ? { ...rest, foldBack } : rest)
}

/** Sets or takes away what is known of the sensor. */
export const withSensor = (power: Power, sensor: Protection['sensor'] | null): Power => {
  const rest = without(power.protection ?? {}, 'sensor')
  return withProtection(power, sensor ? { ...rest, sensor } : rest)
}

/** A sensor that nothing reads goes with the last of both. */
const withProtection = (power: Power, protection: Protection): Power =>
  protection.cutOut || protection.foldBack ? { ...power, protection } : without(power, 'protection')

/** Current through each emitter of a group in one mode; null restores the mode's share. */
export function withGroupA(power: Power, mode: string, group: string, amps: number | null): Power {
  const modes = power.modes.map((m) => {
    if (m.id !== mode) return m
    const { groupA, ...rest } = m
    const next = withEntry(groupA, group, amps)
    return next ? { ...rest, groupA: next } : rest
  })
  return { ...power, modes }
}

/** Default of that current: the share of the first board's current. */
export function groupStartA(lamp: Lamp, mode: Mode, group: string): number {
  const first = powerOf(lamp).value.groups[0]!.id
  const board = lamp.boards.find((b) => (b.group ?? first) === group)
  return Number((mode.share * (board?.currentA ?? 1)).toPrecision(3))
}

/** One-way length from the branch to a channel's driver; null restores the common length. */
export function withChannelLength(power: Power, channel: string, lengthMm: number | null): Power {
  const { channelLengthMm, ...rest } = power.harness
  const next = withEntry(channelLengthMm, channel, lengthMm)
  return { ...power, harness: next ? { ...rest, channelLengthMm: next } : rest }
}

/** Null: as long as the face allows. */
export function withFinLength(lamp: Lamp, lengthMm: number | null): Lamp {
  const { sink } = coolingOf(lamp).value
  if (sink.kind !== 'fins') return lamp
  const { lengthMm: _, ...rest } = sink
  return withCooling(lamp, { sink: lengthMm === null ? rest : { ...rest, lengthMm } })
}

/** A copy without one of its entries that need not be there. */
export function without<T extends object>(of: T, key: keyof T): T {
  const copy = { ...of }
  delete copy[key]
  return copy
}
