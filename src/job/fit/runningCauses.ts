// What may be other than drawn in the heat and the power of the built lamp, each as one number, and the lamp with it.
import { makeModel, type PowerModel } from '../../electrothermal/model.ts'
import { type ReadLamp, readLamp } from '../../lamp/read.ts'
import type { Cooling, Lamp, Power } from '../../lamp/schema.ts'
import { coolingOf, powerOf } from '../../library/typicalPower.ts'
import { wireTemperatureC } from '../../power/channels.ts'
import { ohmPerM } from '../../power/wire.ts'
import { type Cause, RUNNING_KEYS, type RunningCauseKey } from './cause.ts'

export const isRunningKey = (key: string): key is RunningCauseKey => (RUNNING_KEYS as readonly string[]).includes(key)

/** What is fitted: temperatures of plate and boards, or voltage and current. */
export type RunningKind = 'heat' | 'power'

const cause = (key: RunningCauseKey, unit: Cause['unit'], drawn: number, tried: readonly number[]): Cause => ({
  key,
  unit,
  drawn,
  tried: [...new Set([...tried, drawn])].sort((a, b) => a - b),
})
const times = (drawn: number, by: readonly number[]): number[] => by.map((f) => drawn * f)

/** Joint of board and plate, K·cm²/W: from thermal paste to an air gap of a few tenths of a millimetre (0.026 W/mK). */
const JOINTS = [0, 0.3, 1, 3, 8, 20, 50] as const
const SPEEDS = [0, 0.25, 0.5, 1, 2, 4, 8] as const

/** Causes that temperatures can show. The joint shows only where a board's own was read. How far each is tried is our choice. */
export function heatCauses(lamp: Lamp, readsBoard: boolean): Cause[] {
  const { sink, air } = coolingOf(lamp).value
  const causes: Cause[] = []
  if (sink.kind === 'rated')
    causes.push(
      cause('sinkResistance', 'KW', sink.resistanceKW, times(sink.resistanceKW, [0.4, 0.6, 0.8, 1.3, 1.8, 3])),
    )
  else if (air.kind === 'fan') causes.push(cause('fanFlow', 'factor', 1, [0.1, 0.25, 0.5, 0.75, 1.3, 1.8]))
  else causes.push(cause('airSpeed', 'mS', air.kind === 'moved' ? air.speedMS : 0, SPEEDS))
  causes.push(cause('ambient', 'K', 0, [-20, -10, -5, 5, 10, 20]))
  if (readsBoard) {
    const drawn = jointsOf(makeModel(lamp, null))
    if (drawn !== null) causes.push(cause('joint', 'Kcm2W', drawn, JOINTS))
  }
  return causes
}

/** Causes that voltage and current can show. */
export function powerCauses(lamp: Lamp): Cause[] {
  const { supply, drivers } = powerOf(lamp).value
  const model = makeModel(lamp, null)
  const causes: Cause[] = []
  if (supply.kind === 'pack') {
    const { cellMilliohm, cellAh, charged } = supply
    causes.push(
      cause('cellOhm', 'mohm', cellMilliohm, times(Math.max(cellMilliohm, 1), [0.25, 0.5, 1.5, 2.5, 5])),
      cause('capacity', 'Ah', cellAh, times(cellAh, [0.4, 0.6, 0.8, 1.2])),
      cause('charged', 'share', charged, [0.3, 0.5, 0.7, 0.85, 1]),
    )
  } else {
    causes.push(
      cause('supplyOhm', 'mohm', supply.milliohm, times(loadOhm(model), [0, 0.01, 0.03, 0.08, 0.15]).map(milli)),
      cause('supplyVolts', 'V', supply.volts, times(supply.volts, [0.85, 0.92, 0.96, 1.04, 1.1])),
    )
  }
  const mainOhm = model.mainOhm
  causes.push(
    cause(
      'mainWires',
      'mohm',
      milli(mainOhm),
      [0.5 * mainOhm, ...times(loadOhm(model), [0.01, 0.03, 0.08, 0.15]).map((ohm) => mainOhm + ohm)].map(milli),
    ),
  )
  if (drivers.some((d) => d.kind !== 'linear')) {
    const best = Math.max(...drivers.map((d) => d.efficiency))
    causes.push(cause('efficiency', 'factor', 1, [0.8, 0.9, 0.95, Math.min(1.05, 1 / best)]))
  }
  return causes
}

const milli = (ohm: number): number => 1000 * ohm

/** Voltage over the current of all boards at their own currents: what a share of the voltage lost is measured by. */
function loadOhm(model: PowerModel): number {
  const openV = model.source.openV(model.source.charged)
  const watts = model.boards.reduce((sum, b) => sum + b.emitters * b.ownA * b.tables.volts(b.ownA, model.ambientC), 0)
  return watts > 0 ? openV ** 2 / watts : 1
}

/** The one joint of all boards, K·cm²/W; null: their types differ. */
function jointsOf({ boards, lamp }: PowerModel): number | null {
  const all = new Set(lamp.boardTypes.map((t) => t.thermal?.jointKcm2W ?? null))
  if (all.size !== 1 || boards.length === 0) return null
  return [...all][0] ?? TYPICAL_JOINT
}
/** Of a board without thermal entry: as typicalPower.ts has it. */
const TYPICAL_JOINT = 0.3

/** A copy of the lamp with such a cause at a value. What the document leaves open is written into it as typical. */
export function withRunningCause(lamp: Lamp, key: RunningCauseKey, value: number): ReadLamp {
  return readLamp(changed(lamp, key, Number(value.toPrecision(9))))
}

function changed(lamp: Lamp, key: RunningCauseKey, value: number): Lamp {
  const cooled = (part: Partial<Cooling>): Lamp => ({ ...lamp, cooling: { ...coolingOf(lamp).value, ...part } })
  const powered = (part: Partial<Power>): Lamp => ({ ...lamp, power: { ...powerOf(lamp).value, ...part } })
  const { sink, air } = coolingOf(lamp).value
  const { supply, harness, drivers } = powerOf(lamp).value
  const pack = (part: Partial<Extract<Power['supply'], { kind: 'pack' }>>): Lamp =>
    supply.kind === 'pack' ? powered({ supply: { ...supply, ...part } }) : lamp
  const fixed = (part: Partial<Extract<Power['supply'], { kind: 'fixed' }>>): Lamp =>
    supply.kind === 'fixed' ? powered({ supply: { ...supply, ...part } }) : lamp
  switch (key) {
    case 'joint':
      return withJoint(lamp, value)
    case 'airSpeed':
      return cooled({ air: value < LEAST_SPEED_MS ? { kind: 'still' } : { kind: 'moved', speedMS: value } })
    case 'fanFlow':
      return air.kind === 'fan'
        ? cooled({ air: { ...air, curve: air.curve.map((row) => ({ ...row, flowM3h: row.flowM3h * value })) } })
        : lamp
    case 'sinkResistance':
      return sink.kind === 'rated' ? cooled({ sink: { ...sink, resistanceKW: value } }) : lamp
    case 'ambient':
      return { ...lamp, reading: { ...lamp.reading, ambientC: lamp.reading.ambientC + value } }
    case 'cellOhm':
      return pack({ cellMilliohm: value })
    case 'capacity':
      return pack({ cellAh: value })
    case 'charged':
      return pack({ charged: value })
    case 'supplyOhm':
      return fixed({ milliohm: value })
    case 'supplyVolts':
      return fixed({ volts: value })
    case 'mainWires': {
      const perMmOhm = (2 * ohmPerM(harness.main.gauge, wireTemperatureC(harness))) / 1000
      const moreMm = (value / 1000 - makeModel(lamp, null).mainOhm) / perMmOhm
      return powered({
        harness: { ...harness, main: { ...harness.main, lengthMm: Math.max(0, harness.main.lengthMm + moreMm) } },
      })
    }
    case 'efficiency':
      return powered({ drivers: drivers.map((d) => ({ ...d, efficiency: Math.min(1, d.efficiency * value) })) })
  }
}

/** Slower is as still: the least that a lamp's file takes. */
const LEAST_SPEED_MS = 0.05

/** A joint that is written down takes the rest of the board's typical path with it. */
function withJoint(lamp: Lamp, jointKcm2W: number): Lamp {
  const { boards } = makeModel(lamp, null)
  const boardTypes = lamp.boardTypes.map((type) => {
    const at = lamp.boards.findIndex((b) => b.type === type.id)
    const emitter = lamp.emitterTypes.find((e) => e.id === type.emitter)
    const board = boards[at]
    if (!board || !emitter) return type
    return { ...type, thermal: { padKW: board.chainKW - emitter.thermalResistanceKW, jointKcm2W } }
  })
  return { ...lamp, boardTypes }
}
