// Areas and extents of face and boards as heat counts them. (Layout has shapes for clearances; heat may not know it.)
import { type FaceSize, faceAreaMm2, isOnFace } from '../lamp/facePlate.ts'
import type { BoardType } from '../lamp/schema.ts'
import { boxOfCorners, farthest, isInPolygon, signedArea } from '../num/polygon.ts'

const HALF_ROOT3 = Math.sqrt(3) / 2

/** Area of the face, m². */
export const faceAreaM2 = (face: FaceSize): number => faceAreaMm2(face) / 1e6

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
    case 'polygon':
      return isInPolygon(outline.corners, xMm, yMm)
  }
}

/** Farthest point of the board from its origin, mm. */
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
    case 'polygon':
      return farthest(outline.corners)
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
    case 'polygon':
      return Math.abs(signedArea(outline.corners)) / 1e6
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
    case 'polygon': {
      const { fromX, toX, fromY, toY } = boxOfCorners(outline.corners)
      return Math.min(toX - fromX, toY - fromY)
    }
  }
}
