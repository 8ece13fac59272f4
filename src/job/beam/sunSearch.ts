// The sun from every side: a grid of tilts and azimuths with few rays, then the worst tilt and azimuth of each zone by search, with more.

import { recycleRun } from '../../engine/partialTallies.ts'
import { type RecordedRun, traceRecorded } from '../../engine/pieces.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { type AirOptions, type AirPlace, readByDisc, searchAir } from '../../hazard/air/search.ts'
import { type AirZone, makeZoneOf, searchedBall } from '../../hazard/air/zones.ts'
import { upperKWm2 } from '../../hazard/discs.ts'
import { readSunSpots, type SunAtTilt, type SunPlace } from '../../hazard/sun.ts'
import { chooseSunAzimuths, readSunPoints, type SunMapPoint, symmetryOf } from '../../hazard/sunMap.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import { clipToBall, type Pieces } from '../../run/pieces.ts'
import type { TallyShape } from '../../run/types.ts'
import { compileSun } from '../../scene/compile.ts'
import type { Scene } from '../../scene/scene.ts'

const SUN_TILTS_DEG = [0, 1, 2, 3, 5, 7, 10, 15, 20, 30, 45, 60, 75] as const

export interface SunSearchOptions {
  seed: number
  tiltsDeg?: readonly number[] | undefined
  /** Rays of sunlight for each direction of the grid; the search uses twice, the last readAt eight times as many. */
  rays?: number | undefined
  /** Zones whose worst direction is searched for; the others take the strongest of the grid. By default all. */
  searched?: readonly AirZone[] | undefined
  /** Inside the lamp only: light is not followed beyond it, and only that zone is read. */
  insideOnly?: boolean
}

export interface SunSearch {
  /** The worst spot of each direction of the grid and of those that the search ended on, by tilt, then azimuth. */
  points: SunMapPoint[]
  /** The worst place of each zone where any is over the floor. */
  worst: SunPlace[]
}

const RAYS = 1 << 14
/** Under this, sunlight is hardly stronger than it is without the lamp, kW/m². */
const FLOOR_KW_M2 = 2
/** Beside the lamp light is followed so far (physics.md, section 9). */
const AROUND_MM = 1000
const FEW = { searchPieces: 24_000, most: 3 }
const INSIDE = 1
const NARROWEST_STEP_DEG = 0.2
/** So many of the grid's directions are the start of a search in each zone. */
const STARTS = 2
const ABOUT_MM = 250
/** Inside first: on the way light is found that leaves by a gap. */
const SEARCHED: readonly AirZone[] = ['inside', 'outside', 'front']

interface Direction {
  tiltDeg: number
  azimuthDeg: number
}

interface Seen extends Direction {
  places: AirPlace[]
  spots: SunAtTilt[]
}

/**
 * Sunlight of lamp.reading.sunWm2 from every side, and the worst of it by zone. Throws `Cancelled`. `onShare` hears how far it is, 0 to 1.
 * `scene` is the lamp's own, compiled; `shape` any of its shapes.
 */
export async function searchSuns(
  pool: Pool,
  { lamp, scene, shape }: { lamp: Lamp; scene: Scene; shape: TallyShape },
  options: SunSearchOptions,
  scheduler: Scheduler,
  onShare: (share: number) => void = () => {},
): Promise<SunSearch> {
  const { seed, rays = RAYS, searched = SEARCHED, insideOnly = false } = options
  const tilts = distinct([...(options.tiltsDeg ?? [...SUN_TILTS_DEG, ...edgeTiltsDeg(lamp)]), lamp.reading.sunTiltDeg])
  const { traced, turns } = chooseSunAzimuths(symmetryOf(lamp))
  const ball = searchedBall(lamp, insideOnly ? 0 : AROUND_MM)
  const zoneOf = makeZoneOf(lamp)
  const air: AirOptions = {
    discMm: lamp.reading.hotDiscMm,
    floorKWm2: FLOOR_KW_M2,
    zoneOf: insideOnly ? (x, y, z) => (zoneOf(x, y, z) === INSIDE ? INSIDE : -1) : zoneOf,
  }
  const points: SunMapPoint[] = []

  const record = ({ tiltDeg, azimuthDeg }: Direction, times: number): Promise<RecordedRun> =>
    traceRecorded(pool, compileSun(scene, lamp, tiltDeg, azimuthDeg), shape, { seed, rays: times * rays })
  const readAt = async (
    at: Direction,
    recorded: RecordedRun,
    { shown, near = ball, ...more }: Partial<AirOptions> & { shown: boolean; near?: Ball },
  ): Promise<Seen & { pieces: Pieces }> => {
    const pieces = clipToBall(recorded.pieces, near.centre, near.radiusMm)
    const places = await scheduler.run(searchAir(pieces, { ...air, ...more }))
    const sun = { tiltDeg: at.tiltDeg, run: recorded.run, places }
    if (shown) points.push(...readSunPoints(sun, lamp, at.azimuthDeg, turns))
    const spots = readSunSpots(sun, lamp)
    recycleRun(recorded.run)
    seen.push({ ...at, places, spots })
    return { ...at, places, spots, pieces }
  }
  const seen: Seen[] = []

  const grid = tilts.flatMap((tiltDeg) => (tiltDeg === 0 ? [0] : traced).map((azimuthDeg) => ({ tiltDeg, azimuthDeg })))
  let next = record(grid[0]!, 1)
  for (const [k, at] of grid.entries()) {
    await scheduler.checkpoint()
    const recorded = await next
    // The pool traces the next direction while this one is searched.
    if (k + 1 < grid.length) next = record(grid[k + 1]!, 1)
    next.catch(() => {}) // awaited in the next turn; a cancellation may come first
    await readAt(at, recorded, { ...FEW, shown: true })
    onShare((0.6 * (k + 1)) / grid.length)
  }

  const worst: SunPlace[] = []
  const tries = {
    readAt: async (at: Direction, near: Ball = ball) => readAt(at, await record(at, 2), { ...FEW, shown: false, near }),
    scheduler,
  }
  const zones = insideOnly ? (['inside'] as const) : SEARCHED
  for (const [k, zone] of zones.entries()) {
    const climbs = searched.includes(zone)
    const top = climbs ? await climbDirections(zone, seen, traced.length > 1 ? 15 : 0, tries) : strongestIn(zone, seen)
    if (top) {
      const more = climbs ? { most: 4 } : FEW
      const recorded = await record(top, climbs ? 8 : 2)
      const { places, pieces } = await readAt(top, recorded, { ...more, shown: !isIn(grid, top) })
      const place = hottestIn(zone, places)
      const { tiltDeg, azimuthDeg } = top
      if (place) worst.push({ ...place, tiltDeg, azimuthDeg, byDisc: readByDisc(pieces, place) })
    }
    onShare(0.6 + (0.4 * (k + 1)) / zones.length)
  }
  points.sort((a, b) => a.tiltDeg - b.tiltDeg || a.azimuthDeg - b.azimuthDeg)
  return { points, worst }
}

/**
 * Where a place can have gone when the sun has moved by so many degrees: about it, as far as light turns over its whole way through the
 * lamp; undefined: anywhere.
 */
const aboutPlace = (place: AirPlace | null, movedDeg: number): Ball | undefined =>
  place
    ? {
        centre: [place.xMm, place.yMm, place.zMm],
        radiusMm: ABOUT_MM + 3 * movedDeg * RAD * Math.hypot(place.xMm, place.yMm, place.zMm, ABOUT_MM),
      }
    : undefined

const hundredths = (x: number): number => Math.round(100 * x) / 100

const distinct = (tilts: readonly number[]): number[] => [...new Set(tilts)].sort((a, b) => a - b)

const RAD = Math.PI / 180

/**
 * Tilts at which the ray through the lens's middle just meets and just misses an edge: of the face, of the tunnel's mouth and outlet. There
 * light leaves by gaps a few millimetres wide, between the tilts of the grid. One decimal.
 */
function edgeTiltsDeg(lamp: Lamp): number[] {
  const { face, tunnel, lens } = lamp
  if (!lens) return []
  const edges: [number, number][] = [[face.sizeMm / 2, 0]]
  if (tunnel) edges.push([tunnel.inMm / 2, tunnel.zInMm], [tunnel.outMm / 2, tunnel.zOutMm])
  return edges
    .flatMap(([r, z]) => [-0.5, 0.5].map((discs) => [r + discs * lamp.reading.hotDiscMm, lens.zMm - z] as const))
    .map(([r, down]) => Math.round((10 * Math.atan2(Math.max(0, r), down)) / RAD) / 10)
    .filter((tilt) => tilt > 0 && tilt < 80)
}

const isIn = (grid: readonly Direction[], at: Direction): boolean =>
  grid.some((g) => g.tiltDeg === at.tiltDeg && g.azimuthDeg === at.azimuthDeg)

const hottestIn = (zone: AirZone, places: readonly AirPlace[]): AirPlace | null =>
  places
    .filter((p) => p.zone === zone)
    .reduce<AirPlace | null>((a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b), null)

/** kW/m² of the hottest spot of a zone; what lies on the parts is inside. */
function strengthIn(zone: AirZone, { spots }: Seen): number {
  const of = (s: SunAtTilt) => (s.lands === 'front' || s.lands === 'outside' ? s.lands : 'inside')
  return spots.reduce((most, s) => (of(s) === zone ? Math.max(most, s.kWm2) : most), 0)
}

/** The direction of those seen that is strongest in a zone; null: none has anything there. */
function strongestIn(zone: AirZone, seen: readonly Seen[]): Direction | null {
  const top = seen.reduce<Seen | null>((a, b) => (a && strengthIn(zone, a) >= strengthIn(zone, b) ? a : b), null)
  return top && strengthIn(zone, top) > 0 ? top : null
}

interface Ball {
  centre: readonly [number, number, number]
  radiusMm: number
}

interface Tries {
  /** `near`: only there; by default the whole region. */
  readAt: (at: Direction, near?: Ball) => Promise<Seen>
  scheduler: Scheduler
}

/**
 * The direction that is worst in a zone: compass search from the strongest local maxima over tilt, on the same rays for every direction;
 * null where none is over the floor.
 */
async function climbDirections(
  zone: AirZone,
  seen: readonly Seen[],
  azimuthStepDeg: number,
  { readAt, scheduler }: Tries,
): Promise<Direction | null> {
  const tilts = distinct(seen.map((s) => s.tiltDeg))
  const byTilt = tilts.map((tiltDeg) =>
    seen.filter((s) => s.tiltDeg === tiltDeg).reduce((a, b) => (strengthIn(zone, a) >= strengthIn(zone, b) ? a : b)),
  )
  const strengths = byTilt.map((s) => strengthIn(zone, s))
  const starts = strengths
    .map((kWm2, k) => ({ k, kWm2 }))
    .filter(({ k, kWm2 }) => kWm2 > 0 && kWm2 >= (strengths[k - 1] ?? 0) && kWm2 >= (strengths[k + 1] ?? 0))
    .sort((a, b) => b.kWm2 - a.kWm2)
    .slice(0, STARTS)
    .filter(({ kWm2 }, _, all) => kWm2 > 0.6 * all[0]!.kWm2)
  let best: { at: Direction; kWm2: number } | null = null
  for (const { k } of starts) {
    let at: Direction = byTilt[k]!
    let last: Seen = await readAt(at)
    let most = strengthIn(zone, last)
    let step = Math.max(tilts[k]! - (tilts[k - 1] ?? 0), (tilts[k + 1] ?? tilts[k]!) - tilts[k]!) / 2
    let turn = azimuthStepDeg / 2
    while (step >= NARROWEST_STEP_DEG) {
      await scheduler.checkpoint()
      let better = false
      for (const [up, round] of [
        [step, 0],
        [-step, 0],
        ...(turn > 0
          ? [
              [0, turn],
              [0, -turn],
            ]
          : []),
      ] as [number, number][]) {
        const there = { tiltDeg: hundredths(at.tiltDeg + up), azimuthDeg: at.azimuthDeg + round }
        if (there.tiltDeg < 0 || there.tiltDeg > 85) continue
        const next = await readAt(there, aboutPlace(hottestIn(zone, last.places), step + turn))
        const kWm2 = strengthIn(zone, next)
        if (kWm2 <= most) continue
        ;[at, most, last, better] = [there, kWm2, next, true]
        break
      }
      if (!better) {
        step /= 2
        turn /= 2
      }
    }
    if (!best || most > best.kWm2) best = { at, kWm2: most }
  }
  return best?.at ?? null
}
