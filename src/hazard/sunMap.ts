// The sun falling in from every side: at each tilt and azimuth the worst spot inside, and which board or wall it is on.
import { elementsOf, isRectangle, isStraight, pieceHalves, type RowElement } from '../lamp/assembly.ts'
import { stopsLight } from '../lamp/place.ts'
import type { Lamp, Lens } from '../lamp/schema.ts'
import { aboutSectionMm } from '../lamp/section.ts'
import { lensFocalMm } from '../library/lensMaterial.ts'
import { distanceToEdges, isInPolygon } from '../num/polygon.ts'
import type { AirPlace } from './air/search.ts'
import { upperKWm2 } from './discs.ts'
import { findBoardUnder, landOf, readSun, type SunAtTilt, type SunRun, sunImageDiameterMm } from './sun.ts'

export interface SunMapPoint extends SunAtTilt {
  /** Azimuth of the sun about the axis, in the lamp's frame: 0 towards +x. */
  azimuthDeg: number
  /** Id of the board; null on none. */
  board: string | null
  /** Flat of a tunnel with flats, counted from the one that faces +x; null elsewhere. */
  flat: number | null
}

const FACE_FOLDS = { round: 0, square: 4, hexagon: 6, rectangle: 2 } as const

/**
 * 0: any turn. Of a polygon the turn that brings each corner onto another; but any, where the tunnel's mouth and twice the gap about it lie
 * on the face: what meets its edge then runs flatter than 63° from the axis, and no image of the sun lies there (our choice).
 */
function faceFold({ face, tunnel }: Lamp): number {
  if (face.shape !== 'polygon') return FACE_FOLDS[face.shape]
  const corners = face.corners ?? []
  if (tunnel && isInPolygon(corners, 0, 0)) {
    const mouth = aboutSectionMm(tunnel, tunnel.zInMm)
    if (distanceToEdges(corners, 0, 0) >= mouth + 2 * tunnel.zInMm) return 0
  }
  const fits = (n: number) => {
    const [c, s] = [Math.cos((2 * Math.PI) / n), Math.sin((2 * Math.PI) / n)]
    return corners.every(([x, y]) =>
      corners.some(([u, v]) => Math.hypot(c * x - s * y - u, s * x + c * y - v) < SAME_MM),
    )
  }
  return [12, 8, 6, 5, 4, 3, 2].find(fits) ?? 1
}

const SAME_MM = 0.05

/**
 * n, if turns of 360°/n bring the lamp's optics onto themselves; 0: any turn does. Boards decide what is under the spot, and no more unless they
 * stop light themselves.
 */
export function symmetryOf(lamp: Lamp): number {
  if (lamp.boards.some(stopsLight)) return 1
  const folds = [
    lamp.tunnel ? (isRectangle(lamp.tunnel) ? 2 : lamp.tunnel.sides) : 0,
    ...elementsOf(lamp).map(foldOf),
    faceFold(lamp),
  ]
  return folds.reduce(greatestCommon, 0)
}

/**
 * Azimuth (degrees) of a plane through the axis in which the lamp's optics are their own mirror image, 0 or 90; null: neither is one. Boards count as
 * for `symmetryOf`.
 */
export function mirrorOf(lamp: Lamp): number | null {
  if (lamp.boards.some(stopsLight)) return null
  return [0, 90].find((deg) => isMirror(lamp, deg === 0)) ?? null
}

/** `alongX`: y changes its sign. Polygons have a flat that faces +x. */
function isMirror(lamp: Lamp, alongX: boolean): boolean {
  const { tunnel, face } = lamp
  if (!alongX && tunnel && tunnel.sides % 2 === 1) return false
  const { corners } = face
  if (face.shape === 'polygon' && corners && faceFold(lamp) !== 0) {
    const image = ([x, y]: readonly [number, number]) => (alongX ? [x, -y] : [-x, y])
    const fits = corners.every((c) =>
      corners.some(([u, v]) => Math.hypot(image(c)[0]! - u, image(c)[1]! - v) < SAME_MM),
    )
    if (!fits) return false
  }
  return elementsOf(lamp).every((of) => {
    const { decentreXMm = 0, decentreYMm = 0, tiltXDeg = 0, tiltYDeg = 0, turnDeg = 0 } = of
    const [centreX, centreY] = 'centreXMm' in of ? [of.centreXMm ?? 0, of.centreYMm ?? 0] : [0, 0]
    const isRound = pieceHalves(of).round && centreX === 0 && centreY === 0
    if (turnDeg !== 0 && !isRound) return false
    const across = alongX ? [decentreYMm, centreY, tiltXDeg] : [decentreXMm, centreX, tiltYDeg]
    return across.every((value) => value === 0)
  })
}

/** A piece that is tilted, moved, or cut off its axis fits onto itself after a whole turn alone. */
function foldOf(piece: RowElement): number {
  const { turnDeg = 0, ...placed } = piece
  const offAxis = 'centreXMm' in piece && (piece.centreXMm || piece.centreYMm)
  if (!isStraight(placed) || offAxis) return 1
  if (pieceHalves(piece).round) return 0
  // Turned against the flats of the others it still fits onto itself by the same turns.
  return piece.aperture === 'square' ? 4 : 2
}

const greatestCommon = (a: number, b: number): number => (b === 0 ? a : greatestCommon(b, a % b))

/**
 * Azimuths to trace, and the turns of each that fill the full circle (with their mirror images, where there is a mirror), degrees; steps of at
 * most 30°, and of any number of flats towards one and towards the corner beside it (our choice). `fold`: symmetryOf; `mirrorDeg`: mirrorOf.
 */
export function chooseSunAzimuths(
  fold: number,
  mirrorDeg: number | null = null,
): { traced: number[]; turns: number[] } {
  if (fold === 0) return { traced: [0], turns: Array.from({ length: 12 }, (_, k) => 30 * k) }
  const sector = 360 / fold
  const parts = Math.max(2, Math.ceil(sector / 30 - 1e-9))
  const some = mirrorDeg === null ? parts : Math.floor(parts / 2) + 1
  return {
    traced: Array.from({ length: some }, (_, k) => (mirrorDeg ?? 0) + (sector * k) / parts),
    turns: Array.from({ length: fold }, (_, k) => sector * k),
  }
}

/**
 * The worst spot of one traced sun, turned about the axis by each of `turns` (degrees). At no tilt there is one
 * azimuth. Empty when nothing comes in.
 */
export const readSunPoints = (sun: SunRun, lamp: Lamp, azimuthDeg: number, turns: readonly number[]): SunMapPoint[] =>
  turnSpots(readSun(sun, lamp), lamp, azimuthDeg, turns)

/** As readSunPoints, of the worst spot itself, with its mirror images where there is a mirror; null: nothing comes in. */
export function turnSpots(
  spot: SunAtTilt | null,
  lamp: Lamp,
  azimuthDeg: number,
  turns: readonly number[],
  mirrorDeg: number | null = null,
): SunMapPoint[] {
  if (!spot) return []
  if (spot.tiltDeg === 0) return [turnSpot(spot, lamp, azimuthDeg, 0)]
  const turned = turns.map((turn) => turnSpot(spot, lamp, azimuthDeg, turn))
  if (mirrorDeg === null) return turned
  const across = 2 * (mirrorDeg - azimuthDeg)
  // In a plane of symmetry it is its own image.
  if (turns.some((turn) => Math.abs(((((across - turn) % 360) + 540) % 360) - 180) < SAME_DEG)) return turned
  const [c, s] = [Math.cos((mirrorDeg * Math.PI) / 90), Math.sin((mirrorDeg * Math.PI) / 90)]
  const image = { ...spot, xMm: c * spot.xMm + s * spot.yMm, yMm: s * spot.xMm - c * spot.yMm }
  return [...turned, ...turns.map((turn) => turnSpot(image, lamp, azimuthDeg + across, turn))]
}

const SAME_DEG = 1e-6

function turnSpot(spot: SunAtTilt, lamp: Lamp, azimuthDeg: number, turnDeg: number): SunMapPoint {
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)]
  const xMm = c * spot.xMm - s * spot.yMm
  const yMm = s * spot.xMm + c * spot.yMm
  // Boards have no part in the symmetry: what is in the air here may be on a raised board there.
  const place = { ...spot, xMm, yMm }
  const anew = spot.lands === 'board' || spot.lands === 'face' || (spot.lands === 'air' && spot.zMm >= spot.discMm)
  const lands = anew ? landOf(lamp, { ...place, zone: 'inside' }) : spot.lands
  const at = lands === 'board' ? findBoardUnder(lamp, place) : -1
  const sides = spot.lands === 'wall' ? (lamp.tunnel?.sides ?? 0) : 0
  const round = (Math.atan2(yMm, xMm) / (2 * Math.PI)) * sides
  return {
    ...spot,
    xMm,
    yMm,
    lands,
    azimuthDeg: (((azimuthDeg + turnDeg) % 360) + 360) % 360,
    board: at >= 0 ? lamp.boards[at]!.id : null,
    flat: sides > 0 ? ((Math.round(round) % sides) + sides) % sides : null,
  }
}

/** The hottest places of a lens alone with the sun at one tilt: `inside` behind it, `front` before it. */
export interface BareSun {
  tiltDeg: number
  places: readonly AirPlace[]
}

export interface BareLens {
  /** From the lens to the hottest place behind it, along its axis. */
  focusMm: number
  /** The sun's tilt there. */
  tiltDeg: number
  /** What its surfaces throw back: the hottest place on the sun's side; null: nothing under the floor of the search. */
  before: { kWm2: number; distanceMm: number; tiltDeg: number } | null
  /** Upper end, over the disc. */
  kWm2: number
  discMm: number
  /** Closed form: 2 f tan 0.2666°. */
  sunImageMm: number
  /** The spot moves with the sun, 15° an hour. */
  mmPerMinute: number
}

/**
 * The lens alone under the sun, from the hottest places behind it and before it at each tilt: focus (mm), kW/m² (upper end), size and speed
 * of the sun's image. Null when no light comes through. `lensZMm`: the side of the lens that the distances count from.
 */
export function readBareLens(suns: readonly BareSun[], lens: Lens, lensZMm: number): BareLens | null {
  const worst = (zone: AirPlace['zone']) =>
    suns
      .flatMap(({ tiltDeg, places }) => places.filter((p) => p.zone === zone).map((p) => ({ ...p, tiltDeg })))
      .reduce<(AirPlace & { tiltDeg: number }) | null>((a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b), null)
  const behind = worst('inside')
  if (!behind) return null
  const before = worst('front')
  const focusMm = Math.max(1, lensZMm - behind.zMm)
  return {
    focusMm,
    kWm2: upperKWm2(behind),
    tiltDeg: behind.tiltDeg,
    discMm: behind.discMm,
    sunImageMm: sunImageDiameterMm(lensFocalMm(lens)),
    mmPerMinute: (focusMm * 15 * Math.PI) / 180 / 60,
    before: before && {
      kWm2: upperKWm2(before),
      distanceMm: Math.max(0, before.zMm - lensZMm),
      tiltDeg: before.tiltDeg,
    },
  }
}
