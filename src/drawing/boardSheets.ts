// One sheet for each type of board: outline, emitters, screw holes, a star’s notches.
import type { BoardType, Lamp } from '../lamp/schema.ts'
import { biteRadius } from '../layout/outline.ts'
import { distanceToEdges, isInPolygon } from '../num/polygon.ts'
import { boardContour, notchMiddles } from './boardContour.ts'
import { boxOf, circle, cross, label, pointsOf } from './path.ts'
import { deg, MM, mm } from './sizes.ts'
import type { Circle, Item, Made, Path, SheetPlan, Size } from './types.ts'

export const boardPlans = (lamp: Lamp): SheetPlan[] =>
  lamp.boardTypes.map((type) => ({
    name: `board-${type.id}`,
    title: `Board “${type.name}”`,
    draw: () => drawBoard(lamp, type),
  }))

function drawBoard(lamp: Lamp, type: BoardType): Made {
  const contour = boardContour('outline', type.outline)
  const holes = type.holes ?? []
  const fault = findFault(contour, holes)
  if (fault) return { ok: false, why: fault }
  const emitter = lamp.emitterTypes.find((e) => e.id === type.emitter)
  const count = lamp.boards.filter((b) => b.type === type.id).length
  const items: Item[] = [
    contour,
    ...holes.map((h) => circle('hole', [h.xMm, h.yMm], h.diameterMm / 2)),
    ...type.sites.flatMap((s, i) => [
      ...cross('mark', [s.xMm, s.yMm], 3),
      ...(emitter ? [circle('mark', [s.xMm, s.yMm], emitter.bodyMm / 2)] : []),
      label('mark', besideEmitter(s, emitter?.bodyMm ?? 0), `${i + 1}`, { heightMm: 1.6 }),
    ]),
    ...notchItems(type),
  ]
  return {
    ok: true,
    items,
    sizes: [...boardSizes(contour), ...notchSizes(type)],
    notes: [
      `The lamp has ${count} of these. Emitters are counted in the order of the lamp’s file.`,
      ...notchNotes(type),
      ...(holes.length === 0 ? ['Screw holes: none stated.'] : []),
    ],
    stock: { material: '', thicknessMm: null },
    isCut: false,
    restsOn: [],
    table: [
      ['', 'x', 'y', ''],
      ...type.sites.map((s, i) => [
        `${i + 1}`,
        mm(s.xMm),
        mm(s.yMm),
        s.turnDeg ? `turned ${deg(s.turnDeg)}` : 'emitter',
      ]),
      ...holes.map((h, i) => [`H${i + 1}`, mm(h.xMm), mm(h.yMm), `hole Ø ${mm(h.diameterMm)}`]),
    ],
  }
}

/** To the upper right of an emitter, clear of its outline. */
function besideEmitter({ xMm, yMm }: { xMm: number; yMm: number }, bodyMm: number): [number, number] {
  const out = (bodyMm / 2) * Math.SQRT1_2 + 0.4
  return [xMm + out, yMm + out]
}

type Hole = NonNullable<BoardType['holes']>[number]

function findFault(contour: Path | Circle, holes: readonly Hole[]): string | null {
  const points = contour.kind === 'path' ? pointsOf(contour, 0.002) : null
  for (const [i, { xMm, yMm, diameterMm }] of holes.entries()) {
    const inside = points
      ? (isInPolygon(points, xMm, yMm) ? 1 : -1) * distanceToEdges(points, xMm, yMm)
      : contour.kind === 'circle'
        ? contour.radiusMm - Math.hypot(xMm, yMm)
        : 0
    const name = `Hole H${i + 1} (x ${mm(xMm)}, y ${mm(yMm)} ${MM})`
    if (inside <= -diameterMm / 2) return `${name} lies beside the board.`
    if (inside <= diameterMm / 2) return `${name} crosses the board’s edge.`
    const other = holes.findIndex(
      (h, j) => j > i && Math.hypot(h.xMm - xMm, h.yMm - yMm) <= (h.diameterMm + diameterMm) / 2,
    )
    if (other >= 0) return `Holes H${i + 1} and H${other + 1} overlap.`
  }
  return null
}

function boardSizes(contour: Path | Circle): Size[] {
  const { fromX, toX, fromY, toY } = boxOf([contour])
  if (contour.kind === 'circle')
    return [{ kind: 'length', from: [fromX, 0], to: [toX, 0], offsetMm: toY + 8, text: `Ø ${mm(toX - fromX)}` }]
  return [
    { kind: 'length', from: [fromX, toY], to: [toX, toY], offsetMm: 8, text: mm(toX - fromX) },
    { kind: 'length', from: [fromX, fromY], to: [fromX, toY], offsetMm: 8, text: mm(toY - fromY) },
  ]
}

const notchItems = ({ outline }: BoardType): Item[] =>
  outline.shape === 'star' && outline.notchMm > 0 ? notchMiddles(outline).flatMap((p) => cross('mark', p, 2)) : []

function notchSizes({ outline }: BoardType): Size[] {
  if (outline.shape !== 'star' || biteRadius(outline) === 0) return []
  const [first] = notchMiddles(outline)
  if (!first) return []
  const out = 1 + 14 / (outline.acrossMm / 2)
  const within = 1 - biteRadius(outline) / (outline.acrossMm / 2)
  return [
    {
      ...{ kind: 'arrow', at: [first[0] * within, first[1] * within], from: [first[0] * out, first[1] * out] },
      text: `notch R ${mm(biteRadius(outline))}`,
    },
  ]
}

function notchNotes({ outline }: BoardType): string[] {
  if (outline.shape !== 'star' || biteRadius(outline) === 0) return []
  return [
    `Star: ${outline.points} round notches of radius ${mm(biteRadius(outline))} ${MM}, their middles on the edge, on a circle of ${mm(outline.acrossMm)} ${MM}, the first ${deg(180 / outline.points)} from x, then every ${deg(360 / outline.points)}.`,
  ]
}
