// A curved tunnel (many short stretches, their slopes nearly alike) as gores: strips that bend along the lamp’s axis alone and stay flat across,
// so that each unrolls exactly. Across, a gore stands square to the radius at its middle, where it touches the curve; its edges lie outside.
import type { Stretch } from '../lamp/assembly.ts'
import type { Point } from '../layout/shape.ts'
import type { Blank } from './blank.ts'
import type { SheetMetal } from './cone.ts'
import { label, linePath, polygonPath } from './path.ts'
import { decimal, deg, MM, mm } from './sizes.ts'
import type { Size } from './types.ts'

/** Along the wall’s middle: distance from the axis, height, and half the wall’s width there. */
export interface Meridian {
  rMm: number
  zMm: number
  halfMm: number
}

/** The corners of a round tunnel’s gores lie at most so far outside its curve, as a share of the radius; an even number of gores. */
const MOST_OUTSIDE = 0.02
const LEAST_GORES = 8

/** Number of gores for a round tunnel, and how far their edges lie outside its curve where it is widest, mm: r (1 / cos(π/n) − 1). */
export function goresOf(widestMm: number): { count: number; outsideMm: number } {
  let count = LEAST_GORES
  const outside = (n: number) => 1 / Math.cos(Math.PI / n) - 1
  while (outside(count) > MOST_OUTSIDE) count += 2
  return { count, outsideMm: (widestMm / 2) * outside(count) }
}

/** A gore’s middle line through a run of stretches without steps. `count`: gores, or sides of a polygon; of a rectangle, which pair of walls. */
export function meridianOf(run: readonly Stretch[], walls: { count: number } | { pair: 'x' | 'y' }): Meridian[] {
  const ends = run.flatMap((s, i) => [
    ...(i === 0 ? [{ zMm: s.zInMm, xMm: s.inMm / 2, yMm: s.inHeightMm / 2 }] : []),
    { zMm: s.zOutMm, xMm: s.outMm / 2, yMm: s.outHeightMm / 2 },
  ])
  return ends.map(({ zMm, xMm, yMm }) => {
    if ('count' in walls) return { rMm: xMm, zMm, halfMm: xMm * Math.tan(Math.PI / walls.count) }
    return walls.pair === 'x' ? { rMm: xMm, zMm, halfMm: yMm } : { rMm: yMm, zMm, halfMm: xMm }
  })
}

/** Places along a gore’s middle at the neutral line, mm: each bend between two stretches adds its angle × K × thickness, outwards; inwards it takes it. */
function unrolledAt(meridian: readonly Meridian[], { bendK, thicknessMm }: SheetMetal): number[] {
  let s = 0
  return meridian.map((m, i) => {
    const before = meridian[i - 1]
    if (before) {
      const earlier = meridian[i - 2]
      const bent = earlier ? slope(earlier, before) - slope(before, m) : 0
      s += Math.hypot(m.rMm - before.rMm, m.zMm - before.zMm) + bent * bendK * thicknessMm
    }
    return s
  })
}

/** Angle of the wall with the axis, above 0 where it widens. */
const slope = (a: Meridian, b: Meridian): number => Math.atan2(b.rMm - a.rMm, b.zMm - a.zMm)

/**
 * The blank of one of `count` gores round the tunnel, its middle line upright; with a flap beside its left edge where the workshop's seams have
 * one: each gore's lies behind the next gore.
 */
export function goreBlank(
  meridian: readonly Meridian[],
  metal: SheetMetal,
  count: number,
  words: readonly string[],
): Blank {
  const { seam } = metal
  const at = unrolledAt(meridian, metal)
  const right = meridian.map((m, i): Point => [m.halfMm, at[i] ?? 0])
  const left = right.map(([x, y]): Point => [-x, y]).toReversed()
  const [first, last] = [meridian[0], meridian.at(-1)]
  const long = at.at(-1) ?? 0
  if (!first || !last) return { items: [], sizes: [], notes: [] }
  const widest = Math.max(...meridian.map((m) => m.halfMm))
  const width = (m: Meridian, y: number, offsetMm: number): Size => ({
    ...{ kind: 'length', from: [-m.halfMm, y], to: [m.halfMm, y], offsetMm },
    text: mm(2 * m.halfMm),
  })
  const isFlap = seam.kind === 'flap'
  return {
    items: [
      polygonPath('outline', [...right, ...(isFlap ? flapBeside(left, seam.widthMm) : left)]),
      ...(isFlap ? [polygonPath('glue', left, false)] : []),
      linePath('mark', [0, 0], [0, long]),
      label('text', [-2, long / 2], 'Mirrored side up', { align: 'middle', turnDeg: 90 }),
    ],
    sizes: [
      width(first, 0, -8),
      width(last, long, 8),
      { kind: 'length', from: [widest, 0], to: [widest, long], offsetMm: -10, text: mm(long) },
    ],
    notes: [
      ...words,
      `Bend it along its middle line alone, evenly, towards the mirrored side where the wall curves inwards; across it stays flat. ${meridian.length - 1} straight pieces, no bend line drawn.`,
      `Length at the neutral line: K factor ${decimal(metal.bendK)}, ${mm(metal.thicknessMm)} ${MM} sheet. ${seamWords(metal, count)}`,
    ],
  }
}

/** The same edge, from above to below, with a flap to its left whose ends are drawn in. */
function flapBeside(edge: readonly Point[], widthMm: number): Point[] {
  const [first, last] = [edge[0], edge.at(-1)]
  if (!first || !last) return []
  const drawnIn = Math.min(widthMm / 2, (first[1] - last[1]) / 4)
  const [high, low] = [first[1] - drawnIn, last[1] + drawnIn]
  const heights = [high, ...edge.map(([, y]) => y).filter((y) => y < high && y > low), low]
  return [first, ...heights.map((y): Point => [edgeAt(edge, y) - widthMm, y]), last]
}

/** x of the edge at a height. */
function edgeAt(edge: readonly Point[], y: number): number {
  const i = edge.findIndex(([, below], k) => k > 0 && below <= y)
  const [[x0, y0], [x1, y1]] = [edge[i - 1] ?? [0, 0], edge[i] ?? [0, 0]]
  return y0 === y1 ? x1 : x1 + ((x0 - x1) * (y - y1)) / (y0 - y1)
}

// A flap that is bent along a curve must be cut across (common practice, no source).
const seamWords = ({ seam }: SheetMetal, count: number): string =>
  seam.kind === 'butt'
    ? 'Gores meet edge on edge, inside; close the seams from outside.'
    : `Seam: a flap of ${mm(seam.widthMm)} ${MM}, bent by ${deg(360 / count)} along the glue line, behind the next gore, on the outside. Cut it across every ${mm(2 * seam.widthMm)} ${MM} or so, down to the glue line, so that it follows the curve.`
