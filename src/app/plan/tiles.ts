// The lamp's boards and emitters as a few large paths in mm, cut into tiles, so that what is out of view costs nothing.

import { faceWidestMm } from '../../lamp/facePlate.ts'
import { lampFromBoard } from '../../lamp/place.ts'
import type { Board, BoardType, EmitterType, KeepOut, Lamp, OpticType } from '../../lamp/schema.ts'
import { keepOutShape, outlinePath } from '../../layout/outline.ts'
import type { BoxMm } from './model/camera.ts'
import { reachOf } from './model/hit.ts'
import { type MarkShape, markDiameterMm, type OpticMark, opticMarks } from './model/marks.ts'

export interface PlanTile {
  box: BoxMm
  outlines: Path2D
  /** Emitting areas, true to size. */
  dies: Path2D
  /** Discs of the emitters with one optic (or package), and their mark. */
  optics: { mark: OpticMark; discs: Path2D; marks: Path2D; radiusMm: number }[]
}

const TILES_ACROSS = 6

interface Cell {
  boards: Board[]
  tile: PlanTile
}

/** What tiles depend on besides boards: when any of these changes, every tile is rebuilt. */
const madeOf = (lamp: Lamp) => [
  lamp.boardTypes,
  lamp.emitterTypes,
  lamp.opticTypes,
  lamp.optic,
  faceWidestMm(lamp.face),
]

/** Caches tiles from one lamp to the next: an edit of a few boards rebuilds only their tiles. */
export function createTileCache(): (lamp: Lamp, boards: readonly Board[]) => PlanTile[] {
  let from: unknown[] = []
  let cached = new Map<string, Cell>()
  return (lamp, boards) => {
    const now = madeOf(lamp)
    if (now.some((part, i) => part !== from[i])) cached = new Map()
    from = now
    const next = new Map<string, Cell>()
    let draw: ((boards: readonly Board[]) => PlanTile) | null = null
    for (const [key, cell] of cellsOf(lamp, boards)) {
      const old = cached.get(key)
      const same = old?.boards.length === cell.length && cell.every((b, i) => b === old.boards[i])
      draw ??= createTileBuilder(lamp)
      next.set(key, same ? old : { boards: cell, tile: draw(cell) })
    }
    cached = next
    return [...next.values()].map((c) => c.tile)
  }
}

export const planTiles = (lamp: Lamp, boards: readonly Board[]): PlanTile[] => createTileCache()(lamp, boards)

function cellsOf(lamp: Lamp, boards: readonly Board[]): Map<string, Board[]> {
  const cells = new Map<string, Board[]>()
  const side = Math.max(60, faceWidestMm(lamp.face) / TILES_ACROSS)
  for (const b of boards) {
    const key = `${Math.floor(b.xMm / side)} ${Math.floor(b.yMm / side)}`
    const cell = cells.get(key)
    if (cell) cell.push(b)
    else cells.set(key, [b])
  }
  return cells
}

/** The paths of one board in its own frame. Boards alike reuse them with a transform, at a tenth of the cost of new paths. */
interface BoardPaths {
  outline: Path2D
  dies: Path2D
  layers: PlanTile['optics']
}

const SYMMETRIC: readonly MarkShape[] = ['ring', 'core']
const HOME = { xMm: 0, yMm: 0, turnDeg: 0 }

function createTileBuilder(lamp: Lamp) {
  const types = new Map(lamp.boardTypes.map((t) => [t.id, t]))
  const emitters = new Map(lamp.emitterTypes.map((e) => [e.id, e]))
  const optics = new Map(lamp.opticTypes.map((o) => [o.id, o]))
  const marks = new Map(opticMarks(lamp).map((m) => [m.id, m]))
  const pathsByType = new Map<string, BoardPaths>()

  /** Marks stand upright however a board is turned. */
  function createBoardPaths(b: Board, type: BoardType): BoardPaths {
    const stamp: BoardPaths = { outline: new Path2D(), dies: new Path2D(), layers: [] }
    addOutline(stamp.outline, type.outline, HOME)
    for (const { xMm, yMm, diameterMm } of type.holes ?? []) addHole(stamp.outline, xMm, yMm, diameterMm / 2)
    const emitter = emitters.get(type.emitter)!
    for (const [i, site] of type.sites.entries()) {
      const optic = optics.get(b.siteOptics?.[i] ?? b.optic ?? lamp.optic)!
      const radiusMm = markDiameterMm(optic, emitter) / 2
      const layer = layerOf(stamp.layers, marks.get(optic.id)!, radiusMm)
      addDisc(layer.discs, site.xMm, site.yMm, radiusMm)
      const own = new Path2D()
      addMark(own, layer.mark.shape, 0, 0, radiusMm)
      layer.marks.addPath(own, placed({ xMm: site.xMm, yMm: site.yMm, turnDeg: -b.turnDeg }))
      addDie(stamp.dies, emitter, optic, site.xMm, site.yMm, site.turnDeg ?? 0)
    }
    return stamp
  }

  function stampOf(b: Board): BoardPaths {
    const type = types.get(b.type)!
    const optic = b.optic ?? lamp.optic
    const upright = b.siteOptics !== undefined || !SYMMETRIC.includes(marks.get(optic)!.shape)
    const key = `${b.type} ${optic} ${b.siteOptics ? JSON.stringify(b.siteOptics) : ''} ${upright ? b.turnDeg : 0}`
    let stamp = pathsByType.get(key)
    if (!stamp) {
      stamp = createBoardPaths(b, type)
      pathsByType.set(key, stamp)
    }
    return stamp
  }

  return (boards: readonly Board[]): PlanTile => {
    const tile: PlanTile = { box: reachBox(boards, types), outlines: new Path2D(), dies: new Path2D(), optics: [] }
    for (const b of boards) {
      const stamp = stampOf(b)
      const at = placed(b)
      tile.outlines.addPath(stamp.outline, at)
      tile.dies.addPath(stamp.dies, at)
      for (const { mark, discs, marks: drawn, radiusMm } of stamp.layers) {
        const layer = layerOf(tile.optics, mark, radiusMm)
        layer.discs.addPath(discs, at)
        layer.marks.addPath(drawn, at)
      }
    }
    return tile
  }
}

function layerOf(layers: PlanTile['optics'], mark: OpticMark, radiusMm: number): PlanTile['optics'][number] {
  let layer = layers.find((l) => l.mark === mark && l.radiusMm === radiusMm)
  if (!layer) {
    layer = { mark, discs: new Path2D(), marks: new Path2D(), radiusMm }
    layers.push(layer)
  }
  return layer
}

/** From a board's own frame to the lamp's (lampFromBoard), as a path takes it; a tilted board looks narrower from the front. */
function placed(at: Pose): DOMMatrix2DInit {
  const [e, f] = [at.xMm, at.yMm]
  const [x, y] = [lampFromBoard(at, 1, 0), lampFromBoard(at, 0, 1)]
  return { a: x[0] - e, b: x[1] - f, c: y[0] - e, d: y[1] - f, e, f }
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

type Pose = Pick<Board, 'xMm' | 'yMm' | 'turnDeg' | 'wedge'>

export function addOutline(path: Path2D, outline: BoardType['outline'], at: Pose): void {
  if (outline.shape === 'disc' && !at.wedge) {
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

const polygon = (sides: number, radius: number, from: number): [number, number][] =>
  Array.from({ length: sides }, (_, i) => {
    const a = from + (i * 2 * Math.PI) / sides
    return [radius * Math.cos(a), radius * Math.sin(a)]
  })

export function addDisc(path: Path2D, x: number, y: number, r: number): void {
  path.moveTo(x + r, y)
  path.arc(x, y, r, 0, 2 * Math.PI)
  path.closePath()
}

/** The other way round than an outline, so that the fill leaves it open. */
function addHole(path: Path2D, x: number, y: number, r: number): void {
  path.moveTo(x + r, y)
  path.arc(x, y, r, 0, 2 * Math.PI, true)
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

/** Marks are closed, filled shapes; the radius is that of the optic or the package. */
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
