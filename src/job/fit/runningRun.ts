// What a thermocouple, a voltmeter and a clamp ammeter would show of a mode as it runs, by the lamp's own run of heat and power.
import { makeModel, type PowerModel } from '../../electrothermal/model.ts'
import type { Moment } from '../../electrothermal/moment.ts'
import { frontOf } from '../../electrothermal/plateOf.ts'
import type { RetainedLight } from '../../electrothermal/result.ts'
import { runMode } from '../../electrothermal/transient.ts'
import type { RunningSet } from '../../lamp/readings.ts'
import type { Lamp, Mode } from '../../lamp/schema.ts'
import { linear } from '../../num/interpolate.ts'

export type RunningField = Exclude<keyof RunningSet['rows'][number], 'atS'>

/** One set's run: the lamp in that set's air. */
export interface RunOrder {
  lamp: Lamp
  retained: RetainedLight
  mode: string
  atS: readonly number[]
  plateAt: { xMm: number; yMm: number } | null
  board: string | null
}

/** Of each moment asked for, °C, V, A; and how far plate's coolest and hottest place lie apart then. */
export type RunPrediction = Record<RunningField | 'spreadK', number[]>

/**
 * Temperatures, voltages and currents of a mode at moments after switch-on; after the run's end as at its end. Limits of emitters and cells don't end it:
 * the lamp that was read ran on. Throws on a mode that there is none of.
 */
export function predictRun({ lamp, retained, mode: id, atS, plateAt, board }: RunOrder): RunPrediction {
  const model: PowerModel = { ...makeModel(lamp, retained), isLeftOn: true }
  const mode = model.power.modes.find((m) => m.id === id)
  if (!mode) throw new Error(`no mode ${id}`)
  const { moments } = runMode(model, mode)
  const plate = plateReader(model, plateAt)
  const read: Record<keyof RunPrediction, (m: Moment) => number> = {
    plateC: plate,
    spreadK: ({ temperatures: { plateC } }) =>
      plateC.reduce((a, b) => Math.max(a, b)) - plateC.reduce((a, b) => Math.min(a, b)),
    boardC: boardReader(model, board),
    packV: (m) => m.electrics.bus.terminalV,
    packA: (m) => m.electrics.bus.supplyA,
    lampV: (m) => m.electrics.bus.busV,
  }
  const tS = moments.map((m) => m.tS)
  const of = (key: keyof RunPrediction) => {
    const values = moments.map(read[key])
    return atS.map((t) => linear(tS, values, t))
  }
  return {
    plateC: of('plateC'),
    spreadK: of('spreadK'),
    boardC: of('boardC'),
    packV: of('packV'),
    packA: of('packA'),
    lampV: of('lampV'),
  }
}

/** The front at a place, or the plate's mean where none is given. */
function plateReader(model: PowerModel, at: RunOrder['plateAt']): (m: Moment) => number {
  if (!at) return (m) => m.plateMeanC
  const { plate } = model
  const column = Math.floor((at.xMm - plate.fromXMm) / plate.cellMm)
  const row = Math.floor((at.yMm - plate.fromYMm) / plate.cellMm)
  const isInside = column >= 0 && column < plate.columns && row >= 0 && row < plate.rows
  const cell = isInside ? (plate.cellAt[row * plate.columns + column] ?? -1) : -1
  if (cell < 0) return (m) => m.plateMeanC
  return (m) => frontOf(model, m.temperatures.plateC, m.heatW)[cell] ?? m.plateMeanC
}

/** A board's underside beside its hottest emitter: the plate's front there and the joint's share of the board's heat. */
function boardReader({ boards }: PowerModel, id: string | null): (m: Moment) => number {
  const at = (m: Moment, i: number) => (m.hotC[i] ?? 0) + (m.electrics.heatW[i] ?? 0) * (boards[i]?.jointKW ?? 0)
  const index = boards.findIndex((b) => b.id === id)
  return (m) => at(m, index >= 0 ? index : m.hottest)
}

/** The mode that a set was read in: its own, or that of the traced light, or the one with the most current. */
export function modeOf(set: RunningSet, lamp: Lamp, modes: readonly Mode[]): Mode | null {
  const named = set.mode ?? (lamp.heat.kind === 'mode' ? lamp.heat.mode : undefined)
  const most = modes.reduce<Mode | null>((a, b) => (a && a.share >= b.share ? a : b), null)
  return modes.find((m) => m.id === named) ?? most
}
