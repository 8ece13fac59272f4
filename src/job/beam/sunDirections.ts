// The directions that the sun is searched from: the grid, and the climb to the one that is worst in a zone.
import type { AirPlace } from '../../hazard/air/search.ts'
import type { AirZone } from '../../hazard/air/zones.ts'
import { upperKWm2 } from '../../hazard/discs.ts'
import type { SunAtTilt } from '../../hazard/sun.ts'
import { elementsOf } from '../../lamp/assembly.ts'
import { halfExtents } from '../../lamp/facePlate.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'

const NARROWEST_STEP_DEG = 0.2
/** So many of the grid's directions are the start of a search in each zone. */
const STARTS = 2
/** Of a coarse grid so many of a zone's strongest are read again: those that could be half as strong as the strongest, and no more than this. */
const STRONG_SHARE = 0.5
const STRONG_MOST = 8
/** Directions of the grid next to each other at one tilt. */
const NEXT_DEG = 30.5
/** A spot with a greater error, as a share of it, is compared with no other. */
const MOST_DOUBT = 0.15
const ABOUT_MM = 250
const RAD = Math.PI / 180

export interface Direction {
  tiltDeg: number
  azimuthDeg: number
}

/** What one direction of the sun gave. */
export interface Seen extends Direction {
  places: AirPlace[]
  spots: SunAtTilt[]
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

export const distinct = (tilts: readonly number[]): number[] => [...new Set(tilts)].sort((a, b) => a - b)

/** Distances of the face's edge from the axis: of a rectangle along x and y; of a polygon also of its farthest corner. */
const faceEdgesMm = (face: Lamp['face']): number[] =>
  face.shape === 'rectangle' || face.shape === 'polygon'
    ? [...new Set([face.sizeMm / 2, ...halfExtents(face)])]
    : [face.sizeMm / 2]

/**
 * Tilts at which the ray through the middle of the lens, or of the mouth of a tunnel without any, just meets and just misses an edge: of the face, of the tunnel's mouth and outlet. There
 * light leaves by gaps a few millimetres wide, between the tilts of the grid. One decimal.
 */
export function edgeTiltsDeg(lamp: Lamp): number[] {
  const { face, tunnel } = lamp
  // Of several lenses the one that light from the sun meets last; without any the tunnel's mouth.
  const openingZMm = elementsOf(lamp)[0]?.zMm ?? tunnel?.zOutMm
  if (openingZMm === undefined) return []
  const edges: [number, number][] = faceEdgesMm(face).map((r) => [r, 0])
  if (tunnel) edges.push(...endsOf(tunnel))
  // Edge rays, from one rim of the mouth to the other one of the inlet: what a concentrator throws together.
  const across: [number, number][] = tunnel ? [[(tunnel.inMm + tunnel.outMm) / 2, tunnel.zInMm]] : []
  return [...edges, ...across]
    .flatMap(([r, z]) => [-0.5, 0.5].map((discs) => [r + discs * lamp.reading.hotDiscMm, openingZMm - z] as const))
    .map(([r, down]) => Math.round((10 * Math.atan2(Math.max(0, r), down)) / RAD) / 10)
    .filter((tilt) => tilt > 0 && tilt < 80)
}

/** Half sizes and heights of the tunnel's two ends, a rectangle's along x and y. */
function endsOf({
  inMm,
  outMm,
  inHeightMm,
  outHeightMm,
  zInMm,
  zOutMm,
}: NonNullable<Lamp['tunnel']>): [number, number][] {
  const ends: [number, number][] = [
    [inMm / 2, zInMm],
    [outMm / 2, zOutMm],
  ]
  if (inHeightMm !== undefined && outHeightMm !== undefined)
    ends.push([inHeightMm / 2, zInMm], [outHeightMm / 2, zOutMm])
  return ends
}

const keyOf = ({ tiltDeg, azimuthDeg }: Direction): string => `${tiltDeg} ${azimuthDeg}`

export const isIn = (grid: readonly Direction[], at: Direction): boolean =>
  grid.some((g) => g.tiltDeg === at.tiltDeg && g.azimuthDeg === at.azimuthDeg)

export const hottestIn = (zone: AirZone, places: readonly AirPlace[]): AirPlace | null =>
  places
    .filter((p) => p.zone === zone)
    .reduce<AirPlace | null>((a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b), null)

const zoneOfSpot = (s: SunAtTilt): AirZone => (s.lands === 'front' || s.lands === 'outside' ? s.lands : 'inside')

/** kW/m² of the hottest spot of a zone; what lies on the parts is inside. */
export const strengthIn = (zone: AirZone, { spots }: Seen): number =>
  spots.reduce((most, s) => (zoneOfSpot(s) === zone ? Math.max(most, s.kWm2) : most), 0)

/**
 * Whether readings in a zone can be told apart from direction to direction: the hottest spot of all is known well enough. A climb over
 * readings of a few rays each only finds the direction where chance has put most of them.
 */
export function canCompare(zone: AirZone, seen: readonly Seen[]): boolean {
  const top = seen
    .flatMap(({ spots }) => spots.filter((s) => zoneOfSpot(s) === zone))
    .reduce<SunAtTilt | null>((a, b) => (a && a.kWm2 >= b.kWm2 ? a : b), null)
  return top !== null && top.se <= MOST_DOUBT * top.kWm2
}

/** The direction of those seen that is strongest in a zone; null: none has anything there. */
export function strongestIn(zone: AirZone, seen: readonly Seen[]): Direction | null {
  const top = seen.reduce<Seen | null>((a, b) => (a && strengthIn(zone, a) >= strengthIn(zone, b) ? a : b), null)
  return top && strengthIn(zone, top) > 0 ? top : null
}

/** A direction that is worth more rays, and the zones in which it is. */
export interface Strong extends Direction {
  zones: AirZone[]
}

/**
 * Directions of a coarse grid that are worth more rays: of each zone those whose upper end comes near its strongest, and of each tilt the strongest of
 * all, in the zone of its hottest spot. What is left out keeps its few rays and their wider ±, whose upper end counts.
 */
export function strongOf(seen: readonly Seen[], zones: readonly AirZone[]): Strong[] {
  const upper = (zone: AirZone, { spots }: Seen) =>
    spots.reduce((most, s) => (zoneOfSpot(s) === zone ? Math.max(most, upperKWm2(s)) : most), 0)
  const strong = new Map(
    zones.map((zone) => {
      const most = seen.reduce((m, s) => Math.max(m, strengthIn(zone, s)), 0)
      const near = seen.filter((s) => upper(zone, s) > 0 && upper(zone, s) >= STRONG_SHARE * most)
      return [zone, new Set(near.sort((a, b) => upper(zone, b) - upper(zone, a)).slice(0, STRONG_MOST))]
    }),
  )
  const hottest = (s: Seen) => zones.reduce((a, b) => (upper(b, s) > upper(a, s) ? b : a))
  for (const tiltDeg of distinct(seen.map((s) => s.tiltDeg))) {
    const top = seen
      .filter((s) => s.tiltDeg === tiltDeg)
      .reduce((a, b) => (upper(hottest(a), a) >= upper(hottest(b), b) ? a : b))
    strong.get(hottest(top))?.add(top)
  }
  return seen.flatMap((s) => {
    const own = zones.filter((zone) => strong.get(zone)?.has(s))
    return own.length > 0 ? [{ tiltDeg: s.tiltDeg, azimuthDeg: s.azimuthDeg, zones: own }] : []
  })
}

export interface Ball {
  centre: readonly [number, number, number]
  radiusMm: number
}

interface Tries<R> {
  record: (at: Direction) => R
  /** `near`: only there; by default the whole region. */
  read: (recorded: R, near?: Ball) => Promise<Seen>
  scheduler: Scheduler
}

/** The most among directions next to one, itself included; on the axis every azimuth is next. */
const strengthAbout = (zone: AirZone, at: Direction, rows: readonly (readonly Seen[])[]): number =>
  rows
    .flat()
    .filter((s) => at.tiltDeg === 0 || s.tiltDeg === 0 || turnBetween(s.azimuthDeg, at.azimuthDeg) < NEXT_DEG)
    .reduce((most, s) => Math.max(most, strengthIn(zone, s)), 0)

const turnBetween = (a: number, b: number): number => Math.abs(((((a - b) % 360) + 540) % 360) - 180)

interface Try {
  there: Direction
  step: number
  turn: number
}

/** Up, down and round about, with steps that are halved as long as none is better. */
function* triesFrom(at: Direction, step: number, turn: number, tried: ReadonlySet<string>): Generator<Try, undefined> {
  for (; step >= NARROWEST_STEP_DEG; step /= 2, turn /= 2) {
    const ways = [
      [step, 0],
      [-step, 0],
      ...(turn > 0
        ? [
            [0, turn],
            [0, -turn],
          ]
        : []),
    ] as [number, number][]
    for (const [up, round] of ways) {
      const there = { tiltDeg: hundredths(at.tiltDeg + up), azimuthDeg: at.azimuthDeg + round }
      if (there.tiltDeg < 0 || there.tiltDeg > 85 || tried.has(keyOf(there))) continue
      yield { there, step, turn }
    }
  }
}

/**
 * The direction that is worst in a zone: compass search from the strongest local maxima over tilt and azimuth, on the same rays for every direction;
 * null where none is over the floor.
 */
export async function climbDirections<R>(
  zone: AirZone,
  seen: readonly Seen[],
  azimuthStepDeg: number,
  { record, read, scheduler }: Tries<R>,
): Promise<Direction | null> {
  const tilts = distinct(seen.map((s) => s.tiltDeg))
  const byTilt = tilts.map((tiltDeg) => seen.filter((s) => s.tiltDeg === tiltDeg))
  const starts = byTilt
    .flatMap((row, k) => row.map((at) => ({ at, k, kWm2: strengthIn(zone, at) })))
    .filter(({ at, k, kWm2 }) => kWm2 > 0 && kWm2 >= strengthAbout(zone, at, byTilt.slice(Math.max(0, k - 1), k + 2)))
    .sort((a, b) => b.kWm2 - a.kWm2)
    .slice(0, STARTS)
    .filter(({ kWm2 }, _, all) => kWm2 > 0.6 * all[0]!.kWm2)
  let best: { at: Direction; kWm2: number } | null = null
  for (const { at: start, k } of starts) {
    let last: Seen = start
    let at: Direction = last
    // What was less once is never more: the rays are the same in every direction.
    const tried = new Set([keyOf(at)])
    let most = strengthIn(zone, last)
    const step = Math.max(tilts[k]! - (tilts[k - 1] ?? 0), (tilts[k + 1] ?? tilts[k]!) - tilts[k]!) / 2
    let tries = triesFrom(at, step, azimuthStepDeg / 2, tried)
    const recordNext = () => {
      const { value } = tries.next()
      return value && { ...value, recorded: record(value.there) }
    }
    for (let next = recordNext(); next; ) {
      await scheduler.checkpoint()
      const { there, step, turn, recorded } = next
      tried.add(keyOf(there))
      // Traced while this one is read: what comes next where this one is no better, and else for nothing.
      next = recordNext()
      const found = await read(recorded, aboutPlace(hottestIn(zone, last.places), step + turn))
      const kWm2 = strengthIn(zone, found)
      if (kWm2 <= most) continue
      ;[at, most, last] = [there, kWm2, found]
      tries = triesFrom(at, step, turn, tried)
      next = recordNext()
    }
    if (!best || most > best.kWm2) best = { at, kWm2: most }
  }
  return best?.at ?? null
}
