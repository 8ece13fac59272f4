// The searches in front of the lamp: about its beam, and, where some of its light leaves aside, about all of it.
import { readByDisc } from '../../hazard/air/search.ts'
import { searchedBall } from '../../hazard/air/zones.ts'
import { type Focus, searchFoci } from '../../hazard/foci.ts'
import { type Front, searchFront } from '../../hazard/front.ts'
import { joinFronts } from '../../hazard/frontWhole.ts'
import { SMALL_DISC_MM } from '../../hazard/inTheWay.ts'
import { scanPlanes } from '../../hazard/scan.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { TimeSliced } from '../../num/scheduler.ts'
import type { RayColumns } from '../../run/exits.ts'
import { segmentsOfColumns } from '../../run/segments.ts'

/** Light that crosses the front's plane. */
export interface LightInFront {
  beam: RayColumns
  /** The beam, and the light that leaves where it shouldn't. */
  all: RayColumns
}

export interface SearchedFront {
  front: Front
  foci: Focus[]
  /** Of the search about all light, where there was one. */
  aside: Front | null
}

const LOOK_RAYS = 65_536
const MEASURE_RAYS = 262_144
/** Smaller discs are searched so far out: beyond, an image of anything is wider than they are. */
const SMALL_TO_MM = 10_000

/**
 * The hottest disc by distance (mm, kW/m² over the lamp's disc), the worst place and the foci over floorKWm2. Light past the lens may run
 * far aside of the beam, and a lattice about all of it is coarse: then both are searched. Time-sliced.
 */
export function* searchInFront(light: LightInFront, lamp: Lamp, floorKWm2: number): TimeSliced<SearchedFront> {
  const { beam, all } = light
  const { hotDiscMm: discMm } = lamp.reading
  const about = beam.count > 0 ? beam : all
  const wanted = { discMm, lookRays: LOOK_RAYS, about, floorKWm2: 0.5 * floorKWm2 }
  const scan = all.count > 0 ? yield* scanPlanes(all, wanted) : undefined
  const known = scan ? { scan } : {}
  const front = yield* searchFront(all, { discMm, measureRays: MEASURE_RAYS, ...known })
  const foci = yield* searchFoci(all, { discMm, floorKWm2, about, lookRays: LOOK_RAYS, ...known })
  if (!(all.count > beam.count && beam.count > 0)) return { front, foci, aside: null }
  const { centre, radiusMm } = searchedBall(lamp, 0)
  const source = { radiusMm, behindMm: frontZMm(lamp) - centre[2] }
  const wide = yield* scanPlanes(all, { discMm, lookRays: LOOK_RAYS, source })
  const aside = yield* searchFront(all, { discMm, measureRays: MEASURE_RAYS, scan: wide })
  return { front: joinFronts(front, aside), foci, aside }
}

/** As the front, over the small disc that skin, paper and film are judged by; aside of the beam at the worst place only. */
export function* searchSmallDiscs({ beam, all }: LightInFront, aside: Front | null): TimeSliced<Front> {
  const discMm = SMALL_DISC_MM
  const about = beam.count > 0 ? beam : all
  const scan =
    all.count > 0 ? yield* scanPlanes(all, { discMm, lookRays: 32_768, about, farMm: SMALL_TO_MM }) : undefined
  const front = yield* searchFront(all, { discMm, measureRays: 131_072, ...(scan ? { scan } : {}) })
  if (!aside?.worst) return front
  yield
  const { xMm, yMm, zMm } = aside.worst
  const small = readByDisc(segmentsOfColumns(all), aside.worst).find((d) => d.discMm === discMm)
  if (!small) return front
  const worst = { xMm, yMm, zMm, ...small }
  const { kWm2, se } = small
  return joinFronts(front, { worst, curve: [{ distanceMm: zMm - all.zMm, kWm2, se, discMm }] })
}
