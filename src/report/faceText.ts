// The face's shape and size in words.

import { faceBox, faceHeightMm } from '../lamp/facePlate.ts'
import type { Face } from '../lamp/schema.ts'
import { inches, type UnitSystem } from '../num/unitSystem.ts'

/** How a length is written: its number, and the unit after one or several of them. */
interface LengthWords {
  number(mm: number): string
  unit: string
}

/** Lengths of the lamp's parts in one system of units. */
export const lengthWords = (system: UnitSystem): LengthWords =>
  system === 'inch'
    ? { number: (mm) => inches(mm), unit: 'in' }
    : { number: (mm) => String(Number(mm.toFixed(1))), unit: 'mm' }

const METRIC = lengthWords('metric')

/** "⌀ 200 mm", "200 mm across flats", "200 × 100 mm". */
export function faceSizeText(face: Face, { number, unit } = METRIC): string {
  switch (face.shape) {
    case 'round':
      return `⌀ ${number(face.sizeMm)} ${unit}`
    case 'rectangle':
      return `${number(face.sizeMm)} × ${number(faceHeightMm(face))} ${unit}`
    case 'polygon': {
      const { fromX, toX, fromY, toY } = faceBox(face)
      return `${number(toX - fromX)} × ${number(toY - fromY)} ${unit}`
    }
    default:
      return `${number(face.sizeMm)} ${unit} across flats`
  }
}

const SHAPES = {
  round: 'Round face',
  square: 'Square face',
  hexagon: 'Hexagonal face',
  rectangle: 'Rectangular face',
  polygon: 'Face with an outline of its own',
} as const

/** "Rectangular face, 200 × 100 mm". */
export const faceText = (face: Face, length = METRIC): string => `${SHAPES[face.shape]}, ${faceSizeText(face, length)}`
