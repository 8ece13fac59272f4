// How much darker a camera shows the edge of its picture than the middle.
import { symmetricEigen } from '../../num/symmetricEigen.ts'
import { rectangular } from '../uncertainty.ts'
import { MASK, type Picture } from './pixels.ts'
import type { Response } from './response.ts'

/** At a place of the picture, 0 to 1 from the left and from the top. */
export interface Shading {
  /** Light there is to be divided by this; 1 in the middle. */
  at(x: number, y: number): number
  /** Change of the logarithm there for one standard uncertainty of the shading as a whole. */
  doubtAt(x: number, y: number): number
  by: 'evenField' | 'cos4'
}

export type ShadingResult = { ok: true; shading: Shading } | { ok: false; why: string }

/** Half of the diagonal of 36 × 24 mm, which a "focal length in 35 mm film" goes with. */
const HALF_DIAGONAL_MM = Math.hypot(36, 24) / 2
/** Of a telephone's main camera: common practice, no source. */
export const FOCAL_35_MM = 26
/** Standard uncertainty of an even field at the corner against its middle, as a share. Our choice. */
const FIELD_DOUBT = 0.02

/** Distance from the middle over half of the diagonal, of a picture so many times as wide as high. */
function fromMiddle(x: number, y: number, aspect: number): number {
  return Math.hypot((2 * x - 1) * aspect, 2 * y - 1) / Math.hypot(aspect, 1)
}

/**
 * Nothing is known but the lens's focal length (for 36 × 24 mm, mm > 0; of a picture so many times as wide as high): the camera has taken out none, all or a
 * part of the cos⁴ law (check values 7.7 is the same geometry; W. J. Smith, Modern Optical Engineering, "cosine to the fourth", from memory). Between limits on one side the middle is taken and the span
 * counts as rectangular: JCGM 100:2008, 4.3.8.
 */
export function cosineShading(focal35Mm: number, aspect: number): Shading {
  const logFall = (x: number, y: number) => {
    const tan = (fromMiddle(x, y, aspect) * HALF_DIAGONAL_MM) / focal35Mm
    return -2 * Math.log(1 + tan * tan)
  }
  return {
    at: (x, y) => Math.exp(logFall(x, y) / 2),
    doubtAt: (x, y) => rectangular(logFall(x, y) / 2),
    by: 'cos4',
  }
}

/**
 * From a picture of an even field by the same camera: a smooth surface (up to the square across and up, the fourth power outwards) through the logarithm of its
 * light by least squares. Refused where a tenth of it is burnt out or black.
 */
export function fieldShading(field: Picture, response: Response): ShadingResult {
  const aspect = field.columns / field.rows
  const terms = (x: number, y: number): number[] => {
    const [u, v] = [2 * x - 1, 2 * y - 1]
    const r2 = fromMiddle(x, y, aspect) ** 2
    return [1, u, v, u * u, u * v, v * v, r2 * r2]
  }
  const n = terms(0, 0).length
  const matrix = Array.from({ length: n }, () => new Array<number>(n).fill(0))
  const right = new Array<number>(n).fill(0)
  let [used, all] = [0, 0]
  const step = Math.max(1, Math.round(Math.sqrt((field.columns * field.rows) / USED)))
  for (let row = 0; row < field.rows; row += step)
    for (let column = 0; column < field.columns; column += step) {
      all++
      const i = row * field.columns + column
      if (field.mask[i] !== MASK.fine) continue
      used++
      const t = terms((column + 0.5) / field.columns, (row + 0.5) / field.rows)
      const value = response.logLight(field.luminance[i] ?? 0)
      for (const [a, ta] of t.entries()) {
        right[a] = (right[a] ?? 0) + ta * value
        const line = matrix[a]
        if (line) for (const [b, tb] of t.entries()) line[b] = (line[b] ?? 0) + ta * tb
      }
    }
  if (used < 0.9 * all)
    return {
      ok: false,
      why: 'The picture of the even field is burnt out or black in places: take one of middling brightness.',
    }
  const { values, vectors } = symmetricEigen(matrix)
  const most = Math.max(...values)
  const fit = right.map((_, i) =>
    vectors.reduce((sum, v, k) => {
      const value = values[k] ?? 0
      if (!(value > 1e-12 * most)) return sum
      return sum + ((v[i] ?? 0) * v.reduce((s, e, j) => s + e * (right[j] ?? 0), 0)) / value
    }, 0),
  )
  const level = (x: number, y: number) => terms(x, y).reduce((sum, t, k) => sum + t * (fit[k] ?? 0), 0)
  const middle = level(0.5, 0.5)
  return {
    ok: true,
    shading: {
      at: (x, y) => Math.exp(level(x, y) - middle),
      doubtAt: (x, y) => -FIELD_DOUBT * fromMiddle(x, y, aspect) ** 2,
      by: 'evenField',
    },
  }
}

/** So many places, about: a surface of seven numbers needs no more. */
const USED = 5000
