// The sun falling into the lamp: where the lens throws it, on boards, face, wall, or in the air of the tunnel.
import { boardRotation, boardTypeOf, lampFromBoard, liesFlat, stopsLight } from '../lamp/place.ts'
import type { Board, BoardType, Lamp } from '../lamp/schema.ts'
import { pastWallMm } from '../lamp/section.ts'
import { distanceToEdges, isInPolygon } from '../num/polygon.ts'
import { turnVector } from '../num/rotation.ts'
import type { HotSpot } from '../run/figure.ts'
import type { Run } from '../run/types.ts'
import type { AirPlace, DiscValue } from './air/search.ts'
import { readFaceSpot, readWallSpot, upperKWm2 } from './discs.ts'

/** Half angle of the sun's disc, degrees: IAU nominal radius over the astronomical unit, rounded up (memory). */
export const SUN_HALF_DEG = 0.2666
const RAD = Math.PI / 180

/** Sunlight from one side: its run, and the hottest places in the air. */
export interface SunRun {
  tiltDeg: number
  run: Run
  places: readonly AirPlace[]
}

export interface SunAtTilt extends HotSpot {
  tiltDeg: number
  /** `air`: inside, away from the parts; `outside`: beside or behind the lamp; `front`: thrown back before it. */
  lands: 'board' | 'face' | 'wall' | 'air' | 'outside' | 'front'
}

/** The hottest place of a zone over all directions of the sun. */
export interface SunPlace extends AirPlace {
  tiltDeg: number
  azimuthDeg: number
  /** Over smaller discs at the same place. */
  byDisc: DiscValue[]
}

/**
 * The worst spot at this tilt, kW/m², by the upper end of ±: on the parts, in the air inside, beside, behind or before the lamp; null when
 * nothing comes in.
 * Light that grazes a wall is stronger on a disc that faces it just before the wall than on the wall itself; what is mounted there (a
 * screw, a seam, a bead of glue) faces it. A place within a disc's width of a part counts as on it. Our choice.
 */
export function readSun(sun: SunRun, lamp: Lamp): SunAtTilt | null {
  return findWorstSun(readSunSpots(sun, lamp))
}

/** The hottest spots, kW/m², one by one: each place in the air, on face or board, on the wall. */
export const readSunSpots = ({ tiltDeg, run, places }: SunRun, lamp: Lamp): SunAtTilt[] => [
  ...spotsOfPlaces(places, tiltDeg, lamp),
  ...spotsOnParts(run, tiltDeg, lamp),
]

/** Of each place in the air. */
export const spotsOfPlaces = (places: readonly AirPlace[], tiltDeg: number, lamp: Lamp): SunAtTilt[] =>
  places.map((p) => ({ ...spotOf(p), tiltDeg, lands: landOf(lamp, p) }))

/** On face or board, and on the wall. */
export function spotsOnParts(run: Run, tiltDeg: number, lamp: Lamp): SunAtTilt[] {
  const discMm = lamp.reading.hotDiscMm
  const spots: SunAtTilt[] = []
  const face = onStoppingBoard(lamp, readFaceSpot(run, discMm))
  if (face) spots.push({ ...face, tiltDeg, lands: isOnBoard(lamp, face) ? 'board' : 'face' })
  const wall = readWallSpot(run, discMm)
  if (wall) spots.push({ ...wall, tiltDeg, lands: 'wall' })
  return spots
}

const spotOf = ({ kWm2, se, xMm, yMm, zMm, discMm }: AirPlace): HotSpot => ({ kWm2, se, xMm, yMm, zMm, discMm })

/** What a place in the air is on or in. */
export function landOf(
  lamp: Lamp,
  place: Pick<AirPlace, 'zone' | 'xMm' | 'yMm' | 'zMm' | 'discMm'>,
): SunAtTilt['lands'] {
  if (place.zone !== 'inside') return place.zone
  if (place.zMm < place.discMm) return isOnBoard(lamp, place) ? 'board' : 'face'
  if (isOnRaisedBoard(lamp, place)) return 'board'
  const { tunnel } = lamp
  if (!tunnel || place.zMm < tunnel.zInMm) return 'air'
  return -pastWallMm(tunnel, place) < place.discMm ? 'wall' : 'air'
}

/** The spot with the greatest upper end of all: what the sheet calls "sun inside"; null for an empty list. */
export const findWorstSun = (suns: readonly SunAtTilt[]): SunAtTilt | null =>
  suns.reduce<SunAtTilt | null>((worst, s) => (worst && upperKWm2(worst) >= upperKWm2(s) ? worst : s), null)

/** Index of the board that any of the disc (mm) touches, or −1. A star counts as its full disc. */
export const findBoardUnder = (lamp: Lamp, { xMm, yMm, discMm }: Pick<HotSpot, 'xMm' | 'yMm' | 'discMm'>): number =>
  lamp.boards.findIndex((board: Board) => {
    const turned = { xMm: 0, yMm: 0, turnDeg: -board.turnDeg }
    const [x, y] = lampFromBoard(turned, xMm - board.xMm, yMm - board.yMm)
    return isInsideOutline(boardTypeOf(lamp, board).outline, x, y, discMm / 2)
  })

/** Within a disc's width of a board that stands on a spacer or a wedge. */
const isOnRaisedBoard = (lamp: Lamp, spot: Pick<HotSpot, 'xMm' | 'yMm' | 'zMm' | 'discMm'>): boolean => {
  const board = lamp.boards[findBoardUnder(lamp, spot)]
  if (!board || liesFlat(board)) return false
  const [lowMm, highMm] = boardSpanMm(lamp, board)
  return spot.zMm > lowMm - spot.discMm && spot.zMm < highMm + spot.discMm
}

/**
 * A spot of the face's map where it landed: light that a tilted board has stopped is booked under it, on the plane z = 0; its place is on that board's
 * surface. Its irradiance is that of the face's plane, of which a slanting surface gets the cosine: the hot side.
 */
export function onStoppingBoard(lamp: Lamp, spot: HotSpot | null): HotSpot | null {
  const board = spot && lamp.boards[findBoardUnder(lamp, spot)]
  if (!board || !stopsLight(board)) return spot
  const [nx, ny, nz] = turnVector(boardRotation(board), [0, 0, 1])
  const zMm = (board.heightMm ?? 0) - (nx * (spot.xMm - board.xMm) + ny * (spot.yMm - board.yMm)) / nz
  const [low, high] = boardSpanMm(lamp, board)
  return { ...spot, zMm: Math.max(0, low, Math.min(high, zMm)) }
}

/** Heights of a board's lowest and highest point above the face, mm. A star counts as its full disc. */
export function boardSpanMm(lamp: Lamp, board: Board): [number, number] {
  const { outline } = boardTypeOf(lamp, board)
  const reachMm = outlineReachMm(outline)
  const tilt = Math.abs(board.wedge?.tiltDeg ?? 0) * RAD
  const height = board.heightMm ?? 0
  return [height - reachMm * Math.sin(tilt), height + reachMm * Math.sin(tilt)]
}

function outlineReachMm(outline: BoardType['outline']): number {
  if (outline.shape === 'rectangle') return Math.hypot(outline.widthMm, outline.heightMm) / 2
  if (outline.shape === 'hexagon') return outline.acrossMm / Math.sqrt(3)
  if (outline.shape === 'polygon') return outline.corners.reduce((most, [x, y]) => Math.max(most, Math.hypot(x, y)), 0)
  return (outline.shape === 'disc' ? outline.diameterMm : outline.acrossMm) / 2
}

const isOnBoard = (lamp: Lamp, spot: Pick<HotSpot, 'xMm' | 'yMm' | 'discMm'>): boolean =>
  findBoardUnder(lamp, spot) >= 0

function isInsideOutline(outline: BoardType['outline'], x: number, y: number, grow: number): boolean {
  if (outline.shape === 'rectangle')
    return Math.abs(x) <= outline.widthMm / 2 + grow && Math.abs(y) <= outline.heightMm / 2 + grow
  if (outline.shape === 'hexagon') {
    const across = (deg: number) => Math.abs(x * Math.cos(deg * RAD) + y * Math.sin(deg * RAD))
    return [0, 60, 120].every((deg) => across(deg) <= outline.acrossMm / 2 + grow)
  }
  if (outline.shape === 'polygon')
    return isInPolygon(outline.corners, x, y) || distanceToEdges(outline.corners, x, y) <= grow
  return Math.hypot(x, y) <= (outline.shape === 'disc' ? outline.diameterMm : outline.acrossMm) / 2 + grow
}

/** Diameter of the sun's image on the axis, mm: 2 f tan(half angle) (geometrical optics, textbook). */
export const sunImageDiameterMm = (focalMm: number, sunHalfDeg = SUN_HALF_DEG): number =>
  2 * focalMm * Math.tan(sunHalfDeg * RAD)

/**
 * Greatest concentration by a lens in air, (sin rim/sin sun)²: Winston and Welford, the étendue limit. sinRim in [0,
 * 1].
 */
export const concentrationLimit = (sinRim: number, sunHalfDeg = SUN_HALF_DEG): number =>
  (sinRim / Math.sin(sunHalfDeg * RAD)) ** 2
