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

/** Line of what the wall of stretch i absorbs, i from 0 at the face. */
export const wallPart = (i: number): number => FIRST_STRETCH + 2 * i
/** Line of what the step at the upper end of stretch i absorbs; the last stretch's stays empty. */
export const stepPart = (i: number): number => wallPart(i) + 1
/** Line of what is absorbed in element e, from 0 at the source, of a lamp with so many stretches. */
export const absorbedPart = (stretches: number, e: number): number => FIRST_STRETCH + 2 * stretches + 3 * e
/** Line of what ends on the rim of element e. */
export const rimPart = (stretches: number, e: number): number => absorbedPart(stretches, e) + 1
/** Line of what is lost between element e and the next; of the last, what leaves it towards no target. */
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
