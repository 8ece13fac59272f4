// Plane geometry of paths whose stretches are lines or arcs (vertices with bulges).
// Own code, because packages for polygons (clipper2, polyclip) know chords alone, and a cutter wants arcs as arcs.
import type { Point } from '../layout/shape.ts'
import type { Box } from '../num/grid.ts'
import type { Circle, Item, Label, Layer, Path, Size, Vertex } from './types.ts'

export interface Arc {
  x: number
  y: number
  radiusMm: number
  fromRad: number
  /** Above 0 anticlockwise. */
  sweepRad: number
}

/** Less than this, an arc is a line: its height over a chord of a metre is under a thousandth of a millimetre. */
const FLAT_BULGE = 2e-6

export const vertex = ([x, y]: Point, bulge = 0): Vertex => ({
  x,
  y,
  bulge: Math.abs(bulge) < FLAT_BULGE ? 0 : bulge,
})

export const polygonPath = (layer: Layer, corners: readonly Point[], closed = true): Path => ({
  kind: 'path',
  layer,
  closed,
  vertices: corners.map((c) => vertex(c)),
})

export const linePath = (layer: Layer, from: Point, to: Point): Path => polygonPath(layer, [from, to], false)

export const circle = (layer: Layer, [x, y]: Point, radiusMm: number): Circle => ({
  kind: 'circle',
  layer,
  x,
  y,
  radiusMm,
})

export const label = (
  layer: Layer,
  [x, y]: Point,
  text: string,
  { heightMm = 3, turnDeg = 0, align = 'left' }: Partial<Pick<Label, 'heightMm' | 'turnDeg' | 'align'>> = {},
): Label => ({ kind: 'text', layer, x, y, heightMm, text, turnDeg, align })

/** Two lines across each other, each so long. */
export const cross = (layer: Layer, [x, y]: Point, lengthMm: number): Path[] => [
  linePath(layer, [x - lengthMm / 2, y], [x + lengthMm / 2, y]),
  linePath(layer, [x, y - lengthMm / 2], [x, y + lengthMm / 2]),
]

/** Each stretch of the path: its vertex and the next. */
export function stretchesOf({ vertices, closed }: Pick<Path, 'vertices' | 'closed'>): [Vertex, Vertex][] {
  return vertices.flatMap((v, i): [Vertex, Vertex][] => {
    const next = vertices[i + 1] ?? (closed ? vertices[0] : undefined)
    return next ? [[v, next]] : []
  })
}

/** The arc of a stretch; null: a line. */
export function arcOf(a: Vertex, b: Vertex): Arc | null {
  if (a.bulge === 0) return null
  const [dx, dy] = [b.x - a.x, b.y - a.y]
  const chord = Math.hypot(dx, dy)
  // Sagitta = bulge × chord / 2; the centre lies (1 − bulge²) chord / 4 bulge to the left of the chord's middle.
  const left = (1 - a.bulge * a.bulge) / (4 * a.bulge)
  const [x, y] = [(a.x + b.x) / 2 - dy * left, (a.y + b.y) / 2 + dx * left]
  return {
    ...{ x, y, radiusMm: (chord * (1 + a.bulge * a.bulge)) / (4 * Math.abs(a.bulge)) },
    ...{ fromRad: Math.atan2(a.y - y, a.x - x), sweepRad: 4 * Math.atan(a.bulge) },
  }
}

export function pathLengthMm(path: Pick<Path, 'vertices' | 'closed'>): number {
  return stretchesOf(path).reduce((sum, [a, b]) => {
    const arc = arcOf(a, b)
    return sum + (arc ? arc.radiusMm * Math.abs(arc.sweepRad) : Math.hypot(b.x - a.x, b.y - a.y))
  }, 0)
}

/** Enclosed area, mm²; below zero when the path runs clockwise. Chords by the shoelace formula, and the segment over each arc. */
export function pathAreaMm2(path: Pick<Path, 'vertices'>): number {
  return stretchesOf({ ...path, closed: true }).reduce((sum, [a, b]) => {
    const arc = arcOf(a, b)
    const segment = arc ? (arc.radiusMm ** 2 * (arc.sweepRad - Math.sin(arc.sweepRad))) / 2 : 0
    return sum + (a.x * b.y - b.x * a.y) / 2 + segment
  }, 0)
}

/** Points along the path, arcs in chords that lie within `chordMm` of them. */
export function pointsOf(path: Path, chordMm = 0.05): Point[] {
  const points = stretchesOf(path).flatMap(([a, b]): Point[] => {
    const arc = arcOf(a, b)
    if (!arc) return [[a.x, a.y]]
    const step = 2 * Math.acos(Math.max(-1, 1 - chordMm / Math.max(arc.radiusMm, chordMm)))
    const n = Math.max(2, Math.ceil(Math.abs(arc.sweepRad) / step))
    return Array.from({ length: n }, (_, i): Point => {
      const at = arc.fromRad + (arc.sweepRad * i) / n
      return [arc.x + arc.radiusMm * Math.cos(at), arc.y + arc.radiusMm * Math.sin(at)]
    })
  })
  const last = path.vertices.at(-1)
  return path.closed || !last ? points : [...points, [last.x, last.y]]
}

/** About 0.72 of the letters’ height for each of them: a wide guess for plain fonts (memory). */
export const textWidthMm = (text: string, heightMm: number): number => 0.74 * heightMm * [...text].length

function textCorners({ x, y, text, heightMm, turnDeg, align }: Label): Point[] {
  const width = textWidthMm(text, heightMm)
  const from = align === 'left' ? 0 : align === 'middle' ? -width / 2 : -width
  const turn = (turnDeg * Math.PI) / 180
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  return [from, from + width].flatMap((u) =>
    [-0.3 * heightMm, heightMm].map((v): Point => [x + c * u - s * v, y + s * u + c * v]),
  )
}

/** The points that an item’s box is spanned by. */
export function itemPoints(item: Item): Point[] {
  if (item.kind === 'text') return textCorners(item)
  if (item.kind === 'path') return pointsOf(item)
  const { x, y, radiusMm: r } = item
  return [
    [x - r, y - r],
    [x + r, y + r],
  ]
}

/** About all of them; of none, a point at the origin. */
export function boxOf(items: readonly Item[]): Box {
  const box = { fromX: Infinity, fromY: Infinity, toX: -Infinity, toY: -Infinity }
  for (const item of items) {
    for (const [x, y] of itemPoints(item)) {
      box.fromX = Math.min(box.fromX, x)
      box.fromY = Math.min(box.fromY, y)
      box.toX = Math.max(box.toX, x)
      box.toY = Math.max(box.toY, y)
    }
  }
  return box.fromX <= box.toX ? box : { fromX: 0, fromY: 0, toX: 0, toY: 0 }
}

/** A turn about the origin, then a shift. */
export interface Move {
  turnRad: number
  xMm: number
  yMm: number
}

function movedPoint([x, y]: Point, { turnRad, xMm, yMm }: Move): Point {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)]
  return [c * x - s * y + xMm, s * x + c * y + yMm]
}

export function movedItem(item: Item, move: Move): Item {
  if (item.kind === 'path') {
    const vertices = item.vertices.map((v) => {
      const [x, y] = movedPoint([v.x, v.y], move)
      return { x, y, bulge: v.bulge }
    })
    return { ...item, vertices }
  }
  const [x, y] = movedPoint([item.x, item.y], move)
  if (item.kind === 'circle') return { ...item, x, y }
  return { ...item, x, y, turnDeg: readableDeg(item.turnDeg + (move.turnRad * 180) / Math.PI) }
}

export const movedSize = (size: Size, move: Move): Size =>
  size.kind === 'length'
    ? { ...size, from: movedPoint(size.from, move), to: movedPoint(size.to, move) }
    : { ...size, at: movedPoint(size.at, move), from: movedPoint(size.from, move) }

/** The same line of text, never upside down: in (-90°, 90°]. */
export function readableDeg(deg: number): number {
  const within = ((deg % 180) + 180) % 180
  return within > 90 + 1e-6 ? within - 180 : within
}
