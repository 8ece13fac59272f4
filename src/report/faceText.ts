// The face's shape and size in words.
import { faceBox, faceHeightMm } from '../lamp/facePlate.ts'
import type { Face } from '../lamp/schema.ts'

/** "⌀ 200 mm", "200 mm across flats", "200 × 100 mm". */
export function faceSizeText(face: Face): string {
  switch (face.shape) {
    case 'round':
      return `⌀ ${tenths(face.sizeMm)} mm`
    case 'rectangle':
      return `${tenths(face.sizeMm)} × ${tenths(faceHeightMm(face))} mm`
    case 'polygon': {
      const { fromX, toX, fromY, toY } = faceBox(face)
      return `${tenths(toX - fromX)} × ${tenths(toY - fromY)} mm`
    }
    default:
      return `${tenths(face.sizeMm)} mm across flats`
  }
}

const tenths = (mm: number): string => String(Number(mm.toFixed(1)))

const SHAPES = {
  round: 'Round face',
  square: 'Square face',
  hexagon: 'Hexagonal face',
  rectangle: 'Rectangular face',
  polygon: 'Face with an outline of its own',
} as const

/** "Rectangular face, 200 × 100 mm". */
export const faceText = (face: Face): string => `${SHAPES[face.shape]}, ${faceSizeText(face)}`
