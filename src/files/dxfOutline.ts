// Lines of a DXF drawing as chains of points, mm. Own reader: of the two packages kept in the registry one (dxf-parser 1.1) drops the rest of a
// polyline at a vertex's identifier (group 91) and writes to the page's storage, the other (dxf 5.3) brings lodash and a command line.
// Reference: Autodesk, DXF Reference: groups of a code and a value; $INSUNITS; bulge = tan(angle / 4) (from memory).
import { type Affine, CHORD_MM, compose, curve, ellipseArc, move, type Point, stretchOf } from './outlineChords.ts'
import type { Chains } from './outlineLoops.ts'

interface Group {
  code: number
  value: string
}
interface Entity {
  type: string
  groups: Group[]
}

/** Millimetres of $INSUNITS, by its number. */
const UNITS: Record<number, { mm: number; name: string }> = {
  1: { mm: 25.4, name: 'inches' },
  2: { mm: 304.8, name: 'feet' },
  4: { mm: 1, name: 'millimetres' },
  5: { mm: 10, name: 'centimetres' },
  6: { mm: 1000, name: 'metres' },
  9: { mm: 0.0254, name: 'thousandths of an inch' },
  10: { mm: 914.4, name: 'yards' },
  13: { mm: 0.001, name: 'micrometres' },
  14: { mm: 100, name: 'decimetres' },
}

const MOST_INSERTS = 2_000
const DEEPEST = 8

export function readDxfChains(text: string): Chains {
  if (text.startsWith('AutoCAD Binary DXF')) return { ok: false, why: 'A binary DXF; save it as text (ASCII).' }
  const groups = readGroups(text)
  const sections = new Map<string, Group[]>()
  for (let i = 0; i < groups.length; i++) {
    if (!is(groups[i], 0, 'SECTION')) continue
    const end = groups.findIndex((g, k) => k > i && is(g, 0, 'ENDSEC'))
    if (end < 0) return { ok: false, why: 'The drawing breaks off: a section has no end.' }
    sections.set(groups[i + 1]?.value ?? '', groups.slice(i + 2, end))
    i = end
  }
  const drawn = sections.get('ENTITIES')
  if (!drawn) return { ok: false, why: 'No DXF drawing: it has no section of entities.' }
  const unit = unitOf(sections.get('HEADER') ?? [])
  if (!unit)
    return { ok: false, why: 'The drawing’s unit ($INSUNITS) is none of a workshop’s; save it in millimetres.' }
  const blocks = blocksOf(entitiesOf(sections.get('BLOCKS') ?? []))
  const chains: Point[][] = []
  const skipped = new Map<string, number>()
  let inserts = 0
  const draw = (entities: readonly Entity[], map: Affine, depth: number): void => {
    for (const [i, e] of entities.entries()) {
      if (e.type === 'INSERT') {
        const block = blocks.get(textOf(e, 2))
        if (block && depth < DEEPEST && inserts++ < MOST_INSERTS)
          draw(block.entities, compose(map, insertMap(e, block.base)), depth + 1)
        continue
      }
      const tolerance = CHORD_MM / Math.max(1e-12, stretchOf(map))
      const points = e.type === 'POLYLINE' ? polyline(e, vertexesAfter(entities, i), tolerance) : chainOf(e, tolerance)
      if (points) chains.push(points.map((p) => move(map, flipped(e, p))))
      else if (!SILENT.has(e.type)) skipped.set(e.type, (skipped.get(e.type) ?? 0) + 1)
    }
  }
  draw(entitiesOf(drawn), [unit.mm, 0, 0, unit.mm, 0, 0], 0)
  const notes = [unit.note]
  if (skipped.size > 0) notes.push(`Left aside: ${[...skipped].map(([type, n]) => `${n} × ${type}`).join(', ')}.`)
  return { ok: true, chains, notes }
}

function readGroups(text: string): Group[] {
  const lines = text.split(/\r\n|\r|\n/)
  const groups: Group[] = []
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = Number.parseInt(lines[i] ?? '', 10)
    // 999: a comment.
    if (Number.isFinite(code) && code !== 999) groups.push({ code, value: (lines[i + 1] ?? '').trim() })
  }
  return groups
}

const is = (g: Group | undefined, code: number, value: string) => g?.code === code && g.value === value

function unitOf(header: readonly Group[]): { mm: number; note: string } | null {
  const at = header.findIndex((g) => is(g, 9, '$INSUNITS'))
  const number = at < 0 ? 0 : Number(header[at + 1]?.value)
  if (number === 0) return { mm: 1, note: 'The drawing names no unit; taken as millimetres.' }
  const unit = UNITS[number]
  return unit ? { mm: unit.mm, note: `Drawn in ${unit.name}.` } : null
}

function entitiesOf(groups: readonly Group[]): Entity[] {
  const entities: Entity[] = []
  for (const g of groups) {
    if (g.code === 0) entities.push({ type: g.value, groups: [] })
    else entities.at(-1)?.groups.push(g)
  }
  return entities
}

function blocksOf(entities: readonly Entity[]): Map<string, { base: Point; entities: Entity[] }> {
  const blocks = new Map<string, { base: Point; entities: Entity[] }>()
  let open: { base: Point; entities: Entity[] } | null = null
  for (const e of entities) {
    if (e.type === 'BLOCK') {
      open = { base: pointOf(e, 10), entities: [] }
      blocks.set(textOf(e, 2), open)
    } else if (e.type === 'ENDBLK') open = null
    else open?.entities.push(e)
  }
  return blocks
}

const textOf = (e: Entity, code: number): string => e.groups.find((g) => g.code === code)?.value ?? ''
const numberOf = (e: Entity, code: number, otherwise = 0): number => {
  const value = Number.parseFloat(textOf(e, code))
  return Number.isFinite(value) ? value : otherwise
}
const pointOf = (e: Entity, code: number): Point => [numberOf(e, code), numberOf(e, code + 10)]
const RAD = Math.PI / 180

/** An extrusion towards −z turns the drawing's own frame over: x runs the other way. */
const flipped = (e: Entity, [x, y]: Point): Point =>
  numberOf(e, 230, 1) < 0 && TURNED_OVER.has(e.type) ? [-x, y] : [x, y]
/** Entities whose points are in that frame; the others' are in the drawing's. */
const TURNED_OVER = new Set(['LWPOLYLINE', 'POLYLINE', 'ARC', 'CIRCLE'])
/** What never draws an edge. */
const SILENT = new Set([
  'VERTEX',
  'SEQEND',
  'TEXT',
  'MTEXT',
  'ATTDEF',
  'ATTRIB',
  'POINT',
  'DIMENSION',
  'VIEWPORT',
  'LEADER',
])

function insertMap(e: Entity, base: Point): Affine {
  const turn = numberOf(e, 50) * RAD
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const [sx, sy] = [numberOf(e, 41, 1), numberOf(e, 42, 1)]
  const placed: Affine = [c * sx, s * sx, -s * sy, c * sy, ...pointOf(e, 10)]
  const map = compose(placed, [1, 0, 0, 1, -base[0], -base[1]])
  return numberOf(e, 230, 1) < 0 ? compose([-1, 0, 0, 1, 0, 0], map) : map
}

/** Points of one entity, ends that meet included; null for what has no edge. */
function chainOf(e: Entity, tolerance: number): Point[] | null {
  switch (e.type) {
    case 'LINE':
      return [pointOf(e, 10), pointOf(e, 11)]
    case 'CIRCLE':
    case 'ARC': {
      const radius = numberOf(e, 40)
      const from = e.type === 'ARC' ? numberOf(e, 50) * RAD : 0
      const sweep = e.type === 'ARC' ? onward(numberOf(e, 51) * RAD - from) : 2 * Math.PI
      return ellipseArc(pointOf(e, 10), [radius, 0], [0, radius], from, sweep, tolerance)
    }
    case 'ELLIPSE': {
      const u = pointOf(e, 11)
      const ratio = numberOf(e, 40, 1) * (numberOf(e, 230, 1) < 0 ? -1 : 1)
      const from = numberOf(e, 41)
      return ellipseArc(
        pointOf(e, 10),
        u,
        [-ratio * u[1], ratio * u[0]],
        from,
        onward(numberOf(e, 42, 2 * Math.PI) - from),
        tolerance,
      )
    }
    case 'LWPOLYLINE':
      return withBulges(lightVertexes(e), (numberOf(e, 70) & 1) === 1, tolerance)
    case 'SPLINE':
      return spline(e, tolerance)
    default:
      return null
  }
}

/** A turn anticlockwise, (0, 2π]. */
const onward = (rad: number): number => {
  const turn = rad - 2 * Math.PI * Math.floor(rad / (2 * Math.PI))
  return turn < 1e-12 ? 2 * Math.PI : turn
}

interface Vertex {
  at: Point
  bulge: number
}

function lightVertexes(e: Entity): Vertex[] {
  const vertexes: Vertex[] = []
  for (const g of e.groups) {
    const value = Number.parseFloat(g.value)
    const last = vertexes.at(-1)
    if (g.code === 10) vertexes.push({ at: [value, 0], bulge: 0 })
    else if (last && g.code === 20) last.at = [last.at[0], value]
    else if (last && g.code === 42) last.bulge = value
  }
  return vertexes
}

function vertexesAfter(entities: readonly Entity[], at: number): Vertex[] {
  const vertexes: Vertex[] = []
  for (const e of entities.slice(at + 1)) {
    if (e.type !== 'VERTEX') break
    // 16: a control point of a fitted curve, which the others already follow.
    if ((numberOf(e, 70) & 16) === 0) vertexes.push({ at: pointOf(e, 10), bulge: numberOf(e, 42) })
  }
  return vertexes
}

const polyline = (e: Entity, vertexes: readonly Vertex[], tolerance: number): Point[] | null =>
  (numberOf(e, 70) & 80) !== 0 ? null : withBulges(vertexes, (numberOf(e, 70) & 1) === 1, tolerance) // 16, 64: meshes

/** Bulge: the tangent of a quarter of the arc's angle, above zero anticlockwise. */
function withBulges(vertexes: readonly Vertex[], closed: boolean, tolerance: number): Point[] | null {
  if (vertexes.length < 2) return null
  const points = vertexes.slice(0, 1).map((v) => v.at)
  for (const [i, { at: a, bulge }] of vertexes.entries()) {
    const next = vertexes[i + 1] ?? (closed ? vertexes[0] : undefined)
    if (next) points.push(...(bulge === 0 ? [next.at] : bulgeArc(a, next.at, bulge, tolerance).slice(1)))
  }
  return points
}

export function bulgeArc(a: Point, b: Point, bulge: number, tolerance: number): Point[] {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  // The centre lies beside the chord's middle by (1 − b²)/4b of the chord, to the left of the way for b > 0.
  const off = (1 - bulge * bulge) / (4 * bulge)
  const centre: Point = [(a[0] + b[0]) / 2 - off * dy, (a[1] + b[1]) / 2 + off * dx]
  const radius = Math.hypot(a[0] - centre[0], a[1] - centre[1])
  const from = Math.atan2(a[1] - centre[1], a[0] - centre[0])
  const points = ellipseArc(centre, [radius, 0], [0, radius], from, 4 * Math.atan(bulge), tolerance)
  return [a, ...points.slice(1, -1), b]
}

type Weighted = [x: number, y: number, weight: number]

/** B-spline by its control points and knots, weights counted (de Boor); through its fit points where it has no others. */
function spline(e: Entity, tolerance: number): Point[] | null {
  const column = (code: number) => e.groups.filter((g) => g.code === code).map((g) => Number.parseFloat(g.value))
  const [xs, ys, knots, stated] = [column(10), column(20), column(40), column(41)]
  const degree = numberOf(e, 71, 3)
  const n = xs.length
  if (n < degree + 1 || knots.length !== n + degree + 1) {
    const [fx, fy] = [column(11), column(21)]
    return fx.length > 1 ? fx.map((x, i): Point => [x, fy[i] ?? 0]) : null
  }
  // Homogeneous: the weight is the third coordinate.
  const control = xs.map((x, i): Weighted => {
    const w = stated.length === n ? (stated[i] ?? 1) : 1
    return [w * x, w * (ys[i] ?? 0), w]
  })
  const at = (t: number): Point => {
    const k = Math.min(
      n - 1,
      Math.max(
        degree,
        knots.findLastIndex((knot) => knot <= t),
      ),
    )
    let row = control.slice(k - degree, k + 1)
    for (let r = 1; r <= degree; r++) {
      const from = k - degree + r
      row = row.slice(1).map((p, j): Weighted => {
        const [low, high] = [knots[from + j] ?? 0, knots[from + j + degree - r + 1] ?? 0]
        const share = high > low ? (t - low) / (high - low) : 0
        const q = row[j] ?? p
        return [q[0] + share * (p[0] - q[0]), q[1] + share * (p[1] - q[1]), q[2] + share * (p[2] - q[2])]
      })
    }
    const [x, y, w] = row[0] ?? [0, 0, 1]
    return [x / w, y / w]
  }
  const spans = [...new Set(knots.slice(degree, n + 1))]
  const points = spans.slice(1).flatMap((to, i) => curve(at, spans[i] ?? to, to, tolerance).slice(1))
  return [at(spans[0] ?? 0), ...points]
}
