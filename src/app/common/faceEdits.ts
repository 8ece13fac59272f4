// Edits of own outlines, of the face and of a board type, as pure functions.
import { polygonFace } from '../../lamp/facePlate.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Corner } from '../../num/polygon.ts'

/** The face with these corners, mm, and the size that goes with them. */
export function withFaceCorners(lamp: Lamp, corners: readonly Corner[]): Lamp {
  const { heightMm: _, ...rest } = lamp.face
  return { ...lamp, face: { ...rest, ...polygonFace(corners) } }
}

/** The board type with these corners, mm in its own frame: all its boards follow. */
export const withBoardCorners = (lamp: Lamp, typeId: string, corners: readonly Corner[]): Lamp => ({
  ...lamp,
  boardTypes: lamp.boardTypes.map((t) =>
    t.id === typeId
      ? { ...t, outline: { shape: 'polygon', corners: corners.map(([x, y]): [number, number] => [x, y]) } }
      : t,
  ),
})
