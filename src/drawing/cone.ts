// A round stretch of the tunnel, flat: a sector of a ring, or a rectangle where it is a cylinder.
// Sheet-metal geometry (any handbook of pattern drafting; from memory): a frustum of slant s between radii r < R unrolls to radii
// s r / (R − r) and that plus s, over 360° (R − r) / s. The sheet’s neutral surface is the frustum moved outwards by c along its normal:
// both radii grow by c cosγ (γ the wall’s angle with the axis), slant and sector angle stay.

import type { Workshop } from '../lamp/schema.ts'
import type { Point } from '../layout/shape.ts'
import type { Blank } from './blank.ts'
import { label, linePath, vertex } from './path.ts'
import { decimal, deg, MM, mm } from './sizes.ts'
import type { Item, Size, Vertex } from './types.ts'

type Seam = NonNullable<Workshop['seam']>

export interface RoundStretch {
  /** Diameters inside, on the mirrored surface. */
  inMm: number
  outMm: number
  lengthMm: number
}

export interface SheetMetal {
  thicknessMm: number
  /** K factor of bends. */
  bendK: number
  seam: Seam
}

/** Rolled to more than five times its thickness, a sheet’s neutral line lies in its middle (common practice; from memory). */
const ROLLED_K = 0.5
const ROLLED_TIMES = 5

interface Sector {
  /** Of the neutral surface’s pattern; null: a cylinder. */
  radiiMm: { inner: number; outer: number } | null
  /** Of one part, at the neutral surface; of a cylinder 0. */
  angleRad: number
  slantMm: number
  /** Lengths of the two arcs of one part at the neutral surface: at the narrower end, at the wider. */
  arcsMm: [number, number]
  /** Of the neutral surface, from the inside, over the thickness. */
  k: number
}

/** Sizes, mm, of one of `parts` equal parts of a round stretch’s blank. */
function sectorOf({ inMm, outMm, lengthMm }: RoundStretch, { thicknessMm, bendK }: SheetMetal, parts: number): Sector {
  const [small, large] = [Math.min(inMm, outMm) / 2, Math.max(inMm, outMm) / 2]
  const slantMm = Math.hypot(lengthMm, large - small)
  const k = small >= ROLLED_TIMES * thicknessMm ? ROLLED_K : bendK
  const grown = (k * thicknessMm * lengthMm) / slantMm
  const arcsMm: [number, number] = [(2 * Math.PI * (small + grown)) / parts, (2 * Math.PI * (large + grown)) / parts]
  const sine = (large - small) / slantMm
  if (sine < 1e-9) return { radiiMm: null, angleRad: 0, slantMm, arcsMm, k }
  const inner = (small + grown) / sine
  return { radiiMm: { inner, outer: inner + slantMm }, angleRad: (2 * Math.PI * sine) / parts, slantMm, arcsMm, k }
}

/** The blank of one of `parts` equal parts, with its seam; the sector’s centre, where it has one, at the origin. */
export function coneBlank(stretch: RoundStretch, metal: SheetMetal, parts: number): Blank {
  const sector = sectorOf(stretch, metal, parts)
  const { radiiMm, angleRad, slantMm, arcsMm } = sector
  const corners = radiiMm ? sectorCorners(radiiMm, angleRad) : rectangleCorners(arcsMm[0], slantMm)
  const { innerLeft, innerRight, outerRight, outerLeft } = corners
  const bulge = Math.tan(angleRad / 4)
  const flap = flapOf(metal.seam, innerLeft, outerLeft)
  // Anticlockwise as seen: along the inner arc from right to left runs clockwise about the centre below it.
  const vertices: Vertex[] = [
    vertex(innerLeft, -bulge),
    vertex(innerRight),
    vertex(outerRight, bulge),
    vertex(outerLeft),
    ...flap.corners.map((c) => vertex(c)),
  ]
  const items: Item[] = [
    { kind: 'path', layer: 'outline', closed: true, vertices },
    ...flap.items,
    label('text', middle(innerLeft, outerRight), 'Mirrored side up', { align: 'middle' }),
  ]
  return { items, sizes: coneSizes(corners, sector), notes: coneNotes(stretch, metal, sector, parts) }
}

interface Corners {
  innerLeft: Point
  innerRight: Point
  outerRight: Point
  outerLeft: Point
}

function sectorCorners({ inner, outer }: { inner: number; outer: number }, angleRad: number): Corners {
  const [c, s] = [Math.cos(angleRad / 2), Math.sin(angleRad / 2)]
  return {
    innerLeft: [-inner * s, inner * c],
    innerRight: [inner * s, inner * c],
    outerRight: [outer * s, outer * c],
    outerLeft: [-outer * s, outer * c],
  }
}

const rectangleCorners = (width: number, height: number): Corners => ({
  innerLeft: [-width / 2, 0],
  innerRight: [width / 2, 0],
  outerRight: [width / 2, height],
  outerLeft: [-width / 2, height],
})

const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]

/** A flap beside the edge from `bottom` to `top`, to its left, its ends drawn in; and the line that it begins at, on the glue layer. */
export function flapOf(seam: Seam, bottom: Point, top: Point): { corners: Point[]; items: Item[] } {
  if (seam.kind === 'butt') return { corners: [], items: [] }
  const long = Math.hypot(top[0] - bottom[0], top[1] - bottom[1])
  const along: Point = [(top[0] - bottom[0]) / long, (top[1] - bottom[1]) / long]
  const left: Point = [-along[1], along[0]]
  const drawnIn = Math.min(seam.widthMm / 2, long / 4)
  const at = (u: number): Point => [
    bottom[0] + u * along[0] + seam.widthMm * left[0],
    bottom[1] + u * along[1] + seam.widthMm * left[1],
  ]
  const turnDeg = (Math.atan2(along[1], along[0]) * 180) / Math.PI
  const [x, y] = at(long / 2)
  const inFlap = seam.widthMm / 2 + 1.25
  return {
    corners: [at(long - drawnIn), at(drawnIn)],
    items: [
      linePath('glue', bottom, top),
      ...(seam.widthMm >= 5 && long >= 60
        ? [
            label('glue', [x - inFlap * left[0], y - inFlap * left[1]], 'flap: behind the other edge', {
              ...{ heightMm: 2.5, align: 'middle', turnDeg },
            }),
          ]
        : []),
    ],
  }
}

function coneSizes({ innerLeft, innerRight, outerRight, outerLeft }: Corners, { radiiMm, slantMm }: Sector): Size[] {
  const chord = (a: Point, b: Point) => mm(Math.hypot(b[0] - a[0], b[1] - a[1]))
  const lengths: Size[] = [
    { kind: 'length', from: innerRight, to: outerRight, offsetMm: -10, text: mm(slantMm) },
    {
      ...{ kind: 'length', from: outerLeft, to: outerRight },
      offsetMm: radiiMm ? radiiMm.outer - outerRight[1] + 10 : 10,
      text: chord(outerLeft, outerRight),
    },
  ]
  if (!radiiMm) return lengths
  const { inner, outer } = radiiMm
  const out = Math.min(12, (outer - inner) / 3)
  return [
    ...lengths,
    { kind: 'length', from: innerLeft, to: innerRight, offsetMm: -10, text: chord(innerLeft, innerRight) },
    { kind: 'arrow', at: [0, inner], from: [4, inner + out], text: `R ${mm(inner)}` },
    { kind: 'arrow', at: [0, outer], from: [4, outer - out], text: `R ${mm(outer)}` },
  ]
}

function coneNotes(
  { inMm, outMm, lengthMm }: RoundStretch,
  metal: SheetMetal,
  sector: Sector,
  parts: number,
): string[] {
  const { slantMm, arcsMm, angleRad, k } = sector
  const shape =
    sector.radiiMm === null
      ? `A cylinder: ${mm(arcsMm[0])} ${MM} round, ${mm(slantMm)} ${MM} long.`
      : `Sector of ${deg((angleRad * 180) / Math.PI)}; arcs ${mm(arcsMm[0])} and ${mm(arcsMm[1])} ${MM} long, ${mm(slantMm)} ${MM} apart.`
  return [
    `${parts > 1 ? `Cut ${parts} of these. ` : ''}Inside, on the mirrored surface: diameter ${mm(inMm)} to ${mm(outMm)} ${MM} over a height of ${mm(lengthMm)} ${MM}.`,
    shape,
    `Laid out at the neutral line of ${mm(metal.thicknessMm)} ${MM} sheet, ${decimal(k)} of its thickness from the inside${k === ROLLED_K ? ', as rolled sheet has it' : ''}.`,
    metal.seam.kind === 'butt'
      ? 'Seam edge on edge: the two straight edges meet.'
      : `Seam: a flap of ${mm(metal.seam.widthMm)} ${MM} behind the other edge, on the outside; the other edge comes to the glue line.`,
  ]
}
