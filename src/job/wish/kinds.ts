// Kinds of lamps that differ in how they make a beam. What each is made of where nothing else is at hand.
import type { Answers } from '../start/answers.ts'

export type KindId = 'manyBoardsLens' | 'narrowCollimators' | 'collimatorsLens' | 'denseLens' | 'bareTunnel'

export interface Kind {
  id: KindId
  name: string
  emitter: string
  perBoard: number
  optic: Answers['optic']
  /** Of its collimators, the narrowest first. */
  exitsMm: readonly number[]
  tunnel: string | null
  lens: boolean
  /** One board, however many emitters it takes: else as many boards as it takes. */
  oneBoard: boolean
}

export const KINDS: readonly Kind[] = [
  {
    id: 'manyBoardsLens',
    name: 'Many small boards, mirrored tunnel, Fresnel lens',
    emitter: 'one-die-3.5',
    perBoard: 7,
    optic: 'collimator',
    exitsMm: [10],
    tunnel: 'lighting-sheet',
    lens: true,
    oneBoard: false,
  },
  {
    id: 'narrowCollimators',
    name: 'Narrow collimators, no lens',
    emitter: 'small-die-5',
    perBoard: 7,
    optic: 'collimator',
    exitsMm: [24, 30, 36],
    tunnel: null,
    lens: false,
    oneBoard: false,
  },
  {
    id: 'collimatorsLens',
    name: 'Few boards of collimators, Fresnel lens, no tunnel',
    emitter: 'small-die-5',
    perBoard: 3,
    optic: 'collimator',
    exitsMm: [14, 18, 22],
    tunnel: null,
    lens: true,
    oneBoard: false,
  },
  {
    id: 'denseLens',
    name: 'One dense board of bare emitters, Fresnel lens',
    emitter: 'four-die-7',
    perBoard: 7,
    optic: 'bare',
    exitsMm: [],
    tunnel: null,
    lens: true,
    oneBoard: true,
  },
  {
    id: 'bareTunnel',
    name: 'Bare emitters in a mirrored tunnel, no lens',
    emitter: 'one-die-5',
    perBoard: 7,
    optic: 'bare',
    exitsMm: [],
    tunnel: 'lighting-sheet',
    lens: false,
    oneBoard: false,
  },
]

export function kindById(id: KindId): Kind {
  const found = KINDS.find((k) => k.id === id)
  if (!found) throw new Error(`wish: no kind "${id}"`)
  return found
}
