// From a lamp to its danger sheet: one run of the beam, its readers, then the sun from every side and the bare lens.
import { checkDanger } from '../../checks/danger.ts'
import { emptyRun, recycleRun } from '../../engine/partialTallies.ts'
import { runRounds } from '../../engine/rounds.ts'
import { traceRecorded } from '../../engine/segments.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { readBeside } from '../../hazard/air/beside.ts'
import { type OnLeftOut, readByDisc, searchAir } from '../../hazard/air/search.ts'
import { makeZoneOf, searchedBall } from '../../hazard/air/zones.ts'
import { upperKWm2 } from '../../hazard/discs.ts'
import { leakedLightOf, leavingLightOf } from '../../hazard/eyeRays.ts'
import { eyeInput, readEyes } from '../../hazard/eyeSheet.ts'
import { clearDistanceMm, type Front } from '../../hazard/front.ts'
import { addFoci, makeTailMonotone } from '../../hazard/frontWhole.ts'
import { lightInFront, readHarmAt, readThings, SMALL_DISC_MM } from '../../hazard/inTheWay.ts'
import { onFrontKWm2, readParts } from '../../hazard/onParts.ts'
import { hotSunWm2, VERY_CLEAR_WM2 } from '../../hazard/solar.ts'
import type { SunPlace } from '../../hazard/sun.ts'
import { readSunDay, USUAL_SUN } from '../../hazard/sunDay.ts'
import type { BareLens, SunMapPoint } from '../../hazard/sunMap.ts'
import { readVolume } from '../../hazard/volume.ts'
import { frontZMm } from '../../lamp/front.ts'
import { placeEmitters } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { emitterEfficacy } from '../../library/emitterSpectrum.ts'
import { type AtDisc, atDisc, secondsToHarm, shareOf, thresholds } from '../../library/thresholds.ts'
import { Cancelled, makeScheduler, type Scheduler, type TimeSliced } from '../../num/scheduler.ts'
import { T95 } from '../../num/stats.ts'
import { rayColumns } from '../../run/exits.ts'
import {
  addToColumns,
  clipToBall,
  RETURNED_SEGMENT,
  type Segments,
  segmentsOfColumns,
  selectSegments,
} from '../../run/segments.ts'
import type { Run } from '../../run/types.ts'
import { expectValid } from '../../run/validate.ts'
import { compile } from '../../scene/compile.ts'
import type { Scene } from '../../scene/scene.ts'
import { chooseShape } from '../beam/pilot.ts'
import { searchSuns } from '../beam/sunSearch.ts'
import { brightestLight } from '../power/brightest.ts'
import { traceBareLens } from './bareLens.ts'
import { faceWarmth } from './faceTemperature.ts'
import { searchInFront, searchSmallDiscs } from './inFront.ts'
import type { ClearOf, CoarseSearch, DangerReading, DangerStage, FrontLight } from './result.ts'

export interface DangerOptions {
  seed: number
  maxRays: number
  /** Rays of sunlight for each direction of the grid, and its tilts; by default as many as are worth it. */
  sunRays?: number
  /** Few rays, and the sun's worst direction as the grid has it: for a first reading. */
  rough?: boolean
  tiltsDeg?: readonly number[]
  /** Rays whose segments are recorded, for light that strays; by default as many as are worth it. */
  strayRays?: number
}

/** Few rays and a coarse sky, so that there are distances to keep within seconds; their ± is wider, which is the hot side. */
export const ROUGH_DANGER: Omit<DangerOptions, 'seed'> = {
  rough: true,
  maxRays: 1 << 17,
  sunRays: 1 << 13,
  tiltsDeg: [0, 5, 15, 30, 60],
}
export const WHOLE_DANGER: Omit<DangerOptions, 'seed'> = { maxRays: 1_000_000 }

const EXITS_KEPT = 1 << 19
const STRAY_RAYS = 1 << 17
const ASKED_MM = [300, 1000, 3000, 10_000]

/** Null when it was cancelled. `onStage` hears how far it is, 0 to 1 within a stage. Rejects when the run is invalid. */
export async function traceDanger(
  pool: Pool,
  lamp: Lamp,
  options: DangerOptions,
  scheduler: Scheduler = makeScheduler(),
  onStage: (stage: DangerStage, share: number) => void = () => {},
): Promise<DangerReading | null> {
  const light = brightestLight(lamp)
  const scene = compile(lamp, light)
  let run: Run | null = null
  try {
    run = await beamRun(pool, lamp, scene, options, scheduler, (share) => onStage('beam', share))
    if (run.rays > 0) expectValid(run)
    onStage('front', 0)
    const segments = await straySegments(pool, lamp, scene, options)
    const coarse: CoarseSearch[] = []
    const read = await scheduler.run(
      readBeamDangers(run, segments, lamp, light.fluxLm, noteCoarse(coarse, 'own'), (share) => onStage('front', share)),
    )
    const { map, worst, bare } = await traceSuns(pool, lamp, scene, options, coarse, scheduler, (share) =>
      onStage('sun', share),
    )
    // Where a lamp's own sun is set to none it will lie in the sun all the same.
    const sunWm2 = hotSunWm2(lamp.reading.sunWm2 || VERY_CLEAR_WM2)
    const reading = {
      ...read,
      lamp: lamp.name,
      light: light.from,
      seed: options.seed,
      rays: run.rays,
      discMm: lamp.reading.hotDiscMm,
      ambientC: lamp.reading.ambientC,
      sunWm2,
      sunMap: map,
      sunPlaces: worst,
      sunDay: map.length > 0 ? readSunDay(lamp, map, sunWm2, lamp.danger?.sun ?? USUAL_SUN) : null,
      bareLens: bare,
      coarse,
    }
    return { ...reading, findings: checkDanger(lamp, reading) }
  } catch (error) {
    if (error instanceof Cancelled || scheduler.signal.aborted) return null
    throw error
  } finally {
    if (run) recycleRun(run)
  }
}

async function beamRun(
  pool: Pool,
  lamp: Lamp,
  scene: Scene,
  { seed, maxRays }: DangerOptions,
  scheduler: Scheduler,
  onShare: (share: number) => void,
): Promise<Run> {
  const shape = chooseShape(scene, lamp)
  if (!(scene.emittedW > 0)) return emptyRun(scene, shape, seed)
  return runRounds(pool, scene, shape, { seed, maxRays, exitsBelow: EXITS_KEPT }, async (run) => {
    await scheduler.checkpoint()
    onShare(Math.min(1, run.rays / maxRays))
    return true
  })
}

/** Segments of the lamp's own light that leave where no beam should, and of what the lens has sent back. */
async function straySegments(
  pool: Pool,
  lamp: Lamp,
  scene: Scene,
  { seed, strayRays = STRAY_RAYS }: DangerOptions,
): Promise<Segments> {
  const { run, segments } = await traceRecorded(pool, scene, chooseShape(scene, lamp), { seed, rays: strayRays })
  recycleRun(run)
  return selectSegments(segments, (i) => segments.flags[i]! !== 0)
}

/** Of several searches of a zone the most counts. */
function noteCoarse(coarse: CoarseSearch[], light: CoarseSearch['light']): OnLeftOut {
  return (zone, upToKWm2) => {
    const known = coarse.find((c) => c.light === light && c.zone === zone)
    if (known) known.upToKWm2 = Math.max(known.upToKWm2, upToKWm2)
    else coarse.push({ light, zone, upToKWm2 })
  }
}

type BeamDangers = Omit<
  DangerReading,
  | 'lamp'
  | 'light'
  | 'seed'
  | 'rays'
  | 'discMm'
  | 'ambientC'
  | 'sunWm2'
  | 'sunMap'
  | 'sunPlaces'
  | 'sunDay'
  | 'bareLens'
  | 'coarse'
  | 'findings'
>

/** All that is read from the beam's own run. The shares are of steps, which don't take equally long. */
function* readBeamDangers(
  run: Run,
  segments: Segments,
  lamp: Lamp,
  fluxLm: Float64Array,
  onLeftOut: OnLeftOut,
  onShare: (share: number) => void,
): TimeSliced<BeamDangers> {
  const front = frontZMm(lamp)
  const { hotDiscMm: discMm, ambientC } = lamp.reading
  const table = thresholds(lamp.danger, ambientC)
  const emitterW = Float64Array.from(placeEmitters(lamp), (p, i) => fluxLm[i]! / emitterEfficacy(p.emitter))
  const beam = rayColumns(run, front)
  const columns = addToColumns(beam, segments)
  const inFront = { beam, all: columns }
  const floorKWm2 = 0.5 * Math.min(...table.map((t) => t.kWm2))
  const { front: searched, foci, aside } = yield* searchInFront(inFront, lamp, floorKWm2)
  const whole = makeTailMonotone(addFoci(searched, foci), foci)
  onShare(0.3)
  const small = makeTailMonotone(yield* searchSmallDiscs(inFront, aside), foci)
  onShare(0.5)
  const volume = yield* readVolume(run, front, { discMm })
  onShare(0.6)
  yield
  const worstByDisc = whole.worst ? readByDisc(segmentsOfColumns(columns), whole.worst) : []
  const beside = yield* readBeside(segments, lamp, { discMm, floorKWm2, onLeftOut })
  onShare(0.7)
  const ghost = yield* searchAir(insideOf(segments, lamp), {
    discMm,
    floorKWm2,
    zoneOf: makeZoneOf(lamp),
    searchSegments: 40_000,
    most: 4,
    // Its places outside are not said.
    onLeftOut: (zone, upToKWm2) => zone === 'inside' && onLeftOut(zone, upToKWm2),
  })
  const inside = ghost.filter((p) => p.zone === 'inside')
  const parts = readParts(run, lamp, emitterW, faceWarmth(lamp, run), inside)
  onShare(0.8)
  yield
  const light = lightInFront(whole, { small, onLensKWm2: onFrontKWm2(parts) })
  const leaving = [leavingLightOf(run), leakedLightOf(segments)]
  const eye = leaving.some((l) => l.count > 0) ? yield* readEyes(leaving, eyeInput(lamp, emitterW)) : null
  return {
    worstKWm2: hottestOf(whole),
    front: whole,
    small,
    foci,
    worstByDisc,
    beside,
    ghost: inside[0] ?? null,
    volume,
    clear: clearOf({ front: whole, small, worstByDisc }, lamp),
    harm: [...new Set([...ASKED_MM, ...(lamp.danger?.askedMm ?? [])])]
      .sort((a, b) => a - b)
      .map((d) => readHarmAt(whole, d, table, ambientC, light)),
    things: readThings(whole, lamp, table, light),
    parts,
    eye,
  }
}

/** What the lens has sent back, as far as it runs inside the lamp. */
function insideOf(segments: Segments, lamp: Lamp): Segments {
  const back = selectSegments(segments, (i) => (segments.flags[i]! & RETURNED_SEGMENT) !== 0)
  const ball = searchedBall(lamp, 0)
  return clipToBall(back, ball.centre, ball.radiusMm)
}

/** Clear distances and times, each material by the disc that its source takes. */
export function clearOf({ front, small, worstByDisc }: FrontLight, lamp: Lamp): ClearOf[] {
  const { ambientC } = lamp.reading
  const curveFor = (discMm: number) => (discMm <= SMALL_DISC_MM && small.curve.length > 0 ? small : front)
  const measured = atDisc(
    worstByDisc.map((v) => ({ discMm: v.discMm, kWm2: upperKWm2(v) })),
    hottestOf(front),
  )
  const worst: AtDisc = (discMm) => Math.max(measured(discMm), hottestOf(front), hottestOf(curveFor(discMm)))
  return thresholds(lamp.danger, ambientC).map((t) => ({
    ...t,
    clearDistanceMm: Math.max(
      clearDistanceMm(front, t.kWm2),
      clearDistanceMm(curveFor(t.discMm), t.kWm2),
      // Of a place that only its small disc makes too hot.
      front.worst && worst(t.discMm) >= t.kWm2 ? farthestWorstMm(front, front.worst.zMm - frontZMm(lamp)) : 0,
    ),
    secondsAtWorst: secondsToHarm(t, worst, ambientC),
    shareAtWorst: shareOf(worst(t.discMm), t.kWm2),
  }))
}

/** As far as the worst place may lie, mm from the front: where its light is even with the distance ± can't tell at which distance it is. */
const farthestWorstMm = (front: Front, foundMm: number): number =>
  Math.max(1, foundMm, front.worst ? clearDistanceMm(front, front.worst.kWm2) : 0)

const hottestOf = ({ curve }: Front): number => curve.reduce((most, p) => Math.max(most, p.kWm2 + T95 * p.se), 0)

async function traceSuns(
  pool: Pool,
  lamp: Lamp,
  scene: Scene,
  { seed, sunRays, tiltsDeg, rough }: DangerOptions,
  coarse: CoarseSearch[],
  scheduler: Scheduler,
  onShare: (share: number) => void,
): Promise<{ map: SunMapPoint[]; worst: SunPlace[]; bare: BareLens | null }> {
  const lit = { ...lamp, reading: { ...lamp.reading, sunWm2: hotSunWm2(lamp.reading.sunWm2 || VERY_CLEAR_WM2) } }
  const shape = chooseShape(scene, lamp)
  const options = { seed, rays: sunRays, tiltsDeg, searched: rough ? [] : undefined }
  const onLeftOut = noteCoarse(coarse, 'sun')
  const { points, worst } = await searchSuns(
    pool,
    { lamp: lit, scene, shape },
    { ...options, onLeftOut },
    scheduler,
    (share) => onShare(0.8 * share),
  )
  return {
    map: points,
    worst,
    bare: await traceBareLens(
      pool,
      lit,
      { ...options, onLeftOut: noteCoarse(coarse, 'bare lens') },
      scheduler,
      (share) => onShare(0.8 + 0.2 * share),
    ),
  }
}
