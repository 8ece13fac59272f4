// Edits of the face's own outline as pure functions.
import { polygonFace } from '../../lamp/facePlate.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Corner } from '../../num/polygon.ts'

/** The face with these corners, mm, and the size that goes with them. */
export function withFaceCorners(lamp: Lamp, corners: readonly Corner[]): Lamp {
  const { heightMm: _, ...rest } = lamp.face
  return { ...lamp, face: { ...rest, ...polygonFace(corners) } }
}
