// What stands about an emitter's optic: a block with a tapered hole for each collimator of a board, or a reflector cup of its own.
import { boardTypeOf, type EmitterPlace, placeEmitters, spaceFromEmitter } from '../lamp/place.ts'
import type { BoardType, Lamp, OpticType } from '../lamp/schema.ts'
import { outlinePath } from '../layout/outline.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { distanceToEdges, isInPolygon } from '../num/polygon.ts'
import { NO_TURN } from '../num/rotation.ts'
import { mm, type Printer } from './bed.ts'
import { boardRegion, boardThicknessMm, emitterOf, reflectorProfile } from './boardsOnFace.ts'
import { cannot, noNeed, type Printed, type PrintedPiece, SOFTENS } from './printed.ts'
import { cut, disc, frustum, grown, joined, joinedRegion, placed, prism, sharedRegion, turnedTube } from './shape.ts'

type Collimator = Extract<OpticType, { kind: 'collimator' }>
type Reflector = Extract<OpticType, { kind: 'reflector' }>

/** A holder lower than this holds nothing, mm (our choice). */
const LEAST_HIGH_MM = 3

/** Cups of every board type and optic that the lamp has: all that can be printed, or why none can. */
export function cups(lamp: Lamp): Printed {
  const { printer } = workshopOf(lamp)
  const places = placeEmitters(lamp).filter((p) => p.optic.kind !== 'bare')
  if (places.length === 0) return noNeed('All emitters are bare: there is no optic to hold.')
  const made = [...holders(lamp, printer, places), ...reflectorCups(printer, places)]
  const pieces = made.flatMap((m) => (typeof m === 'string' ? [] : [m]))
  const refused = made.flatMap((m) => (typeof m === 'string' ? [m] : []))
  if (pieces.length === 0) return cannot(refused.join(' '))
  const mirror = places.some((p) => p.optic.kind === 'reflector')
    ? ['A reflector cup is the shape alone: what it reflects is the film or plating on it.']
    : []
  return { ok: true, pieces, notes: [...refused, ...mirror, SOFTENS] }
}

/** One block for each board whose emitters all have the same collimator, unaimed. */
function holders(lamp: Lamp, printer: Printer, places: readonly EmitterPlace[]): (PrintedPiece | string)[] {
  const kinds = new Map<string, { type: BoardType; optic: Collimator; boards: Set<number> }>()
  const mixed = new Set<number>()
  const opticOf = new Map<number, string>()
  for (const { boardIndex, optic } of places) {
    const before = opticOf.get(boardIndex)
    if (before !== undefined && before !== optic.id) mixed.add(boardIndex)
    opticOf.set(boardIndex, optic.id)
  }
  for (const { boardIndex, optic } of places) {
    const board = lamp.boards[boardIndex]
    if (optic.kind !== 'collimator' || !board) continue
    const isAimed = lamp.aimAt !== undefined || board.aim !== undefined || board.siteAims !== undefined
    const type = boardTypeOf(lamp, board)
    if (isAimed || mixed.has(boardIndex) || countOn(places, boardIndex) < type.sites.length) continue
    const key = `${type.id}/${optic.id}`
    const kind = kinds.get(key) ?? { type, optic, boards: new Set<number>() }
    kind.boards.add(boardIndex)
    kinds.set(key, kind)
  }
  const made = [...kinds.values()].map(({ type, optic, boards }) => holder(lamp, printer, type, optic, boards.size))
  const collimated = new Set(places.filter((p) => p.optic.kind === 'collimator').map((p) => p.boardIndex))
  const covered = [...kinds.values()].reduce((sum, k) => sum + k.boards.size, 0)
  return collimated.size > covered
    ? [...made, `${collimated.size - covered} boards have aimed or unlike collimators: no holder is made for them.`]
    : made
}

const countOn = (places: readonly EmitterPlace[], boardIndex: number): number =>
  places.reduce((n, p) => (p.boardIndex === boardIndex ? n + 1 : n), 0)

function holder(
  lamp: Lamp,
  printer: Printer,
  type: BoardType,
  optic: Collimator,
  count: number,
): PrintedPiece | string {
  const { wallMm, clearanceMm } = printer
  const emitter = emitterOf(lamp, type)
  const what = `A holder for “${optic.name}” on “${type.name}”`
  const fromMm = boardThicknessMm(emitter)
  const foot = Math.max(emitter.heightMm, fromMm)
  const [narrow, wide] = [Math.min(emitter.bodyMm, optic.exitDiameterMm) / 2, optic.exitDiameterMm / 2]
  const room = roomAbout(type)
  // The hole may be so wide that a wall is left to its neighbour and to the board's edge.
  const most = Math.min(room.neighbourMm / 2 - wallMm / 2, room.edgeMm - wallMm) - clearanceMm
  const slope = (wide - narrow) / Math.max(0.1, optic.heightMm - foot)
  const highest = slope > 0 ? foot + (most - narrow) / slope : most >= wide ? optic.heightMm : fromMm
  const toMm = optic.heightMm > foot ? Math.min(optic.heightMm, highest) : fromMm
  if (toMm - fromMm < LEAST_HIGH_MM)
    return `${what} would be ${mm(Math.max(0, toMm - fromMm))} high with walls of ${mm(wallMm)}: the optics stand too close to each other or to the board’s edge.`
  // Discs about the sites, grown together across the gaps between neighbours.
  const gap = Number.isFinite(room.neighbourMm) ? room.neighbourMm / 2 : 0
  const discs = joinedRegion(type.sites.map((s) => disc(2 * (wide + clearanceMm + wallMm), s.xMm, s.yMm)))
  const body = prism(sharedRegion(boardRegion(type), grown(grown(discs, gap), -gap)), fromMm, toMm)
  const radiusAt = (z: number) => narrow + clearanceMm + slope * (z - foot)
  // Below the optic the package fits through, straight.
  const neck = Math.max(emitter.bodyMm / 2 + clearanceMm, radiusAt(foot))
  const holes = type.sites.flatMap(({ xMm, yMm }) => [
    placed(frustum(2 * radiusAt(foot), 2 * radiusAt(toMm + 1), foot, toMm + 1), {
      rotation: NO_TURN,
      shiftMm: [xMm, yMm, 0],
    }),
    placed(frustum(2 * neck, 2 * neck, fromMm - 1, foot + 0.01), { rotation: NO_TURN, shiftMm: [xMm, yMm, 0] }),
  ])
  const screws = (type.holes ?? []).map((h) => disc(2 * h.diameterMm + 2 * clearanceMm, h.xMm, h.yMm))
  const withScrews = screws.length > 0 ? [prism(joinedRegion(screws), fromMm - 1, toMm + 1)] : []
  return { name: `holder, ${type.id}, ${optic.id}`, count, solid: cut(body, joined([...holes, ...withScrews])) }
}

/** From a site to its nearest neighbour and to the board's edge, mm, over all sites the least. */
function roomAbout(type: BoardType): { neighbourMm: number; edgeMm: number } {
  let neighbourMm = Infinity
  let edgeMm = Infinity
  const edge = outlinePath(type.outline)
  for (const [i, a] of type.sites.entries()) {
    for (const b of type.sites.slice(i + 1))
      neighbourMm = Math.min(neighbourMm, Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm))
    const inside = isInPolygon(edge, a.xMm, a.yMm)
    edgeMm = Math.min(edgeMm, (inside ? 1 : -1) * distanceToEdges(edge, a.xMm, a.yMm))
  }
  return { neighbourMm, edgeMm }
}

/** One cup for each emitter with such a reflector. */
function reflectorCups(printer: Printer, places: readonly EmitterPlace[]): (PrintedPiece | string)[] {
  const kinds = new Map<string, EmitterPlace[]>()
  for (const place of places) {
    if (place.optic.kind !== 'reflector') continue
    const key = `${place.emitter.id}/${place.optic.id}`
    kinds.set(key, [...(kinds.get(key) ?? []), place])
  }
  return [...kinds.values()].map((all) => reflectorCup(printer, all))
}

function reflectorCup({ wallMm, clearanceMm }: Printer, all: readonly EmitterPlace[]): PrintedPiece | string {
  const [first] = all
  if (first?.optic.kind !== 'reflector') return 'No reflector.'
  const { emitter } = first
  const optic: Reflector = first.optic
  const base = boardThicknessMm(emitter)
  const what = `A cup “${optic.name}”`
  const neck = emitter.bodyMm / 2 + clearanceMm
  const profile = reflectorProfile(emitter, optic)
  const inner = profile.filter((p) => p.rMm > neck && p.zMm > base)
  const rim = profile.at(-1)
  if (!rim || inner.length < 3) return `${what} ends within the emitter’s package.`
  const outerAt = (r: number) => r + wallMm * Math.hypot(1, (2 * optic.focalMm) / r)
  const apart = nearest(all)
  const outside = outerAt(rim.rMm)
  if (2 * outside > apart)
    return `${what} would be ${mm(2 * outside)} wide with walls of ${mm(wallMm)}; its neighbour stands ${mm(apart)} away.`
  const [lowest] = inner
  const foot = lowest ? Math.max(outerAt(lowest.rMm), neck + wallMm) : neck + wallMm
  const insideFrom = { rMm: Math.max(neck, (lowest?.rMm ?? neck) - 1e-3), zMm: base }
  const outer = [{ rMm: foot, zMm: base }, ...inner.map((p) => ({ rMm: Math.max(foot, outerAt(p.rMm)), zMm: p.zMm }))]
  return {
    name: `reflector cup, ${optic.id}`,
    count: all.length,
    solid: turnedTube(outer, [insideFrom, ...inner]),
  }
}

/** Between two of them, mm. */
function nearest(all: readonly EmitterPlace[]): number {
  const feet = all.map((p) => spaceFromEmitter(p, [0, 0, 0]))
  let least = Infinity
  for (const [i, [ax, ay]] of feet.entries())
    for (const [bx, by] of feet.slice(i + 1)) least = Math.min(least, Math.hypot(ax - bx, ay - by))
  return least
}
