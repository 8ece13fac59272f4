// The sun falling in from every side: at each tilt and azimuth the worst spot inside, and which board or wall it is on.
import type { Lamp, Lens } from '../lamp/schema.ts'
import { refractiveIndex } from '../library/materials.ts'
import { T95 } from '../num/stats.ts'
import { rayColumns } from '../run/exits.ts'
import type { Run } from '../run/types.ts'
import { climbDensity, makeCrowdFinder, measureDisc, takeSample } from './planes.ts'
import { findBoardUnder, readSun, type SunAtTilt, type SunRun, sunImageDiameterMm } from './sun.ts'

export interface SunMapPoint extends SunAtTilt {
  /** Azimuth of the sun about the axis, in the lamp's frame: 0 towards +x. */
  azimuthDeg: number
  /** Id of the board; null on none. */
  board: string | null
  /** Flat of a tunnel with flats, counted from the one that faces +x; null elsewhere. */
  flat: number | null
}

/**
 * n, if turns of 360°/n bring the lamp's optics onto themselves; 0: any turn does. Boards only decide what is under
 * the spot.
 */
export function symmetryOf(lamp: Lamp): number {
  const folds = [
    lamp.tunnel?.sides ?? 0,
    lamp.lens?.kind === 'fresnel' && lamp.lens.aperture === 'square' ? 4 : 0,
    lamp.face.shape === 'square' ? 4 : lamp.face.shape === 'hexagon' ? 6 : 0,
  ]
  return folds.reduce(greatestCommon, 0)
}

const greatestCommon = (a: number, b: number): number => (b === 0 ? a : greatestCommon(b, a % b))

/**
 * Azimuths to trace, and the turns of each that fill the full circle, degrees; steps of at most 30° (our choice).
 * `fold`: symmetryOf.
 */
export function chooseSunAzimuths(fold: number): { traced: number[]; turns: number[] } {
  if (fold === 0) return { traced: [0], turns: Array.from({ length: 12 }, (_, k) => 30 * k) }
  const sector = 360 / fold
  const parts = Math.max(1, Math.ceil(sector / 30 - 1e-9))
  return {
    traced: Array.from({ length: parts }, (_, k) => (sector * k) / parts),
    turns: Array.from({ length: fold }, (_, k) => sector * k),
  }
}

/**
 * The worst spot of one traced sun, turned about the axis by each of `turns` (degrees). At no tilt there is one
 * azimuth. Empty when nothing comes in.
 */
export function readSunPoints(sun: SunRun, lamp: Lamp, azimuthDeg: number, turns: readonly number[]): SunMapPoint[] {
  const spot = readSun(sun, lamp)
  if (!spot) return []
  return (sun.tiltDeg === 0 ? [0] : turns).map((turn) => turnSpot(spot, lamp, azimuthDeg, turn))
}

function turnSpot(spot: SunAtTilt, lamp: Lamp, azimuthDeg: number, turnDeg: number): SunMapPoint {
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)]
  const xMm = c * spot.xMm - s * spot.yMm
  const yMm = s * spot.xMm + c * spot.yMm
  const onPlate = spot.lands === 'board' || spot.lands === 'face'
  const at = onPlate ? findBoardUnder(lamp, { xMm, yMm, discMm: spot.discMm }) : -1
  const sides = spot.lands === 'wall' ? (lamp.tunnel?.sides ?? 0) : 0
  const round = (Math.atan2(yMm, xMm) / (2 * Math.PI)) * sides
  return {
    ...spot,
    xMm,
    yMm,
    lands: onPlate ? (at >= 0 ? 'board' : 'face') : spot.lands,
    azimuthDeg: (azimuthDeg + turnDeg) % 360,
    board: at >= 0 ? lamp.boards[at]!.id : null,
    flat: sides > 0 ? ((Math.round(round) % sides) + sides) % sides : null,
  }
}

export interface BareLens {
  /** From the lens's inner side to the hottest plane. */
  focusMm: number
  /** Upper end, over the disc. */
  kWm2: number
  discMm: number
  /** Closed form: 2 f tan 0.2666°. */
  sunImageMm: number
  /** The spot moves with the sun, 15° an hour. */
  mmPerMinute: number
}

/** Focal length for yellow light (587.6 nm), mm; a solid lens by R/(n − 1) (thin plano-convex lens, textbook). */
const focalMm = (lens: Lens): number =>
  lens.kind === 'solid' ? lens.radiusMm / (refractiveIndex(lens.material, 587.6) - 1) : lens.focalMm

const PLANES = 60

/**
 * The lens alone under the sun, from a run of sunlight straight onto it: focus (mm), kW/m² (upper end, over discMm),
 * size and speed of the sun's image. Null when no ray comes through.
 */
export function readBareLens(run: Run, lens: Lens, discMm: number): BareLens | null {
  let topZ = Number.NEGATIVE_INFINITY
  for (let i = 0; i < run.exits.count; i++) topZ = Math.max(topZ, run.exits.data[9 * i + 2]!)
  if (!Number.isFinite(topZ)) return null
  const rays = rayColumns(run, topZ, -1)
  const searchSample = takeSample(rays, (b) => b % 2 === 0, 32_768)
  const measureSample = takeSample(rays, (b) => b % 2 === 1, 65_536)
  const find = makeCrowdFinder(rays, searchSample, discMm)
  const f = focalMm(lens)
  let best: { d: number; xMm: number; yMm: number; crowd: number } | null = null
  const tryAt = (d: number, from?: { xMm: number; yMm: number }) => {
    const place = from ?? find(-d, lens.diameterMm / 2)
    if (!place) return
    const here = climbDensity(rays, searchSample.index, -d, place, discMm)
    if (!best || here.crowd > best.crowd) best = { ...here, d }
  }
  for (let k = 1; k <= PLANES; k++) tryAt((1.6 * f * k) / PLANES)
  const coarse = best as { d: number; xMm: number; yMm: number; crowd: number } | null
  if (!coarse) return null
  for (let k = -8; k <= 8; k++) tryAt(coarse.d + (1.6 * f * k) / (8 * PLANES), coarse)
  const spot = best ?? coarse
  const { kWm2, se } = measureDisc(rays, measureSample, -spot.d, spot, discMm, 0)
  return {
    focusMm: spot.d,
    kWm2: kWm2 + T95 * se,
    discMm,
    sunImageMm: sunImageDiameterMm(f),
    mmPerMinute: (spot.d * 15 * Math.PI) / 180 / 60,
  }
}
