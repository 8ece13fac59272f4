// The lens alone in the sun, as it lies on a bench or by a window: no tunnel, no boards, no face.

import { recycleRun } from '../../engine/partialTallies.ts'
import { traceRecorded } from '../../engine/segments.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { type OnLeftOut, searchAir } from '../../hazard/air/search.ts'
import { type BareLens, type BareSun, readBareLens } from '../../hazard/sunMap.ts'
import { pieceReachMm } from '../../lamp/assembly.ts'
import { lensSpan } from '../../lamp/body.ts'
import type { Lamp, Lens } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import { type LensElement, lensesOf } from '../../library/lensSystem.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import * as P from '../../optics/params.ts'
import { clipToBall } from '../../run/segments.ts'
import { compile, compileSun } from '../../scene/compile.ts'
import { chooseShape } from '../beam/pilot.ts'
import { lampOperatingPoint } from '../power/light.ts'

const TILTS_DEG = [0, 5, 10, 20, 30, 45]
const RAYS = 1 << 15
const FLOOR_KW_M2 = 1.2

interface BareLensOptions {
  seed: number
  rays?: number | undefined
  /** Of the sun to the lens's axis. */
  tiltsDeg?: readonly number[] | undefined
  onLeftOut?: OnLeftOut
}

/** Of several lenses the worst, each by itself. Null without a lens. Throws `Cancelled`. `onShare`: progress, 0 to 1. */
export async function traceBareLens(
  pool: Pool,
  lamp: Lamp,
  { seed, rays = RAYS, tiltsDeg = TILTS_DEG, onLeftOut }: BareLensOptions,
  scheduler: Scheduler,
  onShare: (share: number) => void = () => {},
): Promise<BareLens | null> {
  const lenses = lensesOf(lamp)
  let worst: BareLens | null = null
  for (const [i, element] of lenses.entries()) {
    const lens = layFlat(element)
    const share = (of: number) => onShare((i + of) / lenses.length)
    const bare = await traceAlone(
      pool,
      lamp,
      lens,
      { seed, rays, tiltsDeg, ...(onLeftOut && { onLeftOut }) },
      scheduler,
      share,
    )
    if (bare && !(worst && worst.kWm2 >= bare.kWm2)) worst = bare
  }
  return worst
}

/** As it lies, wherever it stood in the lamp. */
function layFlat(element: LensElement): Lens {
  const {
    name: _,
    isLens: __,
    where: ___,
    decentreXMm: _x,
    decentreYMm: _y,
    tiltXDeg: _a,
    tiltYDeg: _b,
    turnDeg: _c,
    ...lens
  } = element
  return lens
}

/** From where the sun stands in turn: a rectangle and a piece cut off its axis throw it elsewhere from each side. */
function azimuthsOf(lens: Lens, tiltDeg: number): number[] {
  if (tiltDeg === 0) return [0]
  if (lens.centreXMm || lens.centreYMm) return [0, 90, 180, 270]
  return lens.aperture === 'rectangle' ? [0, 90] : [0]
}

async function traceAlone(
  pool: Pool,
  lamp: Lamp,
  lens: Lens,
  { seed, rays = RAYS, tiltsDeg = TILTS_DEG, onLeftOut }: BareLensOptions,
  scheduler: Scheduler,
  onShare: (share: number) => void,
): Promise<BareLens | null> {
  const { elements: _, ...rest } = lamp
  const alone: Lamp = { ...rest, lens, tunnel: null, boards: [] }
  const compiled = compile(alone, lampOperatingPoint(alone))
  // Nothing stands behind it: the plane of the face lets all light pass.
  const scene = { ...compiled, params: compiled.params.slice() }
  scene.params[P.faceHalf] = 0
  const shape = chooseShape(scene, alone)
  const [inner, outer] = lensSpan(lens)
  const ball = {
    centre: [0, 0, inner] as const,
    radiusMm: Math.max(1000, 1.3 * lensFocalMm(lens)) + pieceReachMm(lens),
  }
  const zoneOf = (_x: number, _y: number, z: number) => (z > outer ? 0 : z < inner ? 1 : -1)
  const suns: BareSun[] = []
  const ways = tiltsDeg.flatMap((tiltDeg) => azimuthsOf(lens, tiltDeg).map((azimuthDeg) => ({ tiltDeg, azimuthDeg })))
  for (const [k, { tiltDeg, azimuthDeg }] of ways.entries()) {
    await scheduler.checkpoint()
    const sun = compileSun(scene, alone, tiltDeg, azimuthDeg)
    const { run, segments } = await traceRecorded(pool, sun, shape, { seed, rays })
    recycleRun(run)
    const near = clipToBall(segments, ball.centre, ball.radiusMm)
    const options = {
      discMm: lamp.reading.hotDiscMm,
      floorKWm2: FLOOR_KW_M2,
      zoneOf,
      searchSegments: 24_000,
      most: 2,
      ...(onLeftOut && { onLeftOut }),
    }
    suns.push({ tiltDeg, places: await scheduler.run(searchAir(near, options)) })
    onShare((k + 1) / ways.length)
  }
  return readBareLens(suns, lens, lens.zMm)
}
