// Where copies of boards go: clear of everything that is there, as near as there is room.
import type { Board, Lamp } from '../lamp/schema.ts'
import type { Box } from '../num/grid.ts'
import { makeFillArea } from './fillArea.ts'
import { boardOutline } from './outline.ts'
import { shapeBox } from './shape.ts'

/** Steps of the search, of the selection's own size: whole sizes first, then in between. */
const FINE = 8

export interface ClearShift {
  dxMm: number
  dyMm: number
  /** Whether nothing is overlapped and the face's margin is kept. */
  isClear: boolean
}

/**
 * The shortest shift, mm, by which copies of `boards` keep the face's clearance and margin: to the right or down where two are as short. Without room
 * on the face they go past their originals, to the right. `lamp` holds what they must keep clear of.
 */
export function clearShift(lamp: Lamp, boards: readonly Board[]): ClearShift {
  const { clearanceMm, marginMm } = lamp.face
  const box = boxOf(lamp, boards)
  const [wide, high] = [box.toX - box.fromX + clearanceMm, box.toY - box.fromY + clearanceMm]
  const areas = new Map(
    lamp.boardTypes
      .filter((t) => boards.some((b) => b.type === t.id))
      .map((t) => [t.id, makeFillArea(lamp, t, clearanceMm, marginMm, lamp.boards)]),
  )
  const isFree = (dxMm: number, dyMm: number) =>
    boards.every((b) => areas.get(b.type)?.fits({ xMm: b.xMm + dxMm, yMm: b.yMm + dyMm, turnDeg: b.turnDeg }))
  for (const [dxMm, dyMm] of shiftsOf(lamp, wide, high)) if (isFree(dxMm, dyMm)) return { dxMm, dyMm, isClear: true }
  return { dxMm: wide, dyMm: 0, isClear: false }
}

function shiftsOf({ face }: Lamp, wide: number, high: number): [number, number][] {
  const reach = 2 * Math.max(face.sizeMm, face.heightMm ?? 0, ...(face.corners ?? []).map(([x, y]) => Math.hypot(x, y)))
  // No finer than a few thousand places in all.
  const step = Math.max(Math.min(wide, high) / FINE, reach / 64)
  const along = (size: number) => {
    const coarse = Array.from(
      { length: 2 * Math.ceil(reach / size) + 1 },
      (_, i) => (i - Math.ceil(reach / size)) * size,
    )
    const fine = Array.from({ length: 2 * Math.ceil(reach / step) + 1 }, (_, i) => (i - Math.ceil(reach / step)) * step)
    return [...new Set([...coarse, ...fine])].filter((d) => Math.abs(d) <= reach)
  }
  // Of equal lengths to the right first, then down.
  const rank = ([x, y]: readonly [number, number]) => Math.hypot(x, y) - 1e-6 * x + 1e-7 * y
  return along(wide)
    .flatMap((x) => along(high).map((y): [number, number] => [x, y]))
    .filter(([x, y]) => x !== 0 || y !== 0)
    .sort((a, b) => rank(a) - rank(b))
}

function boxOf(lamp: Lamp, boards: readonly Board[]): Box {
  const boxes = boards.map((b) => shapeBox(boardOutline(lamp, b)))
  return {
    fromX: Math.min(...boxes.map((b) => b.fromX)),
    fromY: Math.min(...boxes.map((b) => b.fromY)),
    toX: Math.max(...boxes.map((b) => b.toX)),
    toY: Math.max(...boxes.map((b) => b.toY)),
  }
}
