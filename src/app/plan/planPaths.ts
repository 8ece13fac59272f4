// The lamp's boards and emitters as a few big paths in mm, cut into tiles so that what is out of sight costs nothing.

import { lampFromBoard } from '../../lamp/place.ts'
import type { Board, BoardType, EmitterType, KeepOut, Lamp, OpticType } from '../../lamp/schema.ts'
import { keepOutShape, outlinePath } from '../../layout/outline.ts'
import type { BoxMm } from '../measure/planCamera.ts'
import { reachOf } from '../measure/planHit.ts'
import { type MarkShape, markDiameterMm, type OpticMark, opticMarks } from '../measure/planMarks.ts'

export interface PlanTile {
  box: BoxMm
  outlines: Path2D
  /** Emitting areas, true to size. */
  dies: Path2D
  /** What stands on the face for the emitters of one optic, and its mark. */
  optics: { mark: OpticMark; discs: Path2D; marks: Path2D; radiusMm: number }[]
}

const TILES_ACROSS = 6

export function planTiles(lamp: Lamp, boards: readonly Board[]): PlanTile[] {
  if (boards.length === 0) return []
  const types = new Map(lamp.boardTypes.map((t) => [t.id, t]))
  const cells = new Map<string, Board[]>()
  const side = Math.max(60, (2 * lamp.face.sizeMm) / TILES_ACROSS / 2)
  for (const b of boards) {
    const key = `${Math.floor(b.xMm / side)} ${Math.floor(b.yMm / side)}`
    const cell = cells.get(key)
    if (cell) cell.push(b)
    else cells.set(key, [b])
  }
  const draw = tileDrawer(lamp, types)
  return [...cells.values()].map(draw)
}

function tileDrawer(lamp: Lamp, types: Map<string, BoardType>) {
  const emitters = new Map(lamp.emitterTypes.map((e) => [e.id, e]))
  const optics = new Map(lamp.opticTypes.map((o) => [o.id, o]))
  const marks = new Map(opticMarks(lamp).map((m) => [m.id, m]))
  return (boards: readonly Board[]): PlanTile => {
    const tile: PlanTile = { box: reachBox(boards, types), outlines: new Path2D(), dies: new Path2D(), optics: [] }
    const layers = new Map<string, PlanTile['optics'][number]>()
    for (const b of boards) {
      const type = types.get(b.type)!
      addOutline(tile.outlines, type.outline, b)
      const emitter = emitters.get(type.emitter)!
      for (const [i, site] of type.sites.entries()) {
        const optic = optics.get(b.siteOptics?.[i] ?? b.optic ?? lamp.optic)!
        const [x, y] = lampFromBoard(b, site.xMm, site.yMm)
        const radiusMm = markDiameterMm(optic, emitter) / 2
        const key = `${optic.id} ${radiusMm}`
        let layer = layers.get(key)
        if (!layer) {
          layer = { mark: marks.get(optic.id)!, discs: new Path2D(), marks: new Path2D(), radiusMm }
          layers.set(key, layer)
          tile.optics.push(layer)
        }
        addDisc(layer.discs, x, y, radiusMm)
        addMark(layer.marks, layer.mark.shape, x, y, radiusMm)
        addDie(tile.dies, emitter, optic, x, y, b.turnDeg + (site.turnDeg ?? 0))
      }
    }
    return tile
  }
}

function reachBox(boards: readonly Board[], types: Map<string, BoardType>): BoxMm {
  const box: BoxMm = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity }
  for (const b of boards) {
    const type = types.get(b.type)!
    const far = Math.max(reachOf(type.outline), ...type.sites.map((s) => Math.hypot(s.xMm, s.yMm))) + 5
    box.minX = Math.min(box.minX, b.xMm - far)
    box.maxX = Math.max(box.maxX, b.xMm + far)
    box.minY = Math.min(box.minY, b.yMm - far)
    box.maxY = Math.max(box.maxY, b.yMm + far)
  }
  return box
}

type Pose = Pick<Board, 'xMm' | 'yMm' | 'turnDeg'>

export function addOutline(path: Path2D, outline: BoardType['outline'], at: Pose): void {
  if (outline.shape === 'disc') {
    addDisc(path, at.xMm, at.yMm, outline.diameterMm / 2)
    return
  }
  addPolygon(
    path,
    outlinePath(outline).map(([x, y]) => lampFromBoard(at, x, y)),
  )
}

export function addPolygon(path: Path2D, corners: readonly (readonly [number, number])[]): void {
  for (const [i, [x, y]] of corners.entries()) {
    if (i === 0) path.moveTo(x, y)
    else path.lineTo(x, y)
  }
  path.closePath()
}

export const rectangle = (w: number, h: number): [number, number][] => [
  [-w / 2, -h / 2],
  [w / 2, -h / 2],
  [w / 2, h / 2],
  [-w / 2, h / 2],
]

export const polygon = (sides: number, radius: number, from: number): [number, number][] =>
  Array.from({ length: sides }, (_, i) => {
    const a = from + (i * 2 * Math.PI) / sides
    return [radius * Math.cos(a), radius * Math.sin(a)]
  })

export function addDisc(path: Path2D, x: number, y: number, r: number): void {
  path.moveTo(x + r, y)
  path.arc(x, y, r, 0, 2 * Math.PI)
  path.closePath()
}

export function addKeepOut(path: Path2D, k: KeepOut): void {
  const { core, radiusMm } = keepOutShape(k)
  const [from, to] = [core[0]!, core[core.length - 1]!]
  if (core.length === 1) {
    addDisc(path, from[0], from[1], radiusMm)
    return
  }
  const along = Math.atan2(to[1] - from[1], to[0] - from[0])
  path.moveTo(to[0] + radiusMm * Math.sin(along), to[1] - radiusMm * Math.cos(along))
  path.arc(to[0], to[1], radiusMm, along - Math.PI / 2, along + Math.PI / 2)
  path.arc(from[0], from[1], radiusMm, along + Math.PI / 2, along + (3 * Math.PI) / 2)
  path.closePath()
}

function addDie(path: Path2D, e: EmitterType, optic: OpticType, x: number, y: number, turnDeg: number): void {
  const [dx, dy] = optic.kind === 'reflector' ? [optic.shiftXMm, optic.shiftYMm] : [0, 0]
  const at = { xMm: x, yMm: y, turnDeg }
  if (e.source.shape === 'disc') {
    const [cx, cy] = lampFromBoard(at, dx, dy)
    addDisc(path, cx, cy, e.source.diameterMm / 2)
    return
  }
  addPolygon(
    path,
    rectangle(e.source.widthMm, e.source.heightMm).map(([px, py]) => lampFromBoard(at, px + dx, py + dy)),
  )
}

/** Marks are closed shapes, filled; `u` is the radius of what stands on the face. */
export function addMark(path: Path2D, shape: MarkShape, x: number, y: number, radius: number): void {
  const u = radius * 0.72
  const at = (corners: readonly (readonly [number, number])[]) =>
    addPolygon(
      path,
      corners.map(([px, py]) => [x + u * px, y + u * py] as const),
    )
  switch (shape) {
    case 'ring':
      addDisc(path, x, y, u * 0.92)
      path.moveTo(x + u * 0.7, y)
      path.arc(x, y, u * 0.7, 0, 2 * Math.PI, true)
      path.closePath()
      break
    case 'core':
      addDisc(path, x, y, u * 0.5)
      break
    case 'bar':
      at(rectangle(1.8, 0.4))
      break
    case 'corner':
      at(polygon(3, 0.85, Math.PI / 2))
      break
    case 'slab':
      at(rectangle(1.15, 1.15))
      break
    case 'gem':
      at(polygon(4, 0.9, 0))
      break
    case 'cross':
      at(rectangle(1.8, 0.36))
      at(rectangle(0.36, 1.8))
      break
    case 'halves':
      path.moveTo(x + u * 0.9, y)
      path.arc(x, y, u * 0.9, 0, Math.PI)
      path.closePath()
      break
  }
}
