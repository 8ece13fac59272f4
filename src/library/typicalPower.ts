// What a lamp runs on and is cooled by where its document doesn't say: typical, and reported.

import { boardTypeOf, lampFromBoard } from '../lamp/place.ts'
import type { BoardThermal, BoardType, Cooling, EmitterType, Harness, Lamp, Mode, Power, Sink } from '../lamp/schema.ts'
import { sizeText } from '../num/quantity.ts'

/** A cold start on a winter's night, °C (our choice; IEC 60068-2-1 has steps of −25 and −10). */
export const COLD_START_C = -20

export interface Assumed<T> {
  value: T
  /** One sentence for each thing that the document doesn't say. */
  assumptions: string[]
}

const TYPICAL_COOLING: Cooling = {
  plate: { thicknessMm: 6, metal: 'aluminium-6061' },
  sink: { kind: 'none' },
  air: { kind: 'still' },
  finish: 'bare',
  aim: 'level',
}

export const coolingOf = (lamp: Lamp): Assumed<Cooling> =>
  lamp.cooling
    ? { value: lamp.cooling, assumptions: [] }
    : {
        value: TYPICAL_COOLING,
        assumptions: [
          `No cooling is given: a bare aluminium plate of ${sizeText('6', 6)} without fins, in still air, is taken.`,
        ],
      }

/** The lamp's sink where it is one by its data sheet. */
export function ratedSinkOf(lamp: Lamp): Extract<Sink, { kind: 'rated' }> | null {
  const { sink } = coolingOf(lamp).value
  return sink.kind === 'rated' ? sink : null
}

/**
 * Typical metal-core board: 100 µm of dielectric at 2 W/mK under the emitter's body, 1.5 mm of aluminium, thermal paste of
 * 0.3 K·cm²/W (all from memory). The spreading in the board's metal is left to the caller.
 */
export const TYPICAL_BOARD = { dielectricMm: 0.1, dielectricWmK: 2, metalMm: 1.5, metalWmK: 160, jointKcm2W: 0.3 }

export function boardThermalOf(type: BoardType, emitter: EmitterType): Assumed<BoardThermal> {
  if (type.thermal) return { value: type.thermal, assumptions: [] }
  const { dielectricMm, dielectricWmK, jointKcm2W } = TYPICAL_BOARD
  const areaM2 = (emitter.bodyMm / 1000) ** 2
  const padKW = dielectricMm / 1000 / (dielectricWmK * areaM2)
  return {
    value: { padKW, jointKcm2W },
    assumptions: [`Board type “${type.name}”: a typical metal-core board and thermal paste are taken.`],
  }
}

/** Volts across a board at its own current, strings counted. */
function boardVoltsAbout(type: BoardType, emitter: EmitterType): number {
  const inSeries = Math.ceil(type.sites.length / (type.strings ?? 1))
  return inSeries * emitter.forward[emitter.forward.length - 1]!.volts
}

const FULL: Mode = { id: 'full', name: 'Full', share: 1, stepDown: null }

export function powerOf(lamp: Lamp): Assumed<Power> {
  if (lamp.power) return { value: lamp.power, assumptions: [] }
  const emitterOf = new Map(lamp.emitterTypes.map((e) => [e.id, e]))
  let volts = 5
  let amps = 0.1
  for (const board of lamp.boards) {
    const type = boardTypeOf(lamp, board)
    volts = Math.max(volts, boardVoltsAbout(type, emitterOf.get(type.emitter)!))
    amps = Math.max(amps, board.currentA * (type.strings ?? 1))
  }
  const supplyV = Math.ceil(1.15 * volts + 3)
  return {
    value: {
      drivers: [
        {
          id: 'typical',
          name: 'Typical buck converter',
          kind: 'buck',
          inputMinV: Math.min(6, supplyV / 2),
          inputMaxV: 1.5 * supplyV,
          headroomV: 2,
          efficiency: 0.92,
          maxOutputA: Math.max(200, amps),
          dimming: 'current',
        },
      ],
      groups: [{ id: 'all', name: 'All boards', driver: 'typical', wired: 'each' }],
      supply: { kind: 'fixed', name: `Fixed supply of ${supplyV} V`, volts: supplyV, milliohm: 0, maxA: 10_000 },
      harness: typicalHarness(lamp),
      modes: [FULL],
    },
    assumptions: [
      `No supply is given: ${supplyV} V that never sag, a buck converter of 92 % for each board, are taken.`,
    ],
  }
}

function typicalHarness(lamp: Lamp): Harness {
  const reach = lamp.boards.reduce((most, b) => Math.max(most, Math.hypot(...lampFromBoard(b, 0, 0))), 0)
  return {
    main: { gauge: { system: 'awg', number: 8 }, lengthMm: 1000, connectors: 1, fuse: null },
    channel: { gauge: { system: 'awg', number: 18 }, lengthMm: Math.round(300 + reach), connectors: 1, fuse: null },
    board: { gauge: { system: 'awg', number: 20 }, lengthMm: 150, connectors: 0 },
    connectorMilliohm: 1,
    insulationC: 75,
    allowedDrop: 0.03,
    contactor: null,
  }
}
