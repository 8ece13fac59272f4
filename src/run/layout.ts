// Segments of a batch's tally buffer. Order and sizes are shared by every engine.
import { partCount } from './parts.ts'
import { FATES, type TallyShape } from './types.ts'

export interface TallyLayout {
  /** Radiant and luminous weight by fate, FATES.length each. */
  fateW: number
  fateLm: number
  /** Two numbers: radiant and luminous weight emitted (before any optic). */
  emitted: number
  /** One number: luminous weight delivered inside the axial cone. */
  axialLm: number
  /** One number: luminous weight in the disc about the target's middle. */
  targetCentreLm: number
  /** Luminous weight by θ, fine then coarse bins, all delivered light. */
  profileLm: number
  /** Luminous weight by cell of the target. */
  targetLm: number
  /** As profileLm, only light that met a riser. */
  profileRiserLm: number
  /** Radiant and luminous weight by part of an assembled lamp (parts.ts); empty for a plain one. */
  partsW: number
  partsLm: number
  /** From here on maps: many bins, in single precision while one chunk is traced. */
  windowLm: number
  sphereLm: number
  lensW: number
  wallW: number
  faceW: number
  /** Further elements one after the other; empty for a lamp without them. */
  elementsW: number
  /** Length of the buffer. */
  size: number
}

/** Where each segment of a batch's buffer starts, in numbers, and the buffer's length, for bins of shape `s`. */
export function tallyLayout(s: TallyShape): TallyLayout {
  let at = 0
  const take = (n: number) => {
    const start = at
    at += n
    return start
  }
  const profile = s.fineBins + s.coarseBins
  return {
    fateW: take(FATES.length),
    fateLm: take(FATES.length),
    emitted: take(2),
    axialLm: take(1),
    targetCentreLm: take(1),
    profileLm: take(profile),
    targetLm: take(s.target.n * s.target.n),
    profileRiserLm: take(profile),
    partsW: take(partCount(s.parts)),
    partsLm: take(partCount(s.parts)),
    windowLm: take(s.windowN * s.windowN),
    sphereLm: take(s.sphereGamma * s.sphereC),
    lensW: take(s.lens ? s.lens.n * s.lens.n : 0),
    wallW: take(s.wall ? s.wall.nAlong * s.wall.nRound : 0),
    faceW: take(s.face.n * s.face.n),
    elementsW: take(s.elements ? s.elements.maps.length * s.elements.n * s.elements.n : 0),
    size: at,
  }
}
