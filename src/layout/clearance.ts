// What is wrong with a layout as a drawing: boards that overlap, come too close, hang over the edge or cover a keep-out,
// emitters beside their board, and optics that run into each other.
import { startZMm } from '../lamp/front.ts'
import { type EmitterPlace, lampFromBoard, placeEmitters, spaceFromEmitter } from '../lamp/place.ts'
import type { EmitterType, Lamp, OpticType } from '../lamp/schema.ts'
import { type Box, forEachNearPair } from '../num/grid.ts'
import { boardOutline, edgeGap, keepOutShape, outlineShape } from './outline.ts'
import { type Gap, gapBetween, type Shape, shapeBox } from './shape.ts'

/** Nobody places a board to a thousandth of a millimetre: less than this is no fault, and documents round to a tenth of it. */
export const TOLERANCE_MM = 1e-3

export type LayoutFaultKind =
  | 'overlap'
  | 'clearance'
  | 'overhang'
  | 'margin'
  | 'keepOut'
  | 'emitterOff'
  | 'opticsOverlap'

export interface LayoutFault {
  kind: LayoutFaultKind
  /** Indexes into the lamp's boards, lower first; one when the other party is the face, a keep-out or the board itself. */
  boards: number[]
  gapMm: number
  /** The least gap that would do. */
  wantedMm: number
  xMm: number
  yMm: number
  /** Index into the face's keep-outs. */
  keepOut?: number
  /** The two emitters whose optics meet: board and site indexes. */
  emitters?: [{ board: number; site: number }, { board: number; site: number }]
  /** Index of the emitter on its board that lies beside it. */
  site?: number
}

/** So many faults between boards (and between optics) are listed; a file with everything on one spot has millions. */
export const FAULTS_MOST = 2000
const OPTICS_MEETINGS_MOST = 200_000

/** Faults by board order: between boards, at the edge, on keep-outs, of emitters beside their board, between optics. */
export function findLayoutFaults(lamp: Lamp): LayoutFault[] {
  const shapes = lamp.boards.map((board) => boardOutline(lamp, board))
  const boxes = shapes.map(shapeBox)
  return [
    ...findBoardFaults(shapes, boxes, lamp.face.clearanceMm),
    ...findEdgeFaults(lamp, shapes),
    ...findKeepOutFaults(lamp, shapes, boxes),
    ...findOffBoardFaults(lamp),
    ...findOpticFaults(lamp),
  ]
}

const isTooShort = (gap: Gap, wantedMm: number) => gap.gapMm < wantedMm - TOLERANCE_MM

function findBoardFaults(shapes: readonly Shape[], boxes: readonly Box[], wantedMm: number): LayoutFault[] {
  const faults: LayoutFault[] = []
  forEachNearPair(boxes, wantedMm, (i, j) => {
    const gap = gapBetween(shapes[i]!, shapes[j]!)
    if (isTooShort(gap, 0)) faults.push({ kind: 'overlap', boards: [i, j], wantedMm, ...gap })
    else if (isTooShort(gap, wantedMm)) faults.push({ kind: 'clearance', boards: [i, j], wantedMm, ...gap })
    return faults.length < FAULTS_MOST
  })
  return faults.sort((a, b) => a.boards[0]! - b.boards[0]! || a.boards[1]! - b.boards[1]!)
}

function findEdgeFaults({ face }: Lamp, shapes: readonly Shape[]): LayoutFault[] {
  return shapes.flatMap((shape, i): LayoutFault[] => {
    const gap = edgeGap(face, shape)
    if (!isTooShort(gap, face.marginMm)) return []
    return [{ kind: isTooShort(gap, 0) ? 'overhang' : 'margin', boards: [i], wantedMm: face.marginMm, ...gap }]
  })
}

function findKeepOutFaults({ face }: Lamp, shapes: readonly Shape[], boxes: readonly Box[]): LayoutFault[] {
  const wantedMm = face.clearanceMm
  return face.keepOuts.flatMap((k, keepOut) => {
    const shape = keepOutShape(k)
    const box = shapeBox(shape)
    return boxes.flatMap((b, i): LayoutFault[] => {
      if (!areBoxesNear(b, box, wantedMm)) return []
      const gap = gapBetween(shapes[i]!, shape)
      return isTooShort(gap, wantedMm) ? [{ kind: 'keepOut', boards: [i], wantedMm, keepOut, ...gap }] : []
    })
  })
}

/** An emitter whose middle isn't on its board can't be soldered there; how far its package may reach over is left to the builder. */
function findOffBoardFaults({ boards, boardTypes }: Lamp): LayoutFault[] {
  const off = new Map(
    boardTypes.map((type) => {
      const outline = outlineShape(type.outline)
      const sites = type.sites.map((site, i) => {
        const { gapMm } = gapBetween(outline, { core: [[site.xMm, site.yMm]], radiusMm: 0 })
        return { ...site, site: i, gapMm: -gapMm }
      })
      return [type.id, sites.filter(({ gapMm }) => gapMm < -TOLERANCE_MM)]
    }),
  )
  const faults = boards.flatMap((board, i) =>
    (off.get(board.type) ?? []).map(({ site, gapMm, xMm, yMm }): LayoutFault => {
      const [x, y] = lampFromBoard(board, xMm, yMm)
      return { kind: 'emitterOff', boards: [i], wantedMm: 0, gapMm, xMm: x, yMm: y, site }
    }),
  )
  return faults.slice(0, FAULTS_MOST)
}

export const areBoxesNear = (a: Box, b: Box, reachMm: number): boolean =>
  a.fromX <= b.toX + reachMm && b.fromX <= a.toX + reachMm && a.fromY <= b.toY + reachMm && b.fromY <= a.toY + reachMm

/** The disc that an emitter with its optic takes up, seen from the front: the wider of package and optic. */
export function takenMm(emitter: EmitterType, optic: OpticType): number {
  return optic.kind === 'bare' ? emitter.bodyMm : Math.max(emitter.bodyMm, optic.exitDiameterMm)
}

/** Where the middle of that disc stands, mm: of a tilted or aimed optic at its exit, else seen from the front. */
function takenDisc(p: EmitterPlace): [number, number, number] {
  if (p.plain) return [p.xMm, p.yMm, 0]
  return spaceFromEmitter(p, [0, 0, startZMm(p.emitter.heightMm, p.optic)])
}

/** One fault a pair of boards (the worst), so that a wrong board type is not listed a thousand times. */
function findOpticFaults(lamp: Lamp): LayoutFault[] {
  const places = placeEmitters(lamp)
  const discs = places.map(takenDisc)
  const boxes = places.map((p, i): Box => {
    const [x, y] = discs[i]!
    const r = takenMm(p.emitter, p.optic) / 2
    return { fromX: x - r, fromY: y - r, toX: x + r, toY: y + r }
  })
  const worst = new Map<number, LayoutFault>()
  let meetings = 0
  forEachNearPair(boxes, 0, (i, j) => {
    const [a, b] = [places[i]!, places[j]!]
    const [ra, rb] = [takenMm(a.emitter, a.optic) / 2, takenMm(b.emitter, b.optic) / 2]
    const [[ax, ay, az], [bx, by, bz]] = [discs[i]!, discs[j]!]
    const apart = Math.hypot(ax - bx, ay - by, az - bz)
    if (apart >= ra + rb - TOLERANCE_MM) return true
    const gap = gapBetween({ core: [[ax, ay]], radiusMm: ra }, { core: [[bx, by]], radiusMm: rb })
    if (az !== bz) gap.gapMm = apart - ra - rb
    const pair = a.boardIndex * lamp.boards.length + b.boardIndex
    meetings++
    if ((worst.get(pair)?.gapMm ?? Infinity) <= gap.gapMm) return meetings < OPTICS_MEETINGS_MOST
    const boards = a.boardIndex === b.boardIndex ? [a.boardIndex] : [a.boardIndex, b.boardIndex]
    worst.set(pair, {
      kind: 'opticsOverlap',
      boards,
      wantedMm: 0,
      ...gap,
      emitters: [
        { board: a.boardIndex, site: a.siteIndex },
        { board: b.boardIndex, site: b.siteIndex },
      ],
    })
    return worst.size < FAULTS_MOST && meetings < OPTICS_MEETINGS_MOST
  })
  return [...worst.values()].sort((a, b) => a.boards[0]! - b.boards[0]! || (a.boards[1] ?? -1) - (b.boards[1] ?? -1))
}
