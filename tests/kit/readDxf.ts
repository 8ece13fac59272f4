// A DXF read back by a parser that is not ours, as lines by layer; the way along an arc is worked out here by its tangent, not as src does.
import DxfParser from 'dxf-parser'

type Point = [number, number]

interface Loop {
  layer: string
  closed: boolean
  /** Close together along arcs. */
  points: Point[]
  /** Arc radii, stretch by stretch; null for lines. */
  radii: (number | null)[]
  /** Lengths of the arcs alone, in order. */
  arcsMm: number[]
  /** As in the file. */
  corners: Point[]
}

export interface ReadDxf {
  insunits: unknown
  loops: Loop[]
  circles: { layer: string; x: number; y: number; radius: number }[]
  texts: { layer: string; text: string; height: number }[]
}

interface Entity {
  type: string
  layer: string
  vertices?: { x: number; y: number; bulge?: number }[]
  shape?: boolean
  center?: { x: number; y: number }
  radius?: number
  text?: string
  textHeight?: number
}

export function readDxf(text: string): ReadDxf {
  const read = new DxfParser().parseSync(text)
  if (!read) throw new Error('no drawing')
  const entities = read.entities as unknown as Entity[]
  return {
    insunits: read.header['$INSUNITS'],
    loops: entities.flatMap((e) => (e.vertices ? [loopOf(e.layer, e.vertices, e.shape === true)] : [])),
    circles: entities.flatMap((e) =>
      e.type === 'CIRCLE' && e.center ? [{ layer: e.layer, x: e.center.x, y: e.center.y, radius: e.radius ?? 0 }] : [],
    ),
    texts: entities.flatMap((e) =>
      e.type === 'TEXT' ? [{ layer: e.layer, text: e.text ?? '', height: e.textHeight ?? 0 }] : [],
    ),
  }
}

function loopOf(layer: string, vertices: NonNullable<Entity['vertices']>, closed: boolean): Loop {
  const points: Point[] = []
  const radii: (number | null)[] = []
  const arcsMm: number[] = []
  for (const [i, v] of vertices.entries()) {
    const next = vertices[i + 1] ?? (closed ? vertices[0] : undefined)
    points.push([v.x, v.y])
    if (!next) continue
    const [dx, dy] = [next.x - v.x, next.y - v.y]
    const bulge = v.bulge ?? 0
    radii.push(bulge === 0 ? null : Math.abs(Math.hypot(dx, dy) / (2 * Math.sin(2 * Math.atan(bulge)))))
    if (bulge === 0) continue
    // From the first tangent on: the direction turns by the arc's angle in even steps.
    const angle = 4 * Math.atan(bulge)
    const r = Math.hypot(dx, dy) / (2 * Math.sin(angle / 2))
    const start = Math.atan2(dy, dx) - angle / 2
    arcsMm.push(r * angle)
    const n = 2000
    for (let k = 1; k < n; k++) {
      const at = start + (angle * k) / n
      points.push([v.x + r * (Math.sin(at) - Math.sin(start)), v.y - r * (Math.cos(at) - Math.cos(start))])
    }
  }
  return { layer, closed, points, radii, arcsMm, corners: vertices.map((v): Point => [v.x, v.y]) }
}

export const onLayer = <T extends { layer: string }>(list: readonly T[], layer: string): T[] =>
  list.filter((e) => e.layer === layer)

export function loopArea({ points }: Pick<Loop, 'points'>): number {
  let twice = 0
  for (const [i, [x, y]] of points.entries()) {
    const [u, v] = points[(i + 1) % points.length] ?? [0, 0]
    twice += x * v - u * y
  }
  return Math.abs(twice / 2)
}

export function loopLength({ points, closed }: Pick<Loop, 'points' | 'closed'>): number {
  const ends = closed ? [...points, points[0] ?? [0, 0]] : points
  return ends.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - (ends[i]?.[0] ?? 0), y - (ends[i]?.[1] ?? 0)), 0)
}

/** The only closed loop of a layer. */
export function onlyLoop(read: ReadDxf, layer: string): Loop {
  const loops = onLayer(read.loops, layer).filter((l) => l.closed)
  const [loop] = loops
  if (!loop || loops.length !== 1) throw new Error(`${loops.length} closed lines on ${layer}`)
  return loop
}
