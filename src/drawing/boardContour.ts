// A board’s outline as lines and arcs, in its own frame.
import type { BoardType } from '../lamp/schema.ts'
import { biteRadius, outlineShape } from '../layout/outline.ts'
import type { Point } from '../layout/shape.ts'
import { circle, polygonPath, vertex } from './path.ts'
import type { Circle, Layer, Path, Vertex } from './types.ts'

type Outline = BoardType['outline']
export type Star = Extract<Outline, { shape: 'star' }>

export function boardContour(layer: Layer, outline: Outline): Path | Circle {
  switch (outline.shape) {
    case 'disc':
      return circle(layer, [0, 0], outline.diameterMm / 2)
    case 'star':
      return biteRadius(outline) === 0 ? circle(layer, [0, 0], outline.acrossMm / 2) : starPath(layer, outline)
    default:
      return polygonPath(layer, outlineShape(outline).core)
  }
}

/** Middles of a star’s notches: on its edge, halfway between its points; the first point lies on +x. */
export const notchMiddles = ({ points, acrossMm }: Star): Point[] =>
  Array.from({ length: points }, (_, i): Point => {
    const at = ((2 * i + 1) * Math.PI) / points
    return [(acrossMm / 2) * Math.cos(at), (acrossMm / 2) * Math.sin(at)]
  })

/** Arcs of the disc and, clockwise, of the round notches about points of its edge. */
function starPath(layer: Layer, star: Star): Path {
  const [r, bite] = [star.acrossMm / 2, biteRadius(star)]
  // Half of what a notch takes of the edge, seen from the disc’s centre; half of its arc, seen from its own.
  const taken = 2 * Math.asin(bite / (2 * r))
  const within = Math.acos(bite / (2 * r))
  const each = (2 * Math.PI) / star.points
  const at = (rad: number): Point => [r * Math.cos(rad), r * Math.sin(rad)]
  const vertices = Array.from({ length: star.points }, (_, i): Vertex[] => {
    const notch = (i + 0.5) * each
    return [
      vertex(at(notch - each + taken), Math.tan((each - 2 * taken) / 4)),
      vertex(at(notch - taken), -Math.tan(within / 2)),
    ]
  })
  return { kind: 'path', layer, closed: true, vertices: vertices.flat() }
}
