// All foci in front of the lamp: every place where light runs together to a disc that is hotter than what lies about it. The search of the
// worst place (front.ts) gives one place and the hottest disc of each plane; an array before or behind the focus of its lens throws many
// images, at several distances and off the axis.
import type { TimeSliced } from '../num/scheduler.ts'
import { T95 } from '../num/stats.ts'
import type { RayColumns } from '../run/exits.ts'
import type { HotSpot } from '../run/figure.ts'
import { type Segments, segmentsOfColumns } from '../run/segments.ts'
import { climbDisc, moveToWaist } from './air/climb.ts'
import { type FacingDisc, makeFacingReader, measureFacing } from './air/disc.ts'
import { measureUnseen, takeHalf } from './air/search.ts'
import { type PlaneScan, scanPlanes } from './scan.ts'

export interface Focus extends HotSpot {
  /** From the lamp's front. */
  distanceMm: number
  /** Half angle of the cone of rays that meet there, rad. */
  coneHalfRad: number
}

export interface FociOptions {
  discMm: number
  /** Foci whose upper end stays under this are not listed. */
  floorKWm2?: number
  /** Rays to search with. */
  lookRays?: number
  /** So many, the hottest first. */
  most?: number
  /** The rays that say how wide the search goes, where some others run far aside; by default all. */
  about?: RayColumns
  /** Planes of these rays, with the same disc, that were scanned before. */
  scan?: PlaneScan
}

/** Spots are searched at the disc's size, and wider ones at three and nine times it. */
const SCALES = [1, 3, 9]
const FIRST_MM = 1
const MIN_CONTRAST = 1.25
/** Standard deviations that a focus stands over what lies about it. */
const MIN_SIGMAS = 6
const SEARCH_SEGMENTS = 80_000
/** More starts than foci wanted are climbed, since some lead to the same focus or to none. */
const STARTS_EACH = 4

interface Start {
  xMm: number
  yMm: number
  distanceMm: number
  plane: number
  kWm2: number
  /** Diameter of the disc that found it. */
  sizeMm: number
}

/**
 * The foci in front of the columns' plane, hottest first: kW/m² over a disc of options.discMm that faces the light, error, place and
 * distance (mm), half angle of the cone of rays (rad). Empty without light. Time-sliced. Our own method, no source.
 */
export function* searchFoci(rays: RayColumns, options: FociOptions): TimeSliced<Focus[]> {
  const { discMm, floorKWm2 = 0.5, lookRays = 65_536, most = 40 } = options
  if (rays.count === 0) return []
  const starts: Start[] = []
  for (const scale of SCALES) {
    const sizeMm = scale * discMm
    // Wider discs hold more rays.
    const wanted = { discMm: sizeMm, lookRays: lookRays / scale, floorKWm2: 0.5 * floorKWm2, ...aboutOf(options) }
    const { planes, spread } = scale === 1 && options.scan ? options.scan : yield* scanPlanes(rays, wanted)
    const found = planes.flatMap(({ distanceMm, maxima }, plane) =>
      maxima.map((spot): Start => ({ ...spot, plane, distanceMm, sizeMm })),
    )
    const distances = planes.map((p) => p.distanceMm)
    starts.push(...keepStrongest(found, distances, spread.slope, sizeMm))
  }
  starts.sort((a, b) => b.kWm2 - a.kWm2)
  return yield* climbAll(rays, starts, { discMm, floorKWm2, most })
}

const aboutOf = ({ about }: FociOptions) => (about ? { about } : {})

/** Starts without a stronger one beside them on the next planes. */
function keepStrongest(found: readonly Start[], distances: readonly number[], slope: number, sizeMm: number): Start[] {
  const byPlane = new Map<number, Start[]>()
  for (const s of found) byPlane.set(s.plane, [...(byPlane.get(s.plane) ?? []), s])
  return found.filter((s) =>
    [-1, 1].every((side) => {
      const next = distances[s.plane + side]
      if (next === undefined) return true
      const within = sizeMm + slope * Math.abs(next - s.distanceMm)
      return (byPlane.get(s.plane + side) ?? []).every(
        // A small spot is whole in the disc on several planes: of equal ones the nearest stays.
        (o) =>
          o.kWm2 < s.kWm2 ||
          (o.kWm2 === s.kWm2 && o.plane > s.plane) ||
          Math.hypot(o.xMm - s.xMm, o.yMm - s.yMm) > within,
      )
    }),
  )
}

function* climbAll(
  rays: RayColumns,
  starts: readonly Start[],
  { discMm, floorKWm2, most }: { discMm: number; floorKWm2: number; most: number },
): TimeSliced<Focus[]> {
  const segments = segmentsOfColumns(rays)
  const half = takeHalf(segments, 0, SEARCH_SEGMENTS)
  const { zMm } = rays
  const mayLie = (_x: number, _y: number, z: number) => z >= zMm + FIRST_MM
  const findSmaller = (from: FacingDisc) => {
    const climbed = climbDisc(half, from, discMm, { mayLie })
    return climbed && moveToWaist(segments, climbed, discMm, mayLie)
  }
  const out: (Focus & { sizeMm: number })[] = []
  for (const start of starts.slice(0, STARTS_EACH * most)) {
    yield
    const { sizeMm } = start
    const at = { xMm: start.xMm, yMm: start.yMm, zMm: zMm + start.distanceMm }
    if (out.some((f) => isSameFocus(f, at, sizeMm))) continue
    const climbed = climbDisc(half, at, sizeMm, { mayLie })
    // From its waist: on one side of a place beside it the light may be as close together as there.
    const wide = climbed && moveToWaist(segments, climbed, sizeMm, mayLie)
    if (!wide || !standsOut({ segments, half, frontZMm: zMm }, wide, sizeMm)) continue
    const disc = sizeMm === discMm ? wide : findSmaller(wide)
    if (!disc || out.some((f) => isSameFocus(f, disc, sizeMm))) continue
    const { kWm2, se } = measureUnseen(segments, disc, discMm)
    if (kWm2 + T95 * se < floorKWm2) continue
    const focus = { xMm: disc.xMm, yMm: disc.yMm, zMm: disc.zMm, distanceMm: disc.zMm - zMm, kWm2, se, discMm }
    const coneHalfRad = Math.atan(Math.SQRT2 * wide.spread)
    // The hottest disc of a wide spot may lie in the cone of a focus that is known.
    if (sizeMm > discMm && out.some((f) => f.kWm2 > kWm2 && isInConeOf(f, focus))) continue
    out.push({ ...focus, coneHalfRad, sizeMm })
  }
  return out
    .sort((a, b) => b.kWm2 - a.kWm2)
    .slice(0, most)
    .map(({ sizeMm: _, ...focus }) => focus)
}

type Place = Pick<HotSpot, 'xMm' | 'yMm' | 'zMm'>

/** Within the light that comes from a focus or goes to it; the cone is taken as straight and half as wide again. */
const isInConeOf = (f: Focus, { xMm, yMm, zMm }: Place): boolean =>
  Math.hypot(f.xMm - xMm, f.yMm - yMm) <= 1.5 * f.discMm + 1.5 * Math.tan(f.coneHalfRad) * Math.abs(f.zMm - zMm)

/** Within one and a half of the discs that found them across, and within the depth where the cone leaves such a disc. */
function isSameFocus(f: Focus & { sizeMm: number }, { xMm, yMm, zMm }: Place, sizeMm: number): boolean {
  const across = Math.hypot(f.xMm - xMm, f.yMm - yMm)
  const size = Math.max(f.sizeMm, sizeMm)
  const depth = Math.max(size, (2 * size) / Math.max(1e-3, Math.tan(f.coneHalfRad)))
  return across <= 1.5 * size && Math.abs(f.zMm - zMm) <= depth
}

const RING_DISCS = 1.3
const AROUND = Array.from({ length: 8 }, (_, k) => [Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4)] as const)

/**
 * Only a focus if it is clearly hotter than what lies about it: on a ring, and before and behind it where an even cone would have spread
 * over four times the disc; there the strongest place near by counts, so that the flank of a wider cone is none.
 */
function standsOut(
  { segments, half, frontZMm }: { segments: Segments; half: Segments; frontZMm: number },
  disc: FacingDisc & { spread: number },
  sizeMm: number,
): boolean {
  const read = (at: FacingDisc) => measureFacing(segments, at, sizeMm).all
  const readBeside = makeFacingReader(segments, disc, sizeMm, RING_DISCS * sizeMm)
  const here = read(disc)
  const over = (other: number, times = MIN_CONTRAST) =>
    here.kWm2 >= times * other && here.kWm2 - other >= MIN_SIGMAS * here.se
  const n = [disc.dx, disc.dy, disc.dz] as const
  const u = unit([n[2], 0, -n[0]])
  const v = [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]] as const
  const ring = AROUND.map(([x, y]) => {
    const [a, b] = [RING_DISCS * sizeMm * x, RING_DISCS * sizeMm * y]
    return readBeside(shift(disc, [a * u[0] + b * v[0], a * u[1] + b * v[1], a * u[2] + b * v[2]])).all.kWm2
  })
  if (!over(ring.reduce((a, b) => a + b, 0) / ring.length) || ring.some((r) => r > here.kWm2)) return false
  const depth = sizeMm / Math.max(1e-4, Math.SQRT2 * disc.spread)
  return [-depth, depth].every((along) => {
    // No further back than the front.
    const step = Math.max(along, (frontZMm + FIRST_MM - disc.zMm) / Math.max(1e-3, n[2]))
    const from = shift(disc, [step * n[0], step * n[1], step * n[2]])
    const best = climbDisc(half, from, sizeMm, { across: n })
    return !best || over(read(best).kWm2)
  })
}

function unit(v: readonly [number, number, number]): [number, number, number] {
  const length = Math.hypot(...v)
  return [v[0] / length, v[1] / length, v[2] / length]
}

const shift = (disc: FacingDisc, [x, y, z]: readonly [number, number, number]): FacingDisc => ({
  ...disc,
  xMm: disc.xMm + x,
  yMm: disc.yMm + y,
  zMm: disc.zMm + z,
})
