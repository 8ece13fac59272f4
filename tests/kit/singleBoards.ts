// A lamp of small boards with one emitter each in the middle, for rules whose figures are worked out by hand.
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

const gannet = gannetHead()
export type Optic = Lamp['opticTypes'][number]
export type Collimator = Extract<Optic, { kind: 'collimator' }>
export const bare: Optic = { kind: 'bare', id: 'bare', name: 'Bare' }
/** 12° from an exit of 10 mm, 12 mm high. */
export const narrow = (over: Partial<Collimator> = {}): Collimator => ({
  ...(gannet.opticTypes[0] as Collimator),
  ...{ id: 'narrow', name: 'Narrow', exitDiameterMm: 10, heightMm: 12, fwhmDeg: 12, efficiency: 0.88, ...over },
})
/** A disc of 2 mm, 2.5 mm high. */
export const emitter = {
  ...gannet.emitterTypes[0]!,
  ...{ id: 'e', name: 'E', heightMm: 2.5, bodyMm: 3, source: { shape: 'disc' as const, diameterMm: 2 } },
}
/** Boards of 10 mm with one emitter in the middle, bare (2.5 mm high, 1 mm in radius), without lens and tunnel. */
export function lampOf(places: readonly (readonly [number, number])[], over: Partial<Lamp> = {}): Lamp {
  const [board] = gannet.boards
  return {
    ...gannet,
    ...{ lens: null, tunnel: null, optic: 'bare', opticTypes: [bare, narrow()], emitterTypes: [emitter] },
    boardTypes: [
      {
        ...gannet.boardTypes[0]!,
        ...{ id: 't', outline: { shape: 'disc', diameterMm: 10 }, emitter: 'e', sites: [{ xMm: 0, yMm: 0 }] },
      },
    ],
    boards: places.map(([xMm, yMm], i) => ({ ...board!, id: `B${i + 1}`, type: 't', xMm, yMm })),
    ...over,
  }
}
