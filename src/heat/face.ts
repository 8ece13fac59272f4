// The face plate as heat sees it: its outline, area and chords. (Layout has shapes for clearances; heat may not know it.)
import type { BoardType, Face } from '../lamp/schema.ts'

export type FaceSize = Pick<Face, 'shape' | 'sizeMm'>

const HALF_ROOT3 = Math.sqrt(3) / 2

/** Whether a point (mm, lamp's frame) lies on the face, edge included. */
export function isOnFace({ shape, sizeMm }: FaceSize, xMm: number, yMm: number): boolean {
  const half = sizeMm / 2
  if (shape === 'round') return xMm * xMm + yMm * yMm <= half * half
  if (shape === 'square') return Math.abs(xMm) <= half && Math.abs(yMm) <= half
  return Math.abs(xMm) <= half && Math.abs(xMm) / 2 + HALF_ROOT3 * Math.abs(yMm) <= half
}

/** Half extents of the face along x and y, mm. */
export function halfExtents({ shape, sizeMm }: FaceSize): [number, number] {
  const half = sizeMm / 2
  return shape === 'hexagon' ? [half, half / HALF_ROOT3] : [half, half]
}

/** Area of the face, m². */
export function faceAreaM2({ shape, sizeMm }: FaceSize): number {
  const square = (sizeMm / 1000) ** 2
  return shape === 'round' ? (Math.PI / 4) * square : shape === 'square' ? square : HALF_ROOT3 * square
}

/** Perimeter of the face, m. */
export function facePerimeterM({ shape, sizeMm }: FaceSize): number {
  const size = sizeMm / 1000
  return shape === 'round' ? Math.PI * size : shape === 'square' ? 4 * size : (6 * size) / (2 * HALF_ROOT3)
}

/** Length of the face along y at x, mm; 0 beside it. */
export function chordMm({ shape, sizeMm }: FaceSize, xMm: number): number {
  const half = sizeMm / 2
  if (Math.abs(xMm) > half) return 0
  if (shape === 'round') return 2 * Math.sqrt(half * half - xMm * xMm)
  if (shape === 'square') return sizeMm
  return (2 * (half - Math.abs(xMm) / 2)) / HALF_ROOT3
}

/** Whether a point of a board's own frame (mm) lies on it. A star counts as its full disc. */
export function isOnBoard(outline: BoardType['outline'], xMm: number, yMm: number): boolean {
  switch (outline.shape) {
    case 'rectangle':
      return Math.abs(xMm) <= outline.widthMm / 2 && Math.abs(yMm) <= outline.heightMm / 2
    case 'hexagon':
      return isOnFace({ shape: 'hexagon', sizeMm: outline.acrossMm }, xMm, yMm)
    case 'disc':
      return Math.hypot(xMm, yMm) <= outline.diameterMm / 2
    case 'star':
      return Math.hypot(xMm, yMm) <= outline.acrossMm / 2
  }
}

/** Half the board's largest extent, mm. */
export function boardReachMm(outline: BoardType['outline']): number {
  switch (outline.shape) {
    case 'rectangle':
      return Math.hypot(outline.widthMm, outline.heightMm) / 2
    case 'hexagon':
      return outline.acrossMm / 2 / HALF_ROOT3
    case 'disc':
      return outline.diameterMm / 2
    case 'star':
      return outline.acrossMm / 2
  }
}

/** Area of the board's outline, m². A star counts as its full disc. */
export function boardAreaM2(outline: BoardType['outline']): number {
  switch (outline.shape) {
    case 'rectangle':
      return (outline.widthMm * outline.heightMm) / 1e6
    case 'hexagon':
      return faceAreaM2({ shape: 'hexagon', sizeMm: outline.acrossMm })
    case 'disc':
      return faceAreaM2({ shape: 'round', sizeMm: outline.diameterMm })
    case 'star':
      return faceAreaM2({ shape: 'round', sizeMm: outline.acrossMm })
  }
}

/** Least extent of the board, mm, for a grid fine enough. */
export function boardLeastMm(outline: BoardType['outline']): number {
  switch (outline.shape) {
    case 'rectangle':
      return Math.min(outline.widthMm, outline.heightMm)
    case 'hexagon':
    case 'star':
      return outline.acrossMm
    case 'disc':
      return outline.diameterMm
  }
}
