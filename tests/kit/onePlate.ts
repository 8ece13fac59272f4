// One emitter on a square plate, simple enough for paper.
import type { Lamp } from '../../src/lamp/schema.ts'
import { oneEmitter } from './traceHere.ts'

/** One green emitter of 3 V and 4 A in the middle of a square plate of 6061 aluminium; 12 V, a driver of 90 %, wires of nothing. */
export const SIDE_M = 0.2
export const THICK_M = 0.01
export const KG = SIDE_M ** 2 * THICK_M * 2700
export const HEAT_J_KGK = 896
/** 683.002 lm/W · V(555 nm) = 683.0 (CIE 1924): 683 lm are 1 W. */
export const LIGHT_W = 1

export function onePlate(over: Partial<Lamp['cooling'] & object> = {}): Lamp {
  const lamp = oneEmitter({ fluxLm: 683.0 })
  const emitter = {
    ...lamp.emitterTypes[0]!,
    ratedCurrentA: 4,
    forward: [{ currentA: 4, volts: 3 }],
    maxCurrentA: 5,
    maxJunctionC: 250,
    thermalResistanceKW: 0.5,
  }
  const run = { gauge: { system: 'mm2' as const, mm2: 100 }, lengthMm: 0, connectors: 0 }
  return {
    ...lamp,
    emitterTypes: [emitter],
    boardTypes: [
      {
        ...lamp.boardTypes[0]!,
        outline: { shape: 'disc', diameterMm: 60 },
        thermal: { padKW: 0, jointKcm2W: 0 },
      },
    ],
    boards: [{ ...lamp.boards[0]!, currentA: 4 }],
    face: { ...lamp.face, shape: 'square', sizeMm: 1000 * SIDE_M },
    cooling: {
      plate: { thicknessMm: 1000 * THICK_M, metal: 'aluminium-6061' },
      sink: { kind: 'none' },
      air: { kind: 'still' },
      finish: 'painted',
      aim: 'level',
      ...over,
    },
    power: {
      drivers: [
        {
          id: 'd',
          name: 'Invented',
          kind: 'buck',
          inputMinV: 6,
          inputMaxV: 30,
          headroomV: 1,
          efficiency: 0.9,
          maxOutputA: 5,
          dimming: 'current',
        },
      ],
      groups: [{ id: 'g', name: 'All', driver: 'd', wired: 'each' }],
      supply: { kind: 'fixed', name: 'Bench', volts: 12, milliohm: 0, maxA: 10 },
      harness: {
        main: { ...run, fuse: null },
        channel: { ...run, fuse: null },
        board: run,
        connectorMilliohm: 0,
        insulationC: 75,
        allowedDrop: 0.03,
        contactor: null,
      },
      modes: [{ id: 'on', name: 'On', share: 1, stepDown: null }],
    },
  }
}

/** The same as one node of heat: its board is as large as the plate, and air of 2 m/s flows along it. */
export function oneNode({ ambientC = 20, maxJunctionC = 250 } = {}): Lamp {
  const lamp = onePlate({ air: { kind: 'moved', speedMS: 2 }, finish: 'bare' })
  const size = 1000 * SIDE_M
  const power = lamp.power!
  return {
    ...lamp,
    reading: { ...lamp.reading, ambientC },
    emitterTypes: lamp.emitterTypes.map((e) => ({ ...e, maxJunctionC })),
    boardTypes: lamp.boardTypes.map((t) => ({
      ...t,
      outline: { shape: 'rectangle' as const, widthMm: size, heightMm: size },
    })),
    power: { ...power, harness: { ...power.harness, insulationC: 90 } },
  }
}
