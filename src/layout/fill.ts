// Fill a face with boards of one type. Deterministic; reports what did not fit.
import { LIMITS } from '../lamp/limits.ts'
import type { Board, BoardType, Lamp } from '../lamp/schema.ts'
import { forEachNearPair } from '../num/grid.ts'
import { type FillArea, isDisc, makeFillArea, type Pose, SLACK_MM } from './fillArea.ts'
import { chooseLattice, latticeFills } from './lattice.ts'
import { ringFills } from './rings.ts'
import { squeeze } from './squeeze.ts'

/** most: the best of the others, and for up to 61 discs on a round face without obstacles a free arrangement too. */
export type FillPattern = 'hexagonal' | 'square' | 'rings' | 'most'

export interface FillOptions {
  /** Id of one of the lamp's board types. */
  boardType: string
  pattern: FillPattern
  clearanceMm: number
  marginMm: number
  /** As many as fit when absent. */
  wanted?: number | undefined
  currentA: number
  /** 'B' when absent: B1, B2, … */
  idPrefix?: string
  /** Turn of boards and pattern; when absent, a few are tried. */
  turnDeg?: number
  /** Boards that stay where they are; the fill goes around them. */
  keep?: readonly Board[] | undefined
}

export interface FillResult {
  /** The new boards only, centre first. */
  boards: Board[]
  placed: number
  wanted: number | null
  didNotFit: number
  /** What happened, for the builder. */
  words: string
}

export function fillFace(lamp: Lamp, options: FillOptions): FillResult {
  const type = lamp.boardTypes.find((t) => t.id === options.boardType)
  if (!type) throw new Error(`layout: no board type called "${options.boardType}"`)
  const keep = options.keep ?? []
  const area = makeFillArea(lamp, type, options.clearanceMm, options.marginMm, keep)
  const cap = roomInDocument(lamp, type, keep)
  const wanted = options.wanted === undefined ? null : Math.max(0, Math.floor(options.wanted))
  const aim = Math.min(wanted ?? cap, cap)
  const poses = chooseBest(area, type, options, keep.length > 0, aim, cap)
  const boards = nameBoards(poses, options, keep)
  return {
    boards,
    placed: boards.length,
    wanted,
    didNotFit: wanted === null ? 0 : wanted - boards.length,
    words: describeFill(boards.length, wanted, cap, options),
  }
}

/** How many more boards a document may hold. */
function roomInDocument(lamp: Lamp, type: BoardType, keep: readonly Board[]): number {
  const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  const used = keep.reduce((sum, b) => sum + (sites.get(b.type) ?? 0), 0)
  return Math.max(0, Math.min(LIMITS.boards - keep.length, Math.floor((LIMITS.emitters - used) / type.sites.length)))
}

const spread = (p: Pose) => p.xMm * p.xMm + p.yMm * p.yMm

/** Distances a micrometre apart count as the same ring. */
const ringOf = (p: Pose) => Math.round(Math.sqrt(spread(p)) * 1e3)

/** Centre first; on a ring anticlockwise from +x. */
function sortCentreFirst(poses: readonly Pose[]): Pose[] {
  const angle = (p: Pose) => (Math.atan2(p.yMm, p.xMm) + 2 * Math.PI + 1e-9) % (2 * Math.PI)
  return [...poses].sort((a, b) => ringOf(a) - ringOf(b) || angle(a) - angle(b))
}

/** So many of them, inner rings first. Of the last ring, where it isn't full, they are taken all round: on one side they would lean the beam. */
function innermost(sorted: readonly Pose[], aim: number): Pose[] {
  const next = sorted[aim]
  if (!next) return [...sorted]
  const whole = sorted.filter((p) => ringOf(p) < ringOf(next))
  const ring = sorted.filter((p) => ringOf(p) === ringOf(next))
  const rest = aim - whole.length
  return [
    ...whole,
    ...ring.filter((_, i) => Math.floor((i * rest) / ring.length) !== Math.floor(((i - 1) * rest) / ring.length)),
  ]
}

/** Off the axis by less than this, a fill is centred, mm. */
const CENTRED_MM = 1e-3

/**
 * Shifted so that their middle (mean of places) lies on the axis, or as far towards it as face and keep-outs let them: a fill that lies to one
 * side leans the beam.
 */
function centred(area: FillArea, poses: Pose[]): Pose[] {
  const n = Math.max(1, poses.length)
  const dx = poses.reduce((sum, p) => sum + p.xMm, 0) / n
  const dy = poses.reduce((sum, p) => sum + p.yMm, 0) / n
  if (Math.hypot(dx, dy) < CENTRED_MM) return poses
  for (const part of [1, 0.75, 0.5, 0.25]) {
    const moved = poses.map((p) => ({ ...p, xMm: p.xMm - part * dx, yMm: p.yMm - part * dy }))
    if (moved.every(area.fits)) return sortCentreFirst(moved)
  }
  return poses
}

/** Most boards win; of equal counts the one nearest the axis, and of equal ones the first tried (the straightest). */
function chooseBest(
  area: FillArea,
  type: BoardType,
  o: FillOptions,
  obstructed: boolean,
  aim: number,
  cap: number,
): Pose[] {
  let winner: Pose[] = []
  let winnerSpread = Number.POSITIVE_INFINITY
  if (aim === 0) return winner
  for (const poses of candidates(area, type, o, obstructed, aim, cap)) {
    if (poses.length < Math.min(winner.length, aim)) continue
    const nearest = innermost(sortCentreFirst(poses), aim)
    const selected = obstructed ? nearest : centred(area, nearest)
    const spreads = selected.reduce((sum, p) => sum + spread(p), 0)
    if (selected.length === winner.length && spreads >= winnerSpread * (1 - 1e-6)) continue
    winner = selected
    winnerSpread = spreads
  }
  return winner
}

function* candidates(
  area: FillArea,
  type: BoardType,
  o: FillOptions,
  obstructed: boolean,
  aim: number,
  cap: number,
): Generator<Pose[]> {
  let most = 0
  const patterns = o.pattern === 'most' ? (['hexagonal', 'square', 'rings'] as const) : [o.pattern]
  for (const pattern of patterns) {
    const fills =
      pattern === 'rings'
        ? ringFills(area, o.turnDeg ?? 0, cap)
        : latticeFills(area, chooseLattice(pattern, type.outline, o.clearanceMm), o.turnDeg, cap)
    for (const found of fills) {
      const poses = type.outline.shape === 'polygon' ? dropCrowded(area, found) : found
      most = Math.max(most, poses.length)
      yield poses
    }
  }
  const free = isDisc(area.local) && area.face.shape === 'round' && area.face.keepOuts.length === 0 && !obstructed
  if (o.pattern === 'most' && free) yield* squeezeMore(area, most, aim, o.turnDeg ?? 0)
}

/** Lattices and rings compare near neighbours; notches and tips of an outline of its own may reach farther. The first of two too close stays. */
function dropCrowded(area: FillArea, poses: readonly Pose[]): Pose[] {
  const out = new Set<number>()
  forEachNearPair(
    poses.map((p) => area.box(p)),
    area.clearanceMm,
    (i, j) => {
      if (!out.has(i) && !out.has(j) && area.gap(poses[i]!, poses[j]!) < area.clearanceMm - SLACK_MM) out.add(j)
    },
  )
  return poses.filter((_, i) => !out.has(i))
}

const SQUEEZE_MOST = 61
const SQUEEZE_STARTS = 30
const SEED = 1

/** One disc more, and one more, until they jam. */
function* squeezeMore(area: FillArea, from: number, aim: number, turnDeg: number): Generator<Pose[]> {
  const pitch = 2 * area.local.radiusMm + area.clearanceMm
  const radius = (area.face.sizeMm / 2 - area.marginMm - area.local.radiusMm) / pitch
  if (radius < 0) return
  for (let n = Math.max(from + 1, 2); n <= Math.min(SQUEEZE_MOST, aim); n++) {
    const places = squeeze(n, radius, SQUEEZE_STARTS, SEED)
    if (!places) return
    yield places.map(([x, y]) => ({ xMm: x * pitch, yMm: y * pitch, turnDeg }))
  }
}

function nameBoards(poses: readonly Pose[], o: FillOptions, keep: readonly Board[]): Board[] {
  const used = new Set(keep.map((b) => b.id))
  const tidy = (v: number) => Math.round(v * 1e4) / 1e4 + 0
  let next = 1
  return poses.map((p) => {
    while (used.has(`${o.idPrefix ?? 'B'}${next}`)) next++
    const turnDeg = tidy(((((p.turnDeg + 180) % 360) + 360) % 360) - 180)
    return {
      id: `${o.idPrefix ?? 'B'}${next++}`,
      type: o.boardType,
      xMm: tidy(p.xMm),
      yMm: tidy(p.yMm),
      turnDeg,
      currentA: o.currentA,
    }
  })
}

function describeFill(placed: number, wanted: number | null, cap: number, o: FillOptions): string {
  const boards = (n: number) => (n === 1 ? '1 board' : `${n} boards`)
  const with_ = `with ${o.clearanceMm} mm between boards and ${o.marginMm} mm to the edge`
  const limited = placed === cap && (wanted === null || wanted > cap) ? ' That is as many as one lamp may hold.' : ''
  if (wanted === null) return `${boards(placed)} placed, the most found in this pattern, ${with_}.${limited}`
  if (placed === wanted) return `All ${boards(wanted)} placed, ${with_}.`
  return `${placed} of ${boards(wanted)} placed, ${with_}. ${boards(wanted - placed)} did not fit.${limited}`
}
