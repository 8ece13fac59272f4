// Flat walls side by side: the panels of a prism, a pyramid or a rectangular stretch as one blank with bend lines, or one panel alone.
// A bend adds angle × K × thickness: the neutral line’s arc about an inside edge taken as sharp (bend allowance A (r + K t) with r = 0; any
// handbook of sheet metal, from memory).
import type { Point } from '../layout/shape.ts'
import type { Blank } from './blank.ts'
import { flapOf, type SheetMetal } from './cone.ts'
import { label, linePath, polygonPath } from './path.ts'
import { decimal, deg, MM, mm } from './sizes.ts'
import type { Item, Size } from './types.ts'

/** A wall as it is seen square on: a trapezoid, alike left and right. Inside sizes. */
export interface Panel {
  inMm: number
  outMm: number
  slantMm: number
}

export interface Band {
  panels: readonly Panel[]
  /** How far the sheet is bent at each edge between two panels, and at the seam. */
  bendRad: number
  /** Whether the last panel comes round to the first: then a flap hangs on a bend too. */
  closes: boolean
}

interface LaidPanel {
  bottomLeft: Point
  bottomRight: Point
  topLeft: Point
  topRight: Point
}

/** Strip between two panels, mm: the bend’s allowance. */
const allowanceMm = (bendRad: number, { bendK, thicknessMm }: SheetMetal): number => bendRad * bendK * thicknessMm

/** The panels in the plane, from left to right, `stripMm` between one’s edge and the next’s. */
function layPanels(panels: readonly Panel[], stripMm: number): LaidPanel[] {
  const laid: LaidPanel[] = []
  let [bottom, top]: [Point, Point] = [
    [0, 0],
    [0, 1],
  ]
  for (const [i, panel] of panels.entries()) {
    const local: LaidPanel = {
      ...{ bottomLeft: [-panel.inMm / 2, 0], bottomRight: [panel.inMm / 2, 0] },
      ...{ topLeft: [-panel.outMm / 2, panel.slantMm], topRight: [panel.outMm / 2, panel.slantMm] },
    }
    const turn = i === 0 ? 0 : angle(bottom, top) - angle(local.bottomLeft, local.topLeft)
    const [c, s] = [Math.cos(turn), Math.sin(turn)]
    const [x0, y0] = i === 0 ? local.bottomLeft : bottom
    const place = ([x, y]: Point): Point => {
      const [u, v] = [x - local.bottomLeft[0], y - local.bottomLeft[1]]
      return [x0 + c * u - s * v, y0 + s * u + c * v]
    }
    const panelHere: LaidPanel = {
      ...{ bottomLeft: place(local.bottomLeft), bottomRight: place(local.bottomRight) },
      ...{ topLeft: place(local.topLeft), topRight: place(local.topRight) },
    }
    laid.push(panelHere)
    bottom = beside(panelHere.bottomRight, panelHere, stripMm)
    top = beside(panelHere.topRight, panelHere, stripMm)
  }
  return laid
}

const angle = (from: Point, to: Point): number => Math.atan2(to[1] - from[1], to[0] - from[0])

/** A point moved square to a panel’s right edge, outwards. */
function beside([x, y]: Point, { bottomRight, topRight }: LaidPanel, byMm: number): Point {
  const at = angle(bottomRight, topRight)
  return [x + byMm * Math.sin(at), y - byMm * Math.cos(at)]
}

/** The blank of a band, or of a single panel; with a flap at its right end where the seam has one. */
export function bandBlank({ panels, bendRad, closes }: Band, metal: SheetMetal): Blank {
  const strip = allowanceMm(bendRad, metal)
  const laid = layPanels(panels, strip)
  const [first, last] = [laid[0], laid.at(-1)]
  if (!first || !last) return { items: [], sizes: [], notes: [] }
  const isFlap = metal.seam.kind === 'flap'
  const end = isFlap
    ? { bottom: beside(last.bottomRight, last, strip), top: beside(last.topRight, last, strip) }
    : { bottom: last.bottomRight, top: last.topRight }
  // To the left of the way down lies the right.
  const flap = flapOf(metal.seam, end.top, end.bottom)
  const bottoms = laid.flatMap((p) => [p.bottomLeft, p.bottomRight])
  const tops = laid.toReversed().flatMap((p) => [p.topRight, p.topLeft])
  const outline = isFlap ? [...bottoms, end.bottom, ...flap.corners, end.top, ...tops] : [...bottoms, ...tops]
  const bends = laid.slice(0, isFlap ? undefined : -1).map((p) => {
    const move = (q: Point) => beside(q, p, strip / 2)
    return linePath('bend', move(p.bottomRight), move(p.topRight))
  })
  const items: Item[] = [
    polygonPath('outline', withoutRepeats(outline)),
    ...bends,
    ...flap.items,
    label('text', centre(first), 'Mirrored side up', { align: 'middle' }),
  ]
  return { items, sizes: bandSizes(laid, panels), notes: bandNotes({ panels, bendRad, closes }, metal) }
}

const centre = ({ bottomLeft, topRight }: LaidPanel): Point => [
  (bottomLeft[0] + topRight[0]) / 2,
  (bottomLeft[1] + topRight[1]) / 2,
]

const withoutRepeats = (corners: readonly Point[]): Point[] =>
  corners.filter((c, i) => {
    const before = corners.at(i - 1)
    return !before || Math.hypot(c[0] - before[0], c[1] - before[1]) > 1e-6
  })

function bandSizes(laid: readonly LaidPanel[], panels: readonly Panel[]): Size[] {
  const first = laid[0]
  if (!first) return []
  // Two panels are enough: of a rectangle’s walls the others are alike.
  const widths = laid.slice(0, 2).flatMap((p, i): Size[] => [
    { kind: 'length', from: p.bottomLeft, to: p.bottomRight, offsetMm: -8, text: mm(panels[i]?.inMm ?? 0) },
    { kind: 'length', from: p.topLeft, to: p.topRight, offsetMm: 8, text: mm(panels[i]?.outMm ?? 0) },
  ])
  const edge = Math.hypot(first.topLeft[0] - first.bottomLeft[0], first.topLeft[1] - first.bottomLeft[1])
  return [...widths, { kind: 'length', from: first.bottomLeft, to: first.topLeft, offsetMm: 10, text: mm(edge) }]
}

function bandNotes({ panels, bendRad, closes }: Band, metal: SheetMetal): string[] {
  const isFlap = metal.seam.kind === 'flap'
  const bent = panels.length > 1 || isFlap
  const slants = [...new Set(panels.map((p) => mm(p.slantMm)))]
  return [
    `Sizes of the panels are those inside, on the mirrored surface; from end to end along their middle ${slants.join(' and ')} ${MM}.`,
    ...(bent
      ? [
          `Bend towards the mirrored side by ${deg((bendRad * 180) / Math.PI)} on each bend line. Each bend takes ${mm(allowanceMm(bendRad, metal))} ${MM}: angle × K factor ${decimal(metal.bendK)} × ${mm(metal.thicknessMm)} ${MM}, the inside edge taken as sharp.`,
        ]
      : []),
    isFlap
      ? `Seam: a flap of ${mm(metal.seam.kind === 'flap' ? metal.seam.widthMm : 0)} ${MM} behind the ${closes ? 'first' : 'next'} panel, on the outside.`
      : `Seam edge on edge: the inside edges meet; mitre them by ${deg((bendRad * 90) / Math.PI)}.`,
  ]
}
