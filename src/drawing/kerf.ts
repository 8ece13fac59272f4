// The cutter's kerf: its middle runs half a kerf beside the finished edge, outside of outlines and inside of openings.

import { arcOf, pathAreaMm2, stretchesOf } from './path.ts'
import { MM, mm } from './sizes.ts'
import type { Item, Path, Vertex } from './types.ts'

/** A stretch moved aside: a line through a point, or a circle; `turn` 1: the arc runs anticlockwise. */
type Carrier =
  | { kind: 'line'; x: number; y: number; dx: number; dy: number }
  | { kind: 'circle'; x: number; y: number; radiusMm: number; turn: 1 | -1 }

type Result<T> = ({ ok: true } & T) | { ok: false; why: string }

/** All items with the kerf’s half added to what is cut; a reason where an opening or a notch is narrower than the cut itself. */
export function addKerf(items: readonly Item[], kerfMm: number): Result<{ items: Item[] }> {
  if (kerfMm === 0) return { ok: true, items: [...items] }
  const moved: Item[] = []
  for (const item of items) {
    const out = outwardMm(item, kerfMm / 2)
    if (out === 0 || item.kind === 'text') moved.push(item)
    else if (item.kind === 'circle') {
      if (item.radiusMm + out <= 0)
        return {
          ok: false,
          why: `A hole of ${mm(2 * item.radiusMm)} ${MM} is no wider than the kerf of ${mm(kerfMm)} ${MM}.`,
        }
      moved.push({ ...item, radiusMm: item.radiusMm + out })
    } else {
      const path = offsetPath(item, out)
      if (!path) return { ok: false, why: `An edge or a notch is too narrow for a kerf of ${mm(kerfMm)} ${MM}.` }
      moved.push(path)
    }
  }
  return { ok: true, items: moved }
}

function outwardMm(item: Item, halfMm: number): number {
  if (item.kind === 'path' && !item.closed) return 0
  if (item.layer === 'outline') return halfMm
  return item.layer === 'hole' || item.layer === 'slot' ? -halfMm : 0
}

/**
 * A closed path moved outwards by so much (mm; below zero inwards), corners kept sharp, arcs as arcs; null where an edge would vanish. What a
 * narrow notch’s two sides do to each other is not looked at: half a kerf is small beside them.
 */
export function offsetPath(path: Path, outMm: number): Path | null {
  const turned = pathAreaMm2(path) < 0 ? reversed(path) : path
  const stretches = stretchesOf(turned)
  const carriers = stretches.map(([a, b]) => carrierOf(a, b, outMm))
  const corners = stretches.map(([at], i) => {
    const [before, after] = [carriers.at(i - 1), carriers[i]]
    return before && after ? meet(before, after, at, outMm) : null
  })
  const vertices: Vertex[] = []
  for (const [i, [a, b]] of stretches.entries()) {
    const [from, to, carrier] = [corners[i], corners[(i + 1) % corners.length], carriers[i]]
    if (!from || !to || !carrier) return null
    const bulge = newBulge(carrier, a, b, from, to)
    if (bulge === null) return null
    vertices.push({ ...from, bulge })
  }
  return { ...turned, vertices }
}

/** The same way round, the other way. */
function reversed(path: Path): Path {
  const back = path.vertices.toReversed()
  return { ...path, vertices: back.map((v, i) => ({ ...v, bulge: -(back[(i + 1) % back.length] ?? v).bulge })) }
}

/** Of a path that runs anticlockwise, outside lies to the right. */
function carrierOf(a: Vertex, b: Vertex, outMm: number): Carrier | null {
  const arc = arcOf(a, b)
  if (arc) {
    const turn = arc.sweepRad > 0 ? 1 : -1
    const radiusMm = arc.radiusMm + turn * outMm
    return radiusMm > 0 ? { kind: 'circle', x: arc.x, y: arc.y, radiusMm, turn } : null
  }
  const long = Math.hypot(b.x - a.x, b.y - a.y)
  const [dx, dy] = [(b.x - a.x) / long, (b.y - a.y) / long]
  return { kind: 'line', x: a.x + dy * outMm, y: a.y - dx * outMm, dx, dy }
}

type Place = { x: number; y: number }

/** Where two carriers meet nearest to the old corner; smooth joints keep their place along the normal. */
function meet(a: Carrier, b: Carrier, corner: Vertex, outMm: number): Place | null {
  const [[ax, ay], [bx, by]] = [direction(a, corner), direction(b, corner)]
  if (Math.abs(ax * by - ay * bx) < 1e-9 && ax * bx + ay * by > 0)
    return { x: corner.x + outMm * ay, y: corner.y - outMm * ax }
  const shared = crossings(a, b).sort((p, q) => away(p, corner) - away(q, corner))
  return shared[0] ?? null
}

const away = (p: Place, q: Place): number => Math.hypot(p.x - q.x, p.y - q.y)

/** Of travel along the carrier, at the corner. */
function direction(c: Carrier, corner: Vertex): [number, number] {
  if (c.kind === 'line') return [c.dx, c.dy]
  const r = Math.hypot(corner.x - c.x, corner.y - c.y)
  return [(-c.turn * (corner.y - c.y)) / r, (c.turn * (corner.x - c.x)) / r]
}

function crossings(a: Carrier, b: Carrier): Place[] {
  if (a.kind === 'circle' && b.kind === 'line') return crossings(b, a)
  if (a.kind === 'line' && b.kind === 'line') {
    const det = a.dx * b.dy - a.dy * b.dx
    const t = ((b.x - a.x) * b.dy - (b.y - a.y) * b.dx) / det
    return [{ x: a.x + t * a.dx, y: a.y + t * a.dy }]
  }
  if (a.kind === 'line' && b.kind === 'circle') {
    const along = (b.x - a.x) * a.dx + (b.y - a.y) * a.dy
    const across = (b.x - a.x) * a.dy - (b.y - a.y) * a.dx
    const half = Math.sqrt(b.radiusMm ** 2 - across ** 2)
    return Number.isNaN(half) ? [] : [along - half, along + half].map((t) => ({ x: a.x + t * a.dx, y: a.y + t * a.dy }))
  }
  if (a.kind === 'circle' && b.kind === 'circle') {
    const far = Math.hypot(b.x - a.x, b.y - a.y)
    if (far === 0) return []
    const [ux, uy] = [(b.x - a.x) / far, (b.y - a.y) / far]
    const along = (far ** 2 + a.radiusMm ** 2 - b.radiusMm ** 2) / (2 * far)
    const half = Math.sqrt(a.radiusMm ** 2 - along ** 2)
    return Number.isNaN(half)
      ? []
      : [-half, half].map((h) => ({ x: a.x + along * ux - h * uy, y: a.y + along * uy + h * ux }))
  }
  return []
}

/** Null where the stretch would run backwards. */
function newBulge(carrier: Carrier, a: Vertex, b: Vertex, from: Place, to: Place): number | null {
  if (carrier.kind === 'line') return (to.x - from.x) * (b.x - a.x) + (to.y - from.y) * (b.y - a.y) > 0 ? 0 : null
  const angle = (p: Place) => Math.atan2(p.y - carrier.y, p.x - carrier.x)
  const full = 2 * Math.PI
  const sweep = (((carrier.turn * (angle(to) - angle(from))) % full) + full) % full
  // A stretch that vanishes comes out as nearly a whole turn.
  const old = 4 * Math.atan(Math.abs(a.bulge))
  return sweep > old + Math.PI || sweep === 0 ? null : carrier.turn * Math.tan(sweep / 4)
}
