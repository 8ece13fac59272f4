// Light that leaves where no beam should: beside and behind the lamp, by distance from it.
import { widestReachMm } from '../../lamp/body.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { widestTunnelMm } from '../../lamp/section.ts'
import type { TimeSliced } from '../../num/scheduler.ts'
import { clipToBall, LEAKED_SEGMENT, type Segments, selectSegments } from '../../run/segments.ts'
import { upperKWm2 } from '../discs.ts'
import type { CurvePoint } from '../front.ts'
import { climbDisc } from './climb.ts'
import { findDensePoints } from './grid.ts'
import { type AirPlace, measureUnseen, type OnLeftOut, takeHalf } from './search.ts'
import { makeZoneOf, searchedBall } from './zones.ts'

export interface Beside {
  /** W that leave so: out of gaps, past the face, past the lens. */
  leakedW: number
  /** The hottest place outside; null: nowhere over the floor. */
  worst: AirPlace | null
  /** Hottest disc in each shell about the lamp, by the shell's outer distance; empty where nothing is over the floor. */
  curve: CurvePoint[]
}

/** Shells about the lamp end at these distances, mm: 300 mm is where a wall or a floor is taken to stand (physics.md, section 9). */
const SHELLS_MM = [30, 100, 200, 300, 500, 700, 1000]
const SEARCH_SEGMENTS = 60_000
const OUTSIDE = 2

/**
 * The hottest places beside and behind the lamp, kW/m² over `discMm` on discs that face the light, from the segments that leak. Distances
 * from the lamp's outline, mm. `floorKWm2`: weaker places are left out. Time-sliced.
 */
export function* readBeside(
  segments: Segments,
  lamp: Lamp,
  { discMm, floorKWm2, onLeftOut }: { discMm: number; floorKWm2: number; onLeftOut?: OnLeftOut },
): TimeSliced<Beside> {
  const leaked = selectSegments(segments, (i) => (segments.flags[i]! & LEAKED_SEGMENT) !== 0)
  const leakedW = leaked.watts.reduce((a, b) => a + b, 0)
  const ball = searchedBall(lamp, SHELLS_MM.at(-1)!)
  const near = clipToBall(leaked, ball.centre, ball.radiusMm)
  if (near.count === 0) return { leakedW, worst: null, curve: [] }
  yield
  const half = takeHalf(near, 0, SEARCH_SEGMENTS)
  const shellOf = makeShellOf(lamp, discMm)
  const dense = findDensePoints(half, {
    discMm,
    floorKWm2: 0.5 * floorKWm2,
    share: 0.5,
    zoneOf: shellOf,
    zones: SHELLS_MM.length,
    most: 3,
    partMm: discMm,
    ...(onLeftOut && { onLeftOut: (_, upToKWm2) => onLeftOut('outside', upToKWm2) }),
  })
  const best: (AirPlace | null)[] = SHELLS_MM.map(() => null)
  for (const point of dense) {
    yield
    const disc = climbDisc(half, point, discMm, { mayLie: (x, y, z) => shellOf(x, y, z) === point.zone })
    if (!disc) continue
    const { spread, ...facing } = disc
    const place: AirPlace = {
      ...facing,
      ...measureUnseen(near, disc, discMm),
      discMm,
      zone: 'outside',
      spreadRad: spread,
    }
    const known = best[point.zone]
    if (upperKWm2(place) >= floorKWm2 && (!known || upperKWm2(place) > upperKWm2(known))) best[point.zone] = place
  }
  const curve = best.flatMap((place, k) =>
    place ? [{ distanceMm: SHELLS_MM[k]!, kWm2: place.kWm2, se: place.se, discMm }] : [],
  )
  const worst = best.reduce((a, b) => (a && (!b || upperKWm2(a) >= upperKWm2(b)) ? a : b), null)
  return { leakedW, worst, curve }
}

/** Number of the shell about the lamp's outline that a point outside lies in; −1: inside, before the lamp, or beyond the last. */
function makeShellOf(lamp: Lamp, discMm: number): (x: number, y: number, z: number) => number {
  const zoneOf = makeZoneOf(lamp, discMm)
  const widest = Math.max(lamp.face.sizeMm / 2, widestTunnelMm(lamp.tunnel) / 2, widestReachMm(lamp) ?? 0)
  return (x, y, z) => {
    if (zoneOf(x, y, z) !== OUTSIDE) return -1
    // From the cylinder about the lamp: a place in the hollow beside a narrow face counts as on it.
    const beside = Math.max(0, Math.sqrt(x * x + y * y) - widest)
    const behind = Math.max(0, -z)
    const away = Math.sqrt(beside * beside + behind * behind)
    for (let shell = 0; shell < SHELLS_MM.length; shell++) if (away <= SHELLS_MM[shell]!) return shell
    return -1
  }
}
