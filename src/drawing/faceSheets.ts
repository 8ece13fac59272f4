// The face: its plan to be cut, and a template to drill by.
import { faceBox, faceCorners } from '../lamp/facePlate.ts'
import { boardTypeOf, lampFromBoard } from '../lamp/place.ts'
import type { Board, Lamp } from '../lamp/schema.ts'
import type { FaceHole } from '../layout/faceHoles.ts'
import { boardOutline } from '../layout/outline.ts'
import { type Point, shapeBox } from '../layout/shape.ts'
import { METALS } from '../library/metals.ts'
import { boardContour } from './boardContour.ts'
import { drawnHoles, holeWords } from './faceHoles.ts'
import { circle, cross, label, linePath, movedItem, polygonPath, vertex } from './path.ts'
import { deg, MM, mm } from './sizes.ts'
import type { Item, Made, SheetPlan, Size, Stock } from './types.ts'

/** More rows than this stand on the drilling template alone. */
const MOST_ROWS = 40
const NUMBER_MM = 2

export const facePlans = (lamp: Lamp): SheetPlan[] => [
  { name: 'face', title: 'Face plate', draw: () => drawFace(lamp) },
  { name: 'face-drill', title: 'Face plate, drilling template', draw: () => drawTemplate(lamp) },
]

function drawFace(lamp: Lamp): Made {
  const found = drawnHoles(lamp)
  if (found.fault) return { ok: false, why: found.fault }
  const { holes } = found
  return {
    ok: true,
    items: [
      faceOutline(lamp),
      ...holes.map(holeItem),
      ...holes.map((h) => numberOf(h)),
      ...lamp.boards.flatMap((board) => boardMarks(lamp, board)),
      ...centreMark(),
    ],
    sizes: faceSizes(lamp),
    notes: [
      'Seen from the target; x to the right, y up, from the lamp’s axis.',
      ...(lamp.face.shape === 'hexagon' ? [`Hexagon: ${mm(lamp.face.sizeMm)} ${MM} across flats.`] : []),
      ...holeNotes(lamp, found.notes),
      ...(holes.length > MOST_ROWS ? ['Places and sizes of the holes: see the drilling template.'] : []),
    ],
    stock: faceStock(lamp),
    isCut: true,
    restsOn: ['kerfMm', ...(found.hasStandOffs ? (['lensRing'] as const) : [])],
    ...(holes.length > 0 && holes.length <= MOST_ROWS ? { table: holeTable(holes) } : {}),
  }
}

function drawTemplate(lamp: Lamp): Made {
  const found = drawnHoles(lamp)
  if (found.fault) return { ok: false, why: found.fault }
  const { holes } = found
  if (holes.length === 0)
    return {
      ok: false,
      why: 'The face has no holes: no keep-outs, no screw holes in its types of boards, and no stand-off falls on it.',
    }
  return {
    ok: true,
    items: [
      faceOutline(lamp),
      ...holes.flatMap((h) => [
        holeItem(h),
        ...cross('mark', [h.xMm, h.yMm], Math.max(6, h.diameterMm + 4)),
        numberOf(h),
      ]),
      ...centreMark(),
    ],
    sizes: faceSizes(lamp),
    notes: ['Centre-punch through the crosses; x and y from the lamp’s axis.', ...holeNotes(lamp, found.notes)],
    stock: faceStock(lamp),
    isCut: false,
    restsOn: found.hasStandOffs ? ['lensRing'] : [],
    table: holeTable(holes),
  }
}

function faceOutline(lamp: Lamp): Item {
  const corners = faceCorners(lamp.face)
  return corners ? polygonPath('outline', corners) : circle('outline', [0, 0], lamp.face.sizeMm / 2)
}

function holeItem({ xMm, yMm, diameterMm, slot }: FaceHole): Item {
  if (!slot || slot.lengthMm === diameterMm) return circle('hole', [xMm, yMm], diameterMm / 2)
  const [half, r] = [(slot.lengthMm - diameterMm) / 2, diameterMm / 2]
  const vertices = [vertex([-half, -r]), vertex([half, -r], 1), vertex([half, r]), vertex([-half, r], 1)]
  const move = { turnRad: (slot.turnDeg * Math.PI) / 180, xMm, yMm }
  return movedItem({ kind: 'path', layer: 'slot', closed: true, vertices }, move)
}

/** Beside the hole, to the upper right. */
function numberOf({ number, xMm, yMm, diameterMm, slot, shape }: FaceHole): Item {
  const out = (diameterMm / 2) * Math.SQRT1_2 + 0.6
  const corner: Point = slot ? [shapeBox(shape).toX + 0.6, shapeBox(shape).toY + 0.6] : [xMm + out, yMm + out]
  return label('mark', corner, number, { heightMm: NUMBER_MM })
}

function boardMarks(lamp: Lamp, board: Board): Item[] {
  const { outline } = boardTypeOf(lamp, board)
  const outlineItem = board.wedge?.tiltDeg
    ? polygonPath('mark', hull(boardOutline(lamp, board).core))
    : movedItem(boardContour('mark', outline), {
        ...{ turnRad: (board.turnDeg * Math.PI) / 180, xMm: board.xMm, yMm: board.yMm },
      })
  // A stroke towards the board’s own +x shows how it is turned.
  const from = lampFromBoard(board, 3.5, 0)
  const to = lampFromBoard(board, 6.5, 0)
  return [
    outlineItem,
    linePath('mark', from, to),
    label('mark', [board.xMm - 1, board.yMm + 1], board.id, { heightMm: 2.2, align: 'right' }),
  ]
}

/** Convex hull, anticlockwise (A. M. Andrew 1979, monotone chain; from memory). A tilted disc’s points come unordered. */
function hull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const half = (list: readonly Point[]): Point[] => {
    const chain: Point[] = []
    for (const p of list) {
      for (;;) {
        const [a, b] = [chain.at(-2), chain.at(-1)]
        if (!a || !b || (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break
        chain.pop()
      }
      chain.push(p)
    }
    return chain.slice(0, -1)
  }
  return [...half(sorted), ...half(sorted.toReversed())]
}

const centreMark = (): Item[] => [...cross('mark', [0, 0], 10), circle('mark', [0, 0], 1)]

function faceSizes({ face }: Lamp): Size[] {
  const { fromX, toX, fromY, toY } = faceBox(face)
  if (face.shape === 'round')
    return [{ kind: 'length', from: [fromX, 0], to: [toX, 0], offsetMm: toY + 10, text: `Ø ${mm(toX - fromX)}` }]
  // From the box’s edges: of a hexagon and a polygon they are its flats and corners.
  return [
    { kind: 'length', from: [fromX, toY], to: [toX, toY], offsetMm: 10, text: mm(toX - fromX) },
    { kind: 'length', from: [fromX, fromY], to: [fromX, toY], offsetMm: 10, text: mm(toY - fromY) },
  ]
}

function holeNotes(lamp: Lamp, notes: readonly string[]): string[] {
  const without = lamp.boardTypes.filter((t) => !t.holes?.length && lamp.boards.some((b) => b.type === t.id))
  return [
    ...notes,
    ...(lamp.boardTypes.some((t) => t.holes?.length)
      ? [
          'Screw holes of boards are drawn as wide as in the board; where a thread is cut into the face, drill to its own size.',
        ]
      : []),
    ...without.map((t) => `Board type “${t.name}” states no screw holes: none are drawn for it.`),
  ]
}

const holeTable = (holes: readonly FaceHole[]): string[][] => [
  ['', 'x', 'y', 'size', 'for'],
  ...holes.map((hole) => {
    const { number, xMm, yMm, diameterMm, slot } = hole
    return [
      ...[number, mm(xMm), mm(yMm)],
      slot ? `${mm(diameterMm)} × ${mm(slot.lengthMm)}, ${deg(slot.turnDeg)}` : `Ø ${mm(diameterMm)}`,
      shortened(holeWords(hole)),
    ]
  }),
]

const shortened = (text: string): string => (text.length > 40 ? `${text.slice(0, 39)}…` : text)

function faceStock({ cooling }: Lamp): Stock {
  if (!cooling) return { material: '', thicknessMm: null }
  return { material: METALS[cooling.plate.metal].label, thicknessMm: cooling.plate.thicknessMm }
}
