// Hit tests of the plan: what lies under a point or inside a box.

import { lampFromBoard } from '../../../lamp/place.ts'
import type { Board, BoardType, EmitterType, Lamp, OpticType } from '../../../lamp/schema.ts'
import { takenMm } from '../../../layout/clearance.ts'
import { boardOutline, outlineShape } from '../../../layout/outline.ts'
import { gapBetween, type Shape } from '../../../layout/shape.ts'
import { emitterKey } from '../../common/selection.ts'
import type { BoxMm } from './camera.ts'

/** Radius of the circle about a board's origin that holds its outline. */
export function reachOf(outline: BoardType['outline']): number {
  const { core, radiusMm } = outlineShape(outline)
  return Math.max(...core.map(([x, y]) => Math.hypot(x, y))) + radiusMm
}

const holds = (shape: Shape, xMm: number, yMm: number, slackMm: number): boolean =>
  gapBetween(shape, { core: [[xMm, yMm]], radiusMm: 0 }).gapMm <= slackMm

/** The topmost board under a point. Without an exact hit, the nearest board within `slackMm`. */
export function boardAt(lamp: Lamp, xMm: number, yMm: number, slackMm = 0): Board | null {
  const reach = new Map(lamp.boardTypes.map((t) => [t.id, reachOf(t.outline)]))
  let near: Board | null = null
  for (let i = lamp.boards.length - 1; i >= 0; i--) {
    const b = lamp.boards[i]!
    if (Math.hypot(b.xMm - xMm, b.yMm - yMm) > reach.get(b.type)! + slackMm) continue
    const shape = boardOutline(lamp, b)
    if (holds(shape, xMm, yMm, 0)) return b
    if (!near && slackMm > 0 && holds(shape, xMm, yMm, slackMm)) near = b
  }
  return near
}

export interface EmitterHit {
  key: string
  boardId: string
  siteIndex: number
  xMm: number
  yMm: number
  radiusMm: number
}

/** The emitter nearest to a point, within its optic's (or package's) rim. */
export function emitterAt(lamp: Lamp, xMm: number, yMm: number, slackMm = 0): EmitterHit | null {
  let best: EmitterHit | null = null
  let least = Number.POSITIVE_INFINITY
  eachEmitterNear(lamp, xMm, yMm, (hit) => {
    const off = Math.hypot(hit.xMm - xMm, hit.yMm - yMm)
    if (off <= hit.radiusMm + slackMm && off < least) [best, least] = [hit, off]
  })
  return best
}

function eachEmitterNear(lamp: Lamp, xMm: number, yMm: number, meet: (hit: EmitterHit) => void): void {
  const tables = lookUp(lamp)
  for (const b of lamp.boards) {
    const type = tables.types.get(b.type)!
    if (Math.hypot(b.xMm - xMm, b.yMm - yMm) > tables.reach.get(b.type)! + 30) continue
    for (const siteIndex of type.sites.keys()) meet(emitterOn(lamp, tables, b, type, siteIndex))
  }
}

interface Tables {
  types: Map<string, BoardType>
  reach: Map<string, number>
  emitters: Map<string, EmitterType>
  optics: Map<string, OpticType>
}

const lookUp = (lamp: Lamp): Tables => ({
  types: new Map(lamp.boardTypes.map((t) => [t.id, t])),
  reach: new Map(
    lamp.boardTypes.map((t) => [t.id, Math.max(reachOf(t.outline), ...t.sites.map((s) => Math.hypot(s.xMm, s.yMm)))]),
  ),
  emitters: new Map(lamp.emitterTypes.map((e) => [e.id, e])),
  optics: new Map(lamp.opticTypes.map((o) => [o.id, o])),
})

function emitterOn(lamp: Lamp, t: Tables, b: Board, type: BoardType, siteIndex: number): EmitterHit {
  const site = type.sites[siteIndex]!
  const [x, y] = lampFromBoard(b, site.xMm, site.yMm)
  const optic = t.optics.get(b.siteOptics?.[siteIndex] ?? b.optic ?? lamp.optic)!
  const radiusMm = takenMm(t.emitters.get(type.emitter)!, optic) / 2
  return { key: emitterKey(b.id, siteIndex), boardId: b.id, siteIndex, xMm: x, yMm: y, radiusMm }
}

/** One emitter by its board and site; null when there is none such. */
export function emitterOf(lamp: Lamp, boardId: string, siteIndex: number): EmitterHit | null {
  const b = lamp.boards.find((x) => x.id === boardId)
  const tables = lookUp(lamp)
  const type = b && tables.types.get(b.type)
  return b && type?.sites[siteIndex] ? emitterOn(lamp, tables, b, type, siteIndex) : null
}

/** Boards that a box touches, in document order. */
export function boardsIn(lamp: Lamp, box: BoxMm): string[] {
  const shape = boxShape(box)
  const reach = new Map(lamp.boardTypes.map((t) => [t.id, reachOf(t.outline)]))
  return lamp.boards
    .filter((b) => {
      const r = reach.get(b.type)!
      if (b.xMm + r < box.minX || b.xMm - r > box.maxX || b.yMm + r < box.minY || b.yMm - r > box.maxY) return false
      return gapBetween(shape, boardOutline(lamp, b)).gapMm <= 0
    })
    .map((b) => b.id)
}

/** Emitters whose middle lies in a box, in document order. */
export function emittersIn(lamp: Lamp, box: BoxMm): string[] {
  const tables = lookUp(lamp)
  return lamp.boards.flatMap((b) => {
    const r = tables.reach.get(b.type)!
    if (b.xMm + r < box.minX || b.xMm - r > box.maxX || b.yMm + r < box.minY || b.yMm - r > box.maxY) return []
    const type = tables.types.get(b.type)!
    return type.sites.flatMap((site, i) => {
      const [x, y] = lampFromBoard(b, site.xMm, site.yMm)
      const inside = x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY
      return inside ? [emitterKey(b.id, i)] : []
    })
  })
}

const boxShape = (b: BoxMm): Shape =>
  b.minX === b.maxX || b.minY === b.maxY
    ? {
        core: [
          [b.minX, b.minY],
          [b.maxX, b.maxY],
        ],
        radiusMm: 0,
      }
    : {
        core: [
          [b.minX, b.minY],
          [b.maxX, b.minY],
          [b.maxX, b.maxY],
          [b.minX, b.maxY],
        ],
        radiusMm: 0,
      }

/** Bounding box of the boards. */
export function boardsBox(lamp: Lamp, boards: readonly Board[]): BoxMm | null {
  if (boards.length === 0) return null
  const box: BoxMm = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity }
  for (const b of boards) {
    const { core, radiusMm } = boardOutline(lamp, b)
    for (const [x, y] of core) {
      box.minX = Math.min(box.minX, x - radiusMm)
      box.maxX = Math.max(box.maxX, x + radiusMm)
      box.minY = Math.min(box.minY, y - radiusMm)
      box.maxY = Math.max(box.maxY, y + radiusMm)
    }
  }
  return box
}
