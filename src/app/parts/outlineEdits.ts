// Shapes of the face and outlines of boards, one turned into another of about the same size.

import { faceBox, faceCorners, faceHeightMm, polygonFace } from '../../lamp/facePlate.ts'
import type { BoardType, Face, Lamp } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import type { Corner } from '../../num/polygon.ts'
import { boxOfCorners, farthest } from '../../num/polygon.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { numberText, valueText } from '../common/units.ts'
import { withFace } from './edits.ts'

type Outline = BoardType['outline']

/** Chords of a circle that becomes corners: so few can still be edited by hand. */
const ROUND_CORNERS = 24

const tidy = (mm: number) => Math.round(mm * 1e3) / 1e3 + 0
export const tidyCorner = ([x, y]: Corner): [number, number] => [tidy(x), tidy(y)]

const circle = (diameterMm: number): Corner[] =>
  Array.from({ length: ROUND_CORNERS }, (_, i) => {
    const at = ((2 * i + 1) * Math.PI) / ROUND_CORNERS
    return [(diameterMm / 2) * Math.cos(at), (diameterMm / 2) * Math.sin(at)]
  })

/** The face in another shape of about the same size. */
export function withFaceShape(lamp: Lamp, shape: Face['shape']): Lamp {
  const { heightMm: _, corners: __, ...rest } = lamp.face
  const { fromX, toX, fromY, toY } = faceBox(lamp.face)
  const wide = lamp.face.shape === 'polygon' ? tidy(toX - fromX) : lamp.face.sizeMm
  const high = lamp.face.shape === 'polygon' ? tidy(toY - fromY) : faceHeightMm(lamp.face)
  if (shape === lamp.face.shape) return lamp
  if (shape === 'rectangle') return { ...lamp, face: { ...rest, shape, sizeMm: wide, heightMm: high } }
  if (shape !== 'polygon') return { ...lamp, face: { ...rest, shape, sizeMm: Math.max(wide, high) } }
  const corners = faceCorners(lamp.face) ?? circle(lamp.face.sizeMm)
  return { ...lamp, face: { ...rest, ...polygonFace(corners.map(tidyCorner)) } }
}

export const withKeepOuts = (lamp: Lamp, more: Face['keepOuts']): Lamp =>
  withFace(lamp, { keepOuts: [...lamp.face.keepOuts, ...more] })

/** Another outline of about the same size. */
export function newOutline(shape: Outline['shape'], old: Outline): Outline {
  const acrossMm = acrossOf(old)
  switch (shape) {
    case 'rectangle':
      return { shape, widthMm: acrossMm, heightMm: acrossMm }
    case 'hexagon':
      return { shape, acrossMm }
    case 'disc':
      return { shape, diameterMm: acrossMm }
    case 'star':
      return { shape, acrossMm, points: 6, notchMm: Math.min(3, acrossMm / 8) }
    case 'polygon':
      return {
        shape,
        corners: (old.shape === 'disc' ? circle(old.diameterMm) : outlinePath(old, 15)).map(tidyCorner),
      }
  }
}

function acrossOf(old: Outline): number {
  switch (old.shape) {
    case 'rectangle':
      return Math.max(old.widthMm, old.heightMm)
    case 'disc':
      return old.diameterMm
    case 'polygon':
      return tidy(2 * farthest(old.corners))
    default:
      return old.acrossMm
  }
}

/** "12 corners, 180 × 120 mm". */
export function cornersText(corners: readonly Corner[], system: UnitSystem = 'metric'): string {
  const { fromX, toX, fromY, toY } = boxOfCorners(corners)
  return `${corners.length} corners, ${numberText(toX - fromX, 'mm', system, 1)} × ${valueText(toY - fromY, 'mm', system, 1)}`
}
