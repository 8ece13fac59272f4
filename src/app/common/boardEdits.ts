// The plan's edits of boards as pure functions. Boards that don't change stay the same objects.

import { LIMITS } from '../../lamp/limits.ts'
import type { Board, Lamp } from '../../lamp/schema.ts'
import { arrangeOnRing, turnGroup } from '../../layout/arrange.ts'
import { freeBoardIds, readEmitterKey } from './selection.ts'

/** Rounds to a tenth of a micrometre, so that no rounding errors of sums get into a saved lamp. */
export const roundTidyMm = (v: number): number => Math.round(v * 1e4) / 1e4 + 0
const clampMm = (v: number) => Math.max(-LIMITS.lengthMm, Math.min(LIMITS.lengthMm, roundTidyMm(v)))

export function withBoards(lamp: Lamp, ids: readonly string[], change: (b: Board) => Board): Lamp {
  const wanted = new Set(ids)
  let changed = false
  const boards = lamp.boards.map((b) => {
    const next = wanted.has(b.id) ? change(b) : b
    if (next !== b) changed = true
    return next
  })
  return changed ? { ...lamp, boards } : lamp
}

export const shifted = (lamp: Lamp, ids: readonly string[], dxMm: number, dyMm: number): Lamp =>
  dxMm === 0 && dyMm === 0
    ? lamp
    : withBoards(lamp, ids, (b) => ({ ...b, xMm: clampMm(b.xMm + dxMm), yMm: clampMm(b.yMm + dyMm) }))

/** New boards in place of those with the same ids. */
export function replaced(lamp: Lamp, boards: readonly Board[]): Lamp {
  const byId = new Map(boards.map((b) => [b.id, b]))
  return withBoards(lamp, [...byId.keys()], (b) => {
    const next = byId.get(b.id)!
    return next.xMm === b.xMm && next.yMm === b.yMm && next.turnDeg === b.turnDeg
      ? b
      : { ...next, xMm: clampMm(next.xMm), yMm: clampMm(next.yMm) }
  })
}

export function rotatedAbout(lamp: Lamp, ids: readonly string[], byDeg: number, pivotX: number, pivotY: number): Lamp {
  const wanted = new Set(ids)
  return replaced(
    lamp,
    turnGroup(
      lamp.boards.filter((b) => wanted.has(b.id)),
      byDeg,
      pivotX,
      pivotY,
    ),
  )
}

export function withoutBoards(lamp: Lamp, ids: readonly string[]): Lamp {
  const gone = new Set(ids)
  const boards = lamp.boards.filter((b) => !gone.has(b.id))
  return boards.length === lamp.boards.length ? lamp : { ...lamp, boards }
}

const emittersOf = (lamp: Lamp, boards: readonly Board[]): number => {
  const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  return boards.reduce((n, b) => n + (sites.get(b.type) ?? 0), 0)
}

/** Why so many more boards are not allowed, or null. */
export function boardLimitFault(lamp: Lamp, more: readonly Board[]): string | null {
  if (lamp.boards.length + more.length > LIMITS.boards) return `A lamp holds at most ${LIMITS.boards} boards.`
  if (emittersOf(lamp, lamp.boards) + emittersOf(lamp, more) > LIMITS.emitters)
    return `A lamp holds at most ${LIMITS.emitters} emitters.`
  return null
}

/** Adds boards with new ids at the end of the list; the same lamp when they exceed its limits. */
export function withMore(
  lamp: Lamp,
  more: readonly Omit<Board, 'id'>[],
): { lamp: Lamp; ids: string[]; why: string | null } {
  const ids = freeBoardIds(lamp.boards, more.length)
  const fresh = more.map((b, i) => ({ ...b, id: ids[i]!, xMm: clampMm(b.xMm), yMm: clampMm(b.yMm) }))
  const why = boardLimitFault(lamp, fresh)
  return why ? { lamp, ids: [], why } : { lamp: { ...lamp, boards: [...lamp.boards, ...fresh] }, ids, why: null }
}

/** Sets the optic of whole boards, their single emitters included. */
export const withBoardOptic = (lamp: Lamp, ids: readonly string[], optic: string): Lamp =>
  withBoards(lamp, ids, (b) => {
    const { optic: _own, siteOptics: _single, ...rest } = b
    return optic === lamp.optic ? rest : { ...rest, optic }
  })

export function withEmitterOptic(lamp: Lamp, keys: readonly string[], optic: string): Lamp {
  const sites = new Map<string, number[]>()
  for (const key of keys) {
    const { boardId, siteIndex } = readEmitterKey(key)
    sites.set(boardId, [...(sites.get(boardId) ?? []), siteIndex])
  }
  return withBoards(lamp, [...sites.keys()], (b) => {
    const siteOptics: Record<string, string> = { ...b.siteOptics }
    for (const i of sites.get(b.id)!) {
      if (optic === (b.optic ?? lamp.optic)) delete siteOptics[i]
      else siteOptics[i] = optic
    }
    const { siteOptics: _before, ...rest } = b
    return Object.keys(siteOptics).length > 0 ? { ...rest, siteOptics } : rest
  })
}

export const withCurrent = (lamp: Lamp, ids: readonly string[], currentA: number): Lamp =>
  withBoards(lamp, ids, (b) => (b.currentA === currentA ? b : { ...b, currentA }))

export type PoseField = 'xMm' | 'yMm' | 'turnDeg'

/** Sets a coordinate. Several boards move together, so that their middle (or the first one's turn) takes the value. */
export function withPose(lamp: Lamp, ids: readonly string[], field: PoseField, value: number): Lamp {
  const wanted = new Set(ids)
  const chosen = lamp.boards.filter((b) => wanted.has(b.id))
  if (chosen.length === 0) return lamp
  const [x, y] = middleOf(chosen)
  if (field === 'turnDeg') return rotatedAbout(lamp, ids, value - chosen[0]!.turnDeg, x, y)
  return field === 'xMm' ? shifted(lamp, ids, value - x, 0) : shifted(lamp, ids, 0, value - y)
}

/** Middle of the bounding box of the boards' origins. */
export function middleOf(boards: readonly Pick<Board, 'xMm' | 'yMm'>[]): [number, number] {
  const xs = boards.map((b) => b.xMm)
  const ys = boards.map((b) => b.yMm)
  return [roundTidyMm((Math.min(...xs) + Math.max(...xs)) / 2), roundTidyMm((Math.min(...ys) + Math.max(...ys)) / 2)]
}

/** Boards of another lamp may name optics and groups that this one has not. */
export function withoutStrangers(lamp: Lamp, boards: readonly Board[]): Board[] {
  const optics = new Set(lamp.opticTypes.map((o) => o.id))
  const groups = new Set(lamp.power?.groups.map((g) => g.id))
  return boards.map(({ optic, siteOptics, group, ...rest }) => ({
    ...rest,
    ...(optic !== undefined && optics.has(optic) ? { optic } : {}),
    ...(siteOptics && Object.values(siteOptics).every((o) => optics.has(o)) ? { siteOptics } : {}),
    ...(group !== undefined && groups.has(group) ? { group } : {}),
  }))
}

/** On one ring about the axis, of their mean radius, the first of them where it is. */
export function onOneRing(boards: Board[]): Board[] {
  const radii = boards.map((b) => Math.hypot(b.xMm, b.yMm))
  const radiusMm = radii.reduce((a, b) => a + b, 0) / radii.length
  const first = boards.reduce((a, b) => (angle(a) <= angle(b) ? a : b))
  return arrangeOnRing(boards, { radiusMm, fromDeg: angle(first) })
}
const angle = (b: Board) => (((Math.atan2(b.yMm, b.xMm) * 180) / Math.PI + 360.0001) % 360) - 0.0001
