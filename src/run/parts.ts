// The ledger by part of an assembled lamp: every loss of a stretch, a step, an element or a gap on a line of its own, also of light that an
// element had sent back. Together they are the lines of FATES from `blocked` to `lensReturnedLost`, exactly.
import type { Fate, PartShape } from './types.ts'

/** Lines before those of the stretches. */
export const PART_BLOCKED = 0
export const PART_FACE = 1
export const PART_BEHIND_FACE = 2
/** Between face and tunnel, or without a tunnel between face and first element. */
export const PART_FACE_GAP = 3
/** Between tunnel and first element. */
export const PART_LENS_GAP = 4
/** Reached the first element's plane beside its piece. */
export const PART_OUTSIDE = 5
const FIRST_STRETCH = 6

/** Absorbed by the wall of stretch i, and by the step at its upper end. */
export const wallPart = (i: number): number => FIRST_STRETCH + 2 * i
export const stepPart = (i: number): number => wallPart(i) + 1
/** Of element e of a lamp with so many stretches: absorbed in it, ended on its rim, lost in the gap above it. */
export const absorbedPart = (stretches: number, e: number): number => FIRST_STRETCH + 2 * stretches + 3 * e
export const rimPart = (stretches: number, e: number): number => absorbedPart(stretches, e) + 1
export const gapPart = (stretches: number, e: number): number => absorbedPart(stretches, e) + 2

/** Number of lines; 0 for a plain lamp. */
export const partCount = (parts: PartShape | null | undefined): number =>
  parts ? FIRST_STRETCH + 2 * parts.stretches + 3 * parts.elements : 0

/** The lines of FATES that the parts together hold. */
export const FATES_OF_PARTS: readonly Fate[] = [
  'blocked',
  'wall',
  'face',
  'behindFace',
  'leakedFaceGap',
  'leakedLensGap',
  'outsideLens',
  'lensRim',
  'lensAbsorbed',
  'lensReturnedLost',
]
