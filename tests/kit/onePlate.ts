// A lamp that is one node of heat: a green emitter of 3 V and 4 A on a board as large as its plate, 20 cm square, 10 mm of 6061
// aluminium, with a driver of 90 % on 12 V and wires of nothing. 12 W, of which 1 W is light: 683 lm at 555 nm (CIE 1924).
import type { Lamp } from '../../src/lamp/schema.ts'
import { oneEmitter } from './traceHere.ts'

export function onePlate({ ambientC = 20, maxJunctionC = 250 } = {}): Lamp {
  const lamp = oneEmitter({ fluxLm: 683.0 })
  const run = { gauge: { system: 'mm2' as const, mm2: 100 }, lengthMm: 0, connectors: 0 }
  return {
    ...lamp,
    reading: { ...lamp.reading, ambientC },
    emitterTypes: lamp.emitterTypes.map((e) => ({
      ...e,
      ratedCurrentA: 4,
      forward: [{ currentA: 4, volts: 3 }],
      maxCurrentA: 5,
      maxJunctionC,
      thermalResistanceKW: 0.5,
    })),
    boardTypes: lamp.boardTypes.map((t) => ({
      ...t,
      outline: { shape: 'rectangle' as const, widthMm: 200, heightMm: 200 },
      thermal: { padKW: 0, jointKcm2W: 0 },
    })),
    boards: lamp.boards.map((b) => ({ ...b, currentA: 4 })),
    face: { ...lamp.face, shape: 'square', sizeMm: 200 },
    cooling: {
      plate: { thicknessMm: 10, metal: 'aluminium-6061' },
      sink: { kind: 'none' },
      air: { kind: 'moved', speedMS: 2 },
      finish: 'bare',
      aim: 'level',
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
        insulationC: 90,
        allowedDrop: 0.03,
        contactor: null,
      },
      modes: [{ id: 'on', name: 'On', share: 1, stepDown: null }],
    },
  }
}
