// Bins of the tally as the WebAssembly kernel reads them, in order: numbers, then counts and places.
import type { TallyLayout } from '../../../run/layout.ts'
import type { TallyShape } from '../../../run/types.ts'

/** Doubles; a reciprocal among them that every ray needs. As src/engine/forward/tally.ts works them out, so that bins get the same bits. */
export function binNumbers(s: TallyShape) {
  return {
    axialSin: Math.sin(s.axialConeHalfRad),
    fineHalfRad: s.fineHalfRad,
    finePerRad: s.fineBins / s.fineHalfRad,
    coarsePerRad: s.coarseBins / (Math.PI - s.fineHalfRad),
    windowPerRad: s.windowN / (2 * s.fineHalfRad),
    gammaPerRad: s.sphereGamma / Math.PI,
    lensHalfMm: s.lens ? s.lens.halfMm : 0,
    lensPerMm: s.lens ? s.lens.n / (2 * s.lens.halfMm) : 0,
    faceHalfMm: s.face.halfMm,
    facePerMm: s.face.n / (2 * s.face.halfMm),
    wallZIn: s.wall ? s.wall.zInMm : 0,
    alongPerMm: s.wall ? s.wall.nAlong / (s.wall.zOutMm - s.wall.zInMm) : 0,
    targetZMm: s.target.zMm,
    targetHalfX: s.target.halfXMm,
    targetHalfY: s.target.halfYMm,
    targetPerX: s.target.n / (2 * s.target.halfXMm),
    targetPerY: s.target.n / (2 * s.target.halfYMm),
    centreSquare: s.target.centreMm ** 2,
  }
}

/** 32-bit integers; a count of 0 is a map that the lamp has not. Places are counted from the first map. */
export function binCounts(s: TallyShape, at: TallyLayout) {
  return {
    fineBins: s.fineBins,
    coarseBins: s.coarseBins,
    profileRiserLm: at.profileRiserLm,
    windowN: s.windowN,
    sphereGamma: s.sphereGamma,
    sphereC: s.sphereC,
    sphereAt: at.sphereLm - at.windowLm,
    lensN: s.lens ? s.lens.n : 0,
    lensAt: at.lensW - at.windowLm,
    wallAlong: s.wall ? s.wall.nAlong : 0,
    wallRound: s.wall ? s.wall.nRound : 0,
    wallAt: at.wallW - at.windowLm,
    faceN: s.face.n,
    faceAt: at.faceW - at.windowLm,
    targetN: s.target.n,
    targetLm: at.targetLm,
  }
}

/** Fixed addresses, bytes: memory.as has the same. */
export const BINS_AT = 1920
export const COUNTS_AT = 2080
/** Bytes of the sequence's numbers, SOBOL_DIMENSIONS by 33; the bits of the cells that were added to follow them. */
export const NUMBERS_BYTES = 1024
