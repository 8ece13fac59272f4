// Meshes and lines of the solid view as plain arrays, mm, in the lamp's frame; three only uploads them.
import { isRectangle, stretchesOf } from '../../../lamp/assembly.ts'
import type { Tunnel } from '../../../lamp/schema.ts'
import { flatsPolygon } from '../../../layout/outline.ts'
import { FATE_GROUPS, type FateGroup, groupOfFate } from '../../common/fates.ts'

export interface Mesh {
  position: Float32Array
  index: Uint32Array
}

const ROUND_STEPS = 72

/** Corners of a ring of the tunnel, anticlockwise; a polygon's first flat faces +x. */
export function ringPoints(sides: number, sizeMm: number): readonly (readonly [number, number])[] {
  if (sides > 0) return flatsPolygon(sides, sizeMm)
  return Array.from({ length: ROUND_STEPS }, (_, i) => {
    const at = (2 * Math.PI * i) / ROUND_STEPS
    return [(sizeMm / 2) * Math.cos(at), (sizeMm / 2) * Math.sin(at)] as const
  })
}

/** Corners of the tunnel's section at one place. */
const sectionPoints = (t: Tunnel, widthMm: number, heightMm: number): readonly (readonly [number, number])[] =>
  isRectangle(t)
    ? [
        [widthMm / 2, -heightMm / 2],
        [widthMm / 2, heightMm / 2],
        [-widthMm / 2, heightMm / 2],
        [-widthMm / 2, -heightMm / 2],
      ]
    : ringPoints(t.sides, widthMm)

interface TunnelRing {
  zMm: number
  points: readonly (readonly [number, number])[]
}

/** Two for each stretch; at a step two of different sizes lie at one z. */
function tunnelRings(t: Tunnel): TunnelRing[] {
  return stretchesOf(t).flatMap((s) => [
    { zMm: s.zInMm, points: sectionPoints(t, s.inMm, s.inHeightMm) },
    { zMm: s.zOutMm, points: sectionPoints(t, s.outMm, s.outHeightMm) },
  ])
}

/** Walls and steps: each ring is joined to the next. */
export function tunnelMesh(t: Tunnel): Mesh {
  const position: number[] = []
  const index: number[] = []
  const rings = tunnelRings(t)
  for (const [k, ring] of rings.entries()) {
    const next = rings[k + 1]
    if (!next || isSame(ring, next)) continue
    const first = position.length / 3
    const n = ring.points.length
    for (const [i, at] of ring.points.entries()) {
      position.push(...at, ring.zMm, ...next.points[i]!, next.zMm)
      const a = first + 2 * i
      const b = first + 2 * ((i + 1) % n)
      index.push(a, b, a + 1, b, b + 1, a + 1)
    }
  }
  return { position: Float32Array.from(position), index: Uint32Array.from(index) }
}

const isSame = (a: TunnelRing, b: TunnelRing): boolean =>
  a.zMm === b.zMm && a.points.every((p, i) => p[0] === b.points[i]?.[0] && p[1] === b.points[i]?.[1])

/** More joints are a curve: only their steps have rims. */
const MOST_RIMS = 8

/** Rims and edges between flats; for a round wall a few straight lines. */
export function tunnelEdges(t: Tunnel): Float32Array {
  const rings = tunnelRings(t)
  const every = t.sides > 0 ? 1 : ROUND_STEPS / 8
  const isCurve = (t.joints?.length ?? 0) > MOST_RIMS
  const out: number[] = []
  for (const [k, { zMm, points }] of rings.entries()) {
    const next = rings[k + 1]
    const isEnd = k === 0 || next === undefined
    const isRim = isEnd || (isCurve ? next.zMm === zMm && !isSame(rings[k]!, next) : !isSame(rings[k]!, next))
    for (const [i, at] of points.entries()) {
      if (isRim) out.push(...at, zMm, ...points[(i + 1) % points.length]!, zMm)
      if (next && i % every === 0) out.push(...at, zMm, ...next.points[i]!, next.zMm)
    }
  }
  return Float32Array.from(out)
}

/** Pairs of points with a colour each, for the paths whose group is shown. */
export function pathSegments(
  paths: { start: Uint32Array; xyz: Float32Array; fate: Uint8Array },
  hidden: readonly FateGroup['name'][],
  theme: 'dark' | 'light',
): { position: Float32Array; colour: Float32Array } {
  const shown = (i: number) => !hidden.includes(FATE_GROUPS[groupOfFate(paths.fate[i]!)]!.name)
  let count = 0
  for (let i = 0; i < paths.fate.length; i++)
    if (shown(i)) count += Math.max(0, paths.start[i + 1]! - paths.start[i]! - 1)
  const position = new Float32Array(6 * count)
  const colour = new Float32Array(6 * count)
  let at = 0
  for (let i = 0; i < paths.fate.length; i++) {
    if (!shown(i)) continue
    const rgb = rgbOf(FATE_GROUPS[groupOfFate(paths.fate[i]!)]!.colour[theme])
    for (let v = paths.start[i]!; v < paths.start[i + 1]! - 1; v++) {
      position.set(paths.xyz.subarray(3 * v, 3 * v + 6), at)
      colour.set([...rgb, ...rgb], at)
      at += 6
    }
  }
  return { position, colour }
}

/** three expects linear vertex colours: the inverse curve of IEC 61966-2-1. */
const rgbOf = (hex: string): [number, number, number] => [channel(hex, 1), channel(hex, 3), channel(hex, 5)]

function channel(hex: string, at: number): number {
  const v = Number.parseInt(hex.slice(at, at + 2), 16) / 255
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
}
