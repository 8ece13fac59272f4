// Snapping of a dragged board: lines and circles that its centre may lie on, and the choice among them. Each constraint carries its
// reason, because a board that jumps for no stated reason looks like a bug.

import type { BoardType } from '../../../lamp/schema.ts'
import { outlineShape } from '../../../layout/outline.ts'
import { sizeText } from '../../../num/quantity.ts'
import { reachOf } from './hit.ts'

export interface SnapShape {
  id: string
  xMm: number
  yMm: number
  turnDeg: number
  outline: BoardType['outline']
}

export type SnapConstraint =
  /** nx·x + ny·y = at */
  | { kind: 'line'; nx: number; ny: number; at: number; rank: number; why: string; from: string | null }
  | { kind: 'circle'; xMm: number; yMm: number; radiusMm: number; rank: number; why: string; from: string | null }

export interface SnapOptions {
  reachMm: number
  gridMm: number | null
  neighbours: boolean
  rings: boolean
  clearanceMm: number
}

export interface Snapped {
  xMm: number
  yMm: number
  /** The active constraints, for the guides and their text. */
  constraints: SnapConstraint[]
}

/** A neighbour at clearance has priority over a shared row, a row over a ring, a ring over the grid. */
const RANK = { neighbour: 0, row: 1, ring: 1.5 }
const SAME_DEG = 0.05
/** Number of nearest constraints that are tried in pairs. */
const TRIED = 14

/** Snaps the centre of `moving`, which lies where the pointer put it. */
export function snapBoard(moving: SnapShape, others: readonly SnapShape[], options: SnapOptions): Snapped {
  const constraints = constraintsFor(moving, others, options)
  return solveSnap(moving.xMm, moving.yMm, constraints, options.reachMm, options.gridMm)
}

/** The best meeting or foot of the constraints within reach of a point, or the grid. */
export function solveSnap(
  xMm: number,
  yMm: number,
  constraints: readonly SnapConstraint[],
  reachMm: number,
  gridMm: number | null,
): Snapped {
  const near = constraints
    .map((constraint) => ({ constraint, off: offBy(constraint, xMm, yMm) }))
    .filter((n) => n.off <= reachMm)
    .sort((a, b) => a.constraint.rank - b.constraint.rank || a.off - b.off)
    .slice(0, TRIED)
    .map((n) => n.constraint)
  let best: Snapped | null = null
  let bestScore = Number.POSITIVE_INFINITY
  const offer = (x: number, y: number, active: SnapConstraint[]) => {
    const far = Math.hypot(x - xMm, y - yMm)
    if (!(far <= reachMm * 1.5)) return
    // A point fixed by two constraints is preferred: with one, the board still slides.
    const score = far / reachMm + Math.min(...active.map((l) => l.rank)) + (active.length > 1 ? 0 : 1.2)
    if (score < bestScore - 1e-9) {
      bestScore = score
      best = { xMm: x, yMm: y, constraints: active }
    }
  }
  for (const [i, a] of near.entries()) {
    const [px, py] = foot(a, xMm, yMm)
    offer(px, py, [a])
    for (const b of near.slice(i + 1)) for (const [x, y] of meetings(a, b)) offer(x, y, [a, b])
  }
  return best ? alsoOnGrid(best, gridMm) : onGrid(xMm, yMm, gridMm)
}

function onGrid(xMm: number, yMm: number, gridMm: number | null): Snapped {
  if (!gridMm) return { xMm, yMm, constraints: [] }
  const at = (v: number) => Math.round(v / gridMm) * gridMm
  return { xMm: at(xMm), yMm: at(yMm), constraints: [] }
}

/** A board constrained along x alone still snaps to the grid along y, and the other way round. */
function alsoOnGrid(s: Snapped, gridMm: number | null): Snapped {
  const only = s.constraints.length === 1 ? s.constraints[0]! : null
  if (!gridMm || only?.kind !== 'line') return s
  const grid = onGrid(s.xMm, s.yMm, gridMm)
  if (Math.abs(only.ny) < 1e-9) return { ...s, yMm: grid.yMm }
  if (Math.abs(only.nx) < 1e-9) return { ...s, xMm: grid.xMm }
  return s
}

const offBy = (constraint: SnapConstraint, x: number, y: number): number =>
  constraint.kind === 'line'
    ? Math.abs(constraint.nx * x + constraint.ny * y - constraint.at)
    : Math.abs(Math.hypot(x - constraint.xMm, y - constraint.yMm) - constraint.radiusMm)

function foot(constraint: SnapConstraint, x: number, y: number): [number, number] {
  if (constraint.kind === 'line') {
    const d = constraint.nx * x + constraint.ny * y - constraint.at
    return [x - d * constraint.nx, y - d * constraint.ny]
  }
  const [dx, dy] = [x - constraint.xMm, y - constraint.yMm]
  const far = Math.hypot(dx, dy)
  if (constraint.radiusMm === 0) return [constraint.xMm, constraint.yMm]
  const k = far > 0 ? constraint.radiusMm / far : 0
  return far > 0
    ? [constraint.xMm + dx * k, constraint.yMm + dy * k]
    : [constraint.xMm + constraint.radiusMm, constraint.yMm]
}

function meetings(a: SnapConstraint, b: SnapConstraint): [number, number][] {
  if (a.kind === 'line' && b.kind === 'line') {
    const det = a.nx * b.ny - a.ny * b.nx
    if (Math.abs(det) < 1e-3) return []
    return [[(a.at * b.ny - b.at * a.ny) / det, (a.nx * b.at - b.nx * a.at) / det]]
  }
  if (a.kind === 'circle' && b.kind === 'circle') {
    const [dx, dy] = [b.xMm - a.xMm, b.yMm - a.yMm]
    const d = Math.hypot(dx, dy)
    if (d < 1e-9) return []
    const along = (d * d + a.radiusMm ** 2 - b.radiusMm ** 2) / (2 * d)
    return both(a.xMm + (along * dx) / d, a.yMm + (along * dy) / d, -dy / d, dx / d, a.radiusMm ** 2 - along ** 2)
  }
  const line = a.kind === 'line' ? a : (b as Extract<SnapConstraint, { kind: 'line' }>)
  const circle = a.kind === 'circle' ? a : (b as Extract<SnapConstraint, { kind: 'circle' }>)
  const d = line.at - (line.nx * circle.xMm + line.ny * circle.yMm)
  const [mx, my] = [circle.xMm + d * line.nx, circle.yMm + d * line.ny]
  return both(mx, my, -line.ny, line.nx, circle.radiusMm ** 2 - d * d)
}

function both(mx: number, my: number, ux: number, uy: number, square: number): [number, number][] {
  if (square < -1e-9) return []
  const h = Math.sqrt(Math.max(0, square))
  return h === 0
    ? [[mx, my]]
    : [
        [mx + h * ux, my + h * uy],
        [mx - h * ux, my - h * uy],
      ]
}

function constraintsFor(moving: SnapShape, others: readonly SnapShape[], o: SnapOptions): SnapConstraint[] {
  const constraints: SnapConstraint[] = []
  const own = reachOf(moving.outline)
  if (o.neighbours) {
    for (const other of others) {
      const far = Math.hypot(other.xMm - moving.xMm, other.yMm - moving.yMm)
      if (far < own + reachOf(other.outline) + o.clearanceMm + 2 * o.reachMm)
        constraints.push(...touching(moving, other, o))
    }
    constraints.push(...rows(moving, others, o.reachMm))
  }
  if (o.rings) constraints.push(...rings(moving, others, o.reachMm))
  return constraints
}

/** The nearest other board that shares a row, and the nearest that shares a column. */
function rows(moving: SnapShape, others: readonly SnapShape[], reachMm: number): SnapConstraint[] {
  const best = (axis: 'xMm' | 'yMm'): SnapShape | null => {
    let found: SnapShape | null = null
    let score = Number.POSITIVE_INFINITY
    for (const b of others) {
      const off = Math.abs(b[axis] - moving[axis])
      if (off > reachMm) continue
      const s = off * 1e4 + Math.hypot(b.xMm - moving.xMm, b.yMm - moving.yMm)
      if (s < score) [found, score] = [b, s]
    }
    return found
  }
  const column = best('xMm')
  const row = best('yMm')
  const constraints: SnapConstraint[] = []
  const rank = RANK.row
  if (column) {
    const why = `in a column with ${column.id}`
    constraints.push({ kind: 'line', nx: 1, ny: 0, at: column.xMm, rank, why, from: column.id })
  }
  if (row)
    constraints.push({ kind: 'line', nx: 0, ny: 1, at: row.yMm, rank, why: `in a row with ${row.id}`, from: row.id })
  return constraints
}

/** Rings about the lamp axis that already carry boards, and the axis itself. */
function rings(moving: SnapShape, others: readonly SnapShape[], reachMm: number): SnapConstraint[] {
  const r = Math.hypot(moving.xMm, moving.yMm)
  const constraints: SnapConstraint[] = []
  if (r <= reachMm)
    constraints.push({ kind: 'circle', xMm: 0, yMm: 0, radiusMm: 0, rank: 0.4, why: 'on the lamp axis', from: null })
  let best: number | null = null
  for (const b of others) {
    const ring = Math.hypot(b.xMm, b.yMm)
    if (ring > 1e-6 && Math.abs(ring - r) <= reachMm && (best === null || Math.abs(ring - r) < Math.abs(best - r)))
      best = ring
  }
  if (best !== null) {
    const why = `on the ring of ${mmText(best)} radius`
    constraints.push({ kind: 'circle', xMm: 0, yMm: 0, radiusMm: best, rank: RANK.ring, why, from: null })
  }
  return constraints
}

interface Flat {
  deg: number
  half: number
  halfWidth: number
}

function touching(moving: SnapShape, other: SnapShape, o: SnapOptions): SnapConstraint[] {
  const why = `${mmText(o.clearanceMm)} from ${other.id}`
  const rank = RANK.neighbour
  const from = other.id
  const a = flatsOf(other)
  const b = flatsOf(moving)
  if (!a && !b) {
    const radiusMm = reachOf(moving.outline) + reachOf(other.outline) + o.clearanceMm
    return [{ kind: 'circle', xMm: other.xMm, yMm: other.yMm, radiusMm, rank, why, from }]
  }
  const constraints: SnapConstraint[] = []
  // Against a flat of the other board: outward normal n. Against a flat of the moving one: its normal reversed.
  const against = (deg: number, gap: number, halfWidth: number) => {
    const [nx, ny] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)]
    const [dx, dy] = [moving.xMm - other.xMm, moving.yMm - other.yMm]
    if (nx * dx + ny * dy <= 0 || Math.abs(nx * dy - ny * dx) > halfWidth) return
    const at = nx * other.xMm + ny * other.yMm + gap + o.clearanceMm
    constraints.push({ kind: 'line', nx, ny, at, rank, why, from })
  }
  if (a && b) {
    for (const f of a)
      for (const g of b)
        if (Math.abs(((((g.deg - f.deg - 180) % 360) + 540) % 360) - 180) < SAME_DEG)
          against(f.deg, f.half + g.half, f.halfWidth + g.halfWidth)
  } else if (a) for (const f of a) against(f.deg, f.half + reachOf(moving.outline), f.halfWidth)
  else if (b) for (const g of b) against(g.deg + 180, g.half + reachOf(other.outline), g.halfWidth)
  return constraints
}

const MOST_FLATS = 12

/** The straight sides of an outline: outward direction, distance from the board's origin, half length. Null when it is round. */
function flatsOf(s: SnapShape): Flat[] | null {
  const { core } = outlineShape(s.outline)
  if (core.length < 3) return null
  const flats = core.map(([x0, y0], i) => {
    const [x1, y1] = core[(i + 1) % core.length]!
    const long = Math.hypot(x1 - x0, y1 - y0)
    const [nx, ny] = [(y1 - y0) / long, (x0 - x1) / long]
    return {
      deg: (Math.atan2(ny, nx) * 180) / Math.PI + s.turnDeg,
      half: nx * x0 + ny * y0,
      halfWidth: long / 2,
    }
  })
  // An outline of its own may have hundreds of short sides: the long ones are worth a snap.
  return flats.length <= MOST_FLATS ? flats : flats.sort((a, b) => b.halfWidth - a.halfWidth).slice(0, MOST_FLATS)
}

/** In both systems of units. */
const mmText = (v: number) => sizeText(String(Math.round(v * 100) / 100), v, 3)
