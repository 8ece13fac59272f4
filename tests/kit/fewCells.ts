// A lamp whose heat and power fit on paper: straight tables, wires of nothing, a plate of four cells and a sink of one resistance.
import { makeModel, type OperatingState, type PowerModel } from '../../src/electrothermal/model.ts'
import type { RetainedLight } from '../../src/electrothermal/result.ts'
import type { Board, EmitterType, Lamp, Mode, Power, Sink } from '../../src/lamp/schema.ts'
import type { Source } from '../../src/power/supply.ts'
import { onePlate, SIDE_M } from './onePlate.ts'

export const AIR_C = 20
export const ON: Mode = { id: 'on', name: 'On', share: 1, stepDown: null }

interface FewCells {
  /** In place of the one board that covers the plate. */
  boards?: readonly Partial<Board>[]
  /** Across a board along x and y, mm: the whole plate, 200 by 200. */
  boardMm?: readonly [number, number]
  sites?: number
  strings?: number
  emitter?: Partial<EmitterType>
  power?: Partial<Power>
  driver?: Partial<Power['drivers'][number]>
  wired?: 'each' | 'series' | 'parallel'
  sink?: Sink
  ambientC?: number
}

/** 4 A through one emitter of 3 V, 1 W of it light, on a plate of 967.68 J/K; 2 K/W and no store of heat behind it. */
export function fewCells(o: FewCells = {}): Lamp {
  const base = onePlate({ sink: o.sink ?? { kind: 'rated', resistanceKW: 2, heatCapacityJK: 0, flow: 'natural' } })
  const [emitter, type, board, power] = [base.emitterTypes[0], base.boardTypes[0], base.boards[0], base.power]
  if (!emitter || !type || !board || !power) throw new Error('fewCells: a lamp of one emitter expected')
  const [widthMm, heightMm] = o.boardMm ?? [1000 * SIDE_M, 1000 * SIDE_M]
  return {
    ...base,
    reading: { ...base.reading, ambientC: o.ambientC ?? AIR_C },
    emitterTypes: [{ ...emitter, ...o.emitter }],
    boardTypes: [
      {
        ...type,
        outline: { shape: 'rectangle', widthMm, heightMm },
        sites: Array.from({ length: o.sites ?? 1 }, () => ({ xMm: 0, yMm: 0 })),
        ...(o.strings === undefined ? {} : { strings: o.strings }),
      },
    ],
    boards: (o.boards ?? [{}]).map((b, i) => ({ ...board, id: `B${i + 1}`, ...b })),
    power: {
      ...power,
      drivers: power.drivers.map((d) => ({ ...d, ...o.driver })),
      groups: power.groups.map((g) => ({ ...g, wired: o.wired ?? g.wired })),
      modes: [ON],
      ...o.power,
    },
  }
}

/** Two boards side by side, each over half of the plate. */
export const TWO_HALVES = { boardMm: [100, 200], boards: [{ xMm: -50 }, { xMm: 50 }] } as const

/** A plate of two by two cells: a twelfth of the usual 24 across. */
export const coarse = (lamp: Lamp, traced: RetainedLight | null = null): PowerModel => makeModel(lamp, traced, 1 / 12)

/** The same with a front no hotter than the plate's mean, and all of the loss by one conductance: R C in closed form. */
export function lumped(lamp: Lamp, wattPerK = 0.5, over: Partial<PowerModel> = {}): PowerModel {
  const model = coarse(lamp)
  const { rise, sink } = model
  return {
    ...model,
    rise: {
      meanKW: rise.meanKW.map(() => 0),
      hotKW: rise.hotKW.map(() => 0),
      faceKW: rise.faceKW.map((f) => f.map(() => 0)),
    },
    sink: { ...sink, finHeatJK: 0, at: () => ({ base: wattPerK, link: 0, fin: 0 }), totalWK: () => wattPerK },
    ...over,
  }
}

/** A supply of which only what the test is about is not endless. */
export const sourceOf = (over: Partial<Source> = {}): Source => ({
  openV: () => 12,
  ohm: 0,
  maxA: 100,
  shortA: null,
  cutOffV: null,
  capacityC: null,
  charged: 1,
  heatJK: null,
  maxCellC: null,
  ...over,
})

/** All boards and junctions at one temperature. */
export const stateAt = (model: PowerModel, celsius: number, over: Partial<OperatingState> = {}): OperatingState => {
  const even = () => new Float64Array(model.boards.length).fill(celsius)
  return {
    siteC: even(),
    hotC: even(),
    charge: 1,
    share: 1,
    tripped: new Set(),
    junctionC: even(),
    guessA: 0,
    ...over,
  }
}
