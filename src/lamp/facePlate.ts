// The outline of the face: round, by its size across flats, a rectangle, or corners of its own.
import type { Box } from '../num/grid.ts'
import { boxOfCorners, type Corner, chordAlongY, farthest, isInPolygon, perimeter, signedArea } from '../num/polygon.ts'
import type { Face } from './schema.ts'

export type FaceSize = Pick<Face, 'shape' | 'sizeMm' | 'heightMm' | 'corners'>

const HALF_ROOT3 = Math.sqrt(3) / 2

/** A rectangle's size along y; read.ts refuses one without. */
export const faceHeightMm = ({ shape, sizeMm, heightMm }: FaceSize): number =>
  shape === 'rectangle' ? (heightMm ?? sizeMm) : sizeMm

/** Of a polygon; none of another shape. */
const cornersOf = ({ shape, corners }: FaceSize): readonly Corner[] | null =>
  shape === 'polygon' ? (corners ?? []) : null

/** Corners, mm, anticlockwise from the first flat, which faces +x, or as the polygon has them; null: round. */
export function faceCorners(face: FaceSize): readonly Corner[] | null {
  if (face.shape === 'round') return null
  if (face.shape === 'polygon') return face.corners ?? []
  const [x, y] = halfExtents(face)
  if (face.shape === 'hexagon')
    return [
      [x, y / 2],
      [0, y],
      [-x, y / 2],
      [-x, -y / 2],
      [0, -y],
      [x, -y / 2],
    ]
  return [
    [x, -y],
    [x, y],
    [-x, y],
    [-x, -y],
  ]
}

/** Whether a point (mm, lamp's frame) lies on the face, edge included. */
export function isOnFace(face: FaceSize, xMm: number, yMm: number): boolean {
  const half = face.sizeMm / 2
  switch (face.shape) {
    case 'round':
      return xMm * xMm + yMm * yMm <= half * half
    case 'square':
    case 'rectangle':
      return Math.abs(xMm) <= half && Math.abs(yMm) <= faceHeightMm(face) / 2
    case 'hexagon':
      return Math.abs(xMm) <= half && Math.abs(xMm) / 2 + HALF_ROOT3 * Math.abs(yMm) <= half
    case 'polygon':
      return isInPolygon(face.corners ?? [], xMm, yMm)
  }
}

/** Half extents of the face about the axis along x and y, mm: to the farther side, where a polygon lies beside it. */
export function halfExtents(face: FaceSize): [number, number] {
  const half = face.sizeMm / 2
  const corners = cornersOf(face)
  if (corners) {
    const { fromX, toX, fromY, toY } = boxOfCorners(corners)
    return [Math.max(-fromX, toX), Math.max(-fromY, toY)]
  }
  return face.shape === 'hexagon' ? [half, half * (2 / Math.sqrt(3))] : [half, faceHeightMm(face) / 2]
}

/** The box about the face, mm. */
export function faceBox(face: FaceSize): Box {
  const corners = cornersOf(face)
  if (corners) return boxOfCorners(corners)
  const [x, y] = halfExtents(face)
  return { fromX: -x, toX: x, fromY: -y, toY: y }
}

/** Farthest point of the face from the axis, mm. */
export function faceReachMm(face: FaceSize): number {
  switch (face.shape) {
    case 'round':
      return face.sizeMm / 2
    case 'square':
      return face.sizeMm / 2 / Math.cos(Math.PI / 4)
    case 'hexagon':
      return face.sizeMm / 2 / Math.cos(Math.PI / 6)
    case 'rectangle':
      return Math.hypot(face.sizeMm, faceHeightMm(face)) / 2
    case 'polygon':
      return farthest(face.corners ?? [])
  }
}

/** Half of the face's greater size, about the axis, mm: what lies farther from the axis is taken to lie beside the face. */
export const faceHalfMm = (face: FaceSize): number => Math.max(face.sizeMm, faceHeightMm(face)) / 2

/** Of the whole face, mm. A hexagon counts by its flats. */
export function faceWidestMm(face: FaceSize): number {
  const corners = cornersOf(face)
  if (!corners) return Math.max(face.sizeMm, faceHeightMm(face))
  const { fromX, toX, fromY, toY } = boxOfCorners(corners)
  return Math.max(toX - fromX, toY - fromY)
}

/** Area, mm². */
export function faceAreaMm2(face: FaceSize): number {
  const { shape, sizeMm } = face
  switch (shape) {
    case 'round':
      return (Math.PI / 4) * sizeMm ** 2
    case 'square':
      return sizeMm ** 2
    case 'hexagon':
      return HALF_ROOT3 * sizeMm ** 2
    case 'rectangle':
      return sizeMm * faceHeightMm(face)
    case 'polygon':
      return Math.abs(signedArea(face.corners ?? []))
  }
}

/** Length of the edge, mm. */
export function facePerimeterMm(face: FaceSize): number {
  const { shape, sizeMm } = face
  switch (shape) {
    case 'round':
      return Math.PI * sizeMm
    case 'square':
      return 4 * sizeMm
    case 'hexagon':
      return (6 * sizeMm) / (2 * HALF_ROOT3)
    case 'rectangle':
      return 2 * (sizeMm + faceHeightMm(face))
    case 'polygon':
      return perimeter(face.corners ?? [])
  }
}

/** Length of the face along y at x, mm; 0 beside it. */
export function faceChordMm(face: FaceSize, xMm: number): number {
  const half = face.sizeMm / 2
  const corners = cornersOf(face)
  if (corners) return chordAlongY(corners, xMm)
  if (Math.abs(xMm) > half) return 0
  if (face.shape === 'round') return 2 * Math.sqrt(half * half - xMm * xMm)
  if (face.shape === 'hexagon') return (2 * (half - Math.abs(xMm) / 2)) / HALF_ROOT3
  return faceHeightMm(face)
}

/** A polygon's corners, and the size that goes with them: twice the farthest one's distance from the axis, in hundredths upwards. */
export const polygonFace = (corners: readonly Corner[]): Pick<Face, 'shape' | 'sizeMm' | 'corners'> => ({
  shape: 'polygon',
  sizeMm: Math.ceil(200 * farthest(corners) - 1e-6) / 100,
  corners: corners.map(([x, y]): [number, number] => [x, y]),
})

/** Another size of the same shape; a polygon's corners move with it, a rectangle's height stays. */
export function resizedFace<F extends FaceSize>(face: F, sizeMm: number): F {
  if (face.shape !== 'polygon') return { ...face, sizeMm }
  const by = sizeMm / face.sizeMm
  return { ...face, sizeMm, corners: face.corners?.map(([x, y]): [number, number] => [by * x, by * y]) }
}
