// What a builder says of a new lamp, step by step, and what follows where nothing is said.
import type { Face } from '../../lamp/schema.ts'

export type FaceShape = Extract<Face['shape'], 'round' | 'hexagon' | 'square'>

/** Numbers that follow from the steps before, unless the builder gives them. */
export interface Followed {
  /** Through each emitter. */
  currentA: number
  /** Full width at half of an optic's beam. */
  opticDeg: number
  /** Of a collimator. */
  exitMm: number
  /** Across flats. */
  faceMm: number
  /** From the tunnel's near end to its mouth. */
  tunnelMm: number
  focalMm: number
  /** Diameter, or side of a square. */
  lensMm: number
  /** From the face. */
  lensZMm: number
}

export interface Answers {
  name: string
  boards: number
  perBoard: number
  /** Id of a class of the library. */
  emitter: string
  optic: 'collimator' | 'bare'
  face: FaceShape
  /** Id of a finish of the library; null: no tunnel. */
  tunnel: string | null
  lens: boolean
  /** Unsaid: nothing of it stands in the lamp, and typical power is taken. */
  supply: 'pack' | 'fixed' | 'unsaid'
  modes: 1 | 2 | 3
  /** A new pack lasts so long at full light; absent: as long as its cells' current makes it. */
  minutes?: number
  /** A pack that is there already, of typical cells. */
  pack?: { series: number; parallel: number }
  /** What the builder gave in place of what follows. */
  typed: Partial<Followed>
}

export const FIRST_ANSWERS: Answers = {
  name: 'New lamp',
  boards: 7,
  perBoard: 7,
  emitter: 'one-die-3.5',
  optic: 'collimator',
  face: 'round',
  tunnel: 'lighting-sheet',
  lens: true,
  supply: 'pack',
  modes: 3,
  typed: {},
}
