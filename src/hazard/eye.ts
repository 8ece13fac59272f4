// What an eye meets at a place near the lamp: radiance by field of view, weighted for the retina, from the rays that pass its
// pupil. IEC 62471:2006 (CIE S 009:2002). Screening, hot side: the upper end of ±; never more than the emitters' own radiance,
// which no lens raises, nor than all that arrives there out of one field of view.
import { countUpper } from '../num/stats.ts'
import { findFullestField, findOwnFullestField, type Seen, seeFrom, sharpPupilMm } from './eyeFields.ts'
import { blueSeconds, FIELDS_RAD, type FieldRadiance, type SourceRadiance, thermalSeconds } from './eyeLimits.ts'
import { oddStep, type Place3 } from './eyePlaces.ts'
import type { EyeRays } from './eyeRays.ts'
import { type Column, MIN_FIELD_RAYS, peakSums, type Upper, upperSums } from './eyeSums.ts'

export interface EyeReading {
  /** From the nearest point of the lamp. */
  distanceMm: number
  /** Off the axis of the lamp, from the middle of its front. */
  angleDeg: number
  place: Place3
  /** On the pupil, unweighted, upper end. */
  irradianceWm2: number
  /** Half the width of ± at 95 %, as a share of the irradiance's own value. */
  plusShare: number
  illuminanceLx: number
  blueIrradianceWm2: number
  thermalIrradianceWm2: number
  /** Angle that the lit source fills, rad. */
  subtendsRad: number
  /** Upper ends. */
  fields: FieldRadiance[]
  /** The same without ±. */
  means: FieldRadiance[]
  /** Longest exposure before the blue-light limit; null: no limit within 10 000 s. */
  blueSeconds: number | null
  /** The same of the retinal thermal limit; null: none within 10 s. */
  thermalSeconds: number | null
}

/** Radius of the pupil, mm: IEC 62471:2006, section 4.2.1, and the dark-adapted eye. */
const PUPIL_MM = 3.5
/** The pupil is widened while the light is as strong there, to this angle of the distance and this radius at the most. */
const WIDEST_RAD = 0.03
const WIDEST_NEAR_MM = 60
/** Where so few rays pass, to this angle until so many would: as much of the way to stronger light as there is room for. */
export const SPARSE_RAD = 0.1
const SPARSE_RAYS = 24
const GROWTH = 1.5
/** Shares by which the mean over a wider pupil may fall below the strongest so far, at the lower end of chance. */
const EVEN = 0.93
/** The place was chosen among thousands where most rays pass: by chance alone that is so many standard deviations of counts above the mean. */
const CHANCE_SIGMAS = 4.5
/** So many are enough for the narrowest pupil that is read as well: 2 · 5 % of chance. */
const GOOD_RAYS = 400
/** And for the wider of the two that tell of a peak: 1.753 · 2.25 · 3 % at the most. */
const PEAK_RAYS = 1200
const MOST_SEEN = 4500
/** A source that is smaller than this share of a field lies in it as a whole. */
const WHOLE = 0.8

/**
 * What an eye at a place (mm, lamp's frame) receives of rays: radiance by field of view, W/m²sr, irradiance W/m²,
 * illuminance lx, exposure limits in s; upper ends of ±. `source`: no more than the emitters' radiance. The eye looks
 * straight at whatever shines. IEC 62471:2006; screening only. Where no ray passes, what as few as that can leave unseen.
 */
export function readEye(
  rays: EyeRays,
  place: Place3,
  { distanceMm, angleDeg }: { distanceMm: number; angleDeg: number },
  source: SourceRadiance,
  passing: Passing = collectPassing(rays, [place], distanceMm)[0]!,
): EyeReading {
  const even = widestEven(rays, passing)
  // Nearer the middle it may be stronger still: there too, as far in as there are enough rays.
  const core = passing.counts.findIndex((n) => n >= GOOD_RAYS)
  const pupils = (core >= 0 && core < even ? [even, core] : [even]).map((level) =>
    upperSums(rays, within(passing, level), 1e6 / (Math.PI * radiusAt(level) ** 2)),
  )
  // The eye's own pupil smooths nothing that counts.
  if (core > 0) {
    const enough = passing.counts.findIndex((n) => n >= PEAK_RAYS)
    pupils.push(peakAt(rays, passing, enough > 0 ? Math.min(enough, even) : even))
  }
  const arriving = (of: Column) => pupils.map((p) => p[of]).reduce((a, b) => (b.upper > a.upper ? b : a))
  const irradiance = arriving('watts')
  const blue = arriving('blue')
  const thermal = arriving('thermal')
  const subtendsRad = sourceAngleRad(rays, within(passing, even), place)
  const eye = { rays, place, passing, even, subtendsRad }
  const { fields, means } = readFields(eye, { blueWm2sr: blue, thermalWm2sr: thermal }, source)
  return {
    distanceMm,
    angleDeg,
    place: { xMm: place.xMm, yMm: place.yMm, zMm: place.zMm },
    irradianceWm2: irradiance.upper,
    plusShare: irradiance.value > 0 ? irradiance.upper / irradiance.value - 1 : 0,
    illuminanceLx: arriving('lumens').upper,
    blueIrradianceWm2: blue.upper,
    thermalIrradianceWm2: thermal.upper,
    subtendsRad,
    fields,
    means,
    blueSeconds: blueSeconds(fields, source),
    thermalSeconds: thermalSeconds(fields, source),
  }
}

/** Rays that pass near a place, from the middle outwards: `counts[k]` of them within the pupil's radius times GROWTH ** k. */
export interface Passing {
  index: Uint32Array
  counts: number[]
}

const radiusAt = (level: number): number => PUPIL_MM * GROWTH ** level
const within = ({ index, counts }: Passing, level: number): Uint32Array => index.subarray(0, counts[level]!)

/** In the middle, from the pupils of a level and of the one below. */
function peakAt(rays: EyeRays, passing: Passing, level: number): Record<Column, Upper> {
  const [wideMm, narrowMm] = [radiusAt(level), radiusAt(level - 1)]
  return peakSums(rays, within(passing, level), {
    narrow: passing.counts[level - 1] ?? 0,
    narrowMm,
    wideMm,
    ownMm: PUPIL_MM,
  })
}

/** A place; how many rays cross a square millimetre there, 0 lets the pupil be as wide as it may; how far it may be widened for want of rays, mm. */
export type RoomyPlace = Place3 & { raysPerMm2?: number; roomMm?: number }

/** More rays than these make no figure better. */
const MOST_PASSING = 9000

function levelsFor({ raysPerMm2 = 0, roomMm = 0 }: RoomyPlace, distanceMm: number): number {
  const radiusOf = (count: number) => Math.sqrt(count / (Math.PI * raysPerMm2))
  const sparse = Math.min(SPARSE_RAD * distanceMm, roomMm, radiusOf(SPARSE_RAYS))
  const widest = Math.max(WIDEST_NEAR_MM, WIDEST_RAD * distanceMm, sparse)
  const enough = radiusOf(MOST_PASSING)
  return Math.max(0, Math.round(Math.log(Math.min(widest, enough) / PUPIL_MM) / Math.log(GROWTH)))
}

interface Net {
  index: Uint32Array
  level: Uint8Array
  n: number
}

function grow(net: Net): void {
  const [index, level] = [net.index, net.level]
  net.index = new Uint32Array(2 * index.length)
  net.level = new Uint8Array(2 * level.length)
  net.index.set(index)
  net.level.set(level)
}

/**
 * The rays that pass near each of several places at one distance (mm), within what a pupil may be widened to. All places at
 * once, because reading the rays takes most of the time.
 */
export function collectPassing(rays: EyeRays, places: readonly RoomyPlace[], distanceMm: number): Passing[] {
  if (places.length === 0) return []
  const levels = places.map((p) => levelsFor(p, distanceMm))
  const reaches = Float64Array.from(levels, (n) => radiusAt(n) ** 2)
  const perLevel = 0.5 / Math.log(GROWTH)
  const at = Float64Array.from(places.flatMap((p) => [p.xMm, p.yMm, p.zMm]))
  const nets = places.map((): Net => ({ index: new Uint32Array(4096), level: new Uint8Array(4096), n: 0 }))
  for (let i = 0; i < rays.count; i++) {
    const x0 = rays.xMm[i]!
    const y0 = rays.yMm[i]!
    const z0 = rays.zMm[i]!
    const dx = rays.dx[i]!
    const dy = rays.dy[i]!
    const dz = rays.dz[i]!
    for (let p = 0; p < nets.length; p++) {
      const y = at[3 * p + 1]! - y0
      const z = at[3 * p + 2]! - z0
      // By the cross product: the difference of two squares would lose the metres' digits.
      const reach = reaches[p]!
      const a = y * dz - z * dy
      if (a * a > reach) continue
      const x = at[3 * p]! - x0
      const b = z * dx - x * dz
      const c = x * dy - y * dx
      const square = a * a + b * b + c * c
      if (square > reach || x * dx + y * dy + z * dz <= 0) continue
      const net = nets[p]!
      if (net.n === net.index.length) grow(net)
      net.index[net.n] = i
      net.level[net.n++] =
        square <= PUPIL_MM ** 2 ? 0 : Math.min(levels[p]!, Math.ceil(perLevel * Math.log(square / PUPIL_MM ** 2)))
    }
  }
  return nets.map((net, p) => sortedByLevel(net, levels[p]!))
}

function sortedByLevel({ index, level, n }: Net, levels: number): Passing {
  const ends = new Array<number>(levels + 1).fill(0)
  for (let k = 0; k < n; k++) ends[level[k]!]!++
  let sum = 0
  const starts = ends.map((count) => {
    sum += count
    return sum - count
  })
  const sorted = new Uint32Array(n)
  // In each level in the order of the rays; each start ends as the next one's.
  for (let k = 0; k < n; k++) sorted[starts[level[k]!]!++] = index[k]!
  return { index: sorted, counts: starts }
}

/** The highest level up to which the light is as even as can be told. */
function widestEven(rays: EyeRays, { index, counts }: Passing): number {
  let [sum, square, strongest, even, k] = [0, 0, 0, 0, 0]
  for (let level = 0; level < counts.length; level++) {
    for (; k < counts[level]!; k++) {
      const watts = rays.thermal[index[k]!]!
      sum += watts
      square += watts * watts
    }
    const area = radiusAt(level) ** 2
    if (sum / area < EVEN * strongest) break
    even = level
    strongest = Math.max(strongest, (sum - CHANCE_SIGMAS * Math.sqrt(square)) / area)
  }
  return even
}

type Weighted = 'blueWm2sr' | 'thermalWm2sr'
/** W/m² that arrive, or those out of one field. */
type Arriving = Record<Weighted, Upper>

interface Looking {
  rays: EyeRays
  place: Place3
  passing: Passing
  /** Level up to which the light is even. */
  even: number
  subtendsRad: number
}

/** From the widest field down: a narrow one holds no more than the wide one about it, and its brightest place is no darker. */
function readFields(
  eye: Looking,
  arriving: Arriving,
  source: SourceRadiance,
): { fields: FieldRadiance[]; means: FieldRadiance[] } {
  const fields: FieldRadiance[] = []
  const means: FieldRadiance[] = []
  const known = new Map<number, Seen>()
  const see = (level: number) => {
    const seen = known.get(level) ?? takeSeen(eye, level)
    known.set(level, seen)
    return seen
  }
  for (const fieldRad of [...FIELDS_RAD].reverse()) {
    // All of a small source is in the field, wherever it looks.
    const counted = eye.subtendsRad < WHOLE * fieldRad ? null : countedIn(eye, fieldRad, see)
    // Of too few rays in a narrower field the power of the wider one is the bound; nothing but all that arrives bounds the widest.
    const upper = counted?.upper ?? (counted && !fields[0] ? fewIn(eye, fieldRad, see) : null)
    fields.unshift(boundField(fieldRad, fields[0], (of) => [arriving[of].upper, upper?.[of]], source))
    means.unshift(boundField(fieldRad, means[0], (of) => [arriving[of].value, counted?.value[of]], source))
  }
  return { fields, means }
}

/** Radiance of a field of what arrives in all and what was counted in it (W/m²), no more than the emitters' own and than the power of the field about it. */
function boundField(
  fieldRad: number,
  wider: FieldRadiance | undefined,
  wm2: (of: Weighted) => readonly [number, number | undefined],
  source: SourceRadiance,
): FieldRadiance {
  const sr = (Math.PI / 4) * fieldRad ** 2
  const bound = (of: Weighted): [number, FieldRadiance['by']] => {
    const [arriving, counted = Number.POSITIVE_INFINITY] = wm2(of)
    const most = wider ? wider[of] * (wider.fieldRad / fieldRad) ** 2 : Number.POSITIVE_INFINITY
    const all = Math.min(arriving / sr, most)
    const least = Math.min(all, source[of], counted / sr)
    const by = least === source[of] ? 'source' : least === all ? 'arriving' : 'rays'
    return [Math.max(wider?.[of] ?? 0, least), by]
  }
  const [blueWm2sr] = bound('blueWm2sr')
  const [thermalWm2sr, by] = bound('thermalWm2sr')
  return { fieldRad, blueWm2sr, thermalWm2sr, by }
}

/** The widest level that keeps a field sharp. */
function sharpLevel({ even }: Looking, fieldRad: number, see: (level: number) => Seen): number {
  const sharp = Math.log(sharpPupilMm(fieldRad, see(even).nearestMm) / PUPIL_MM) / Math.log(GROWTH)
  return Math.max(0, Math.min(even, Math.floor(sharp)))
}

/** Of both weights. */
type Of = Record<Weighted, number>

/**
 * Upper ends of weighted W/m² out of the fullest field of rays too few to find and measure it apart: their own fullest, and the upper limit of its
 * count, each worth the mean ray of the field or of the pupil, whichever is more. Null where the pupil itself holds few.
 */
function fewIn(eye: Looking, fieldRad: number, see: (level: number) => Seen): Of | null {
  const level = sharpLevel(eye, fieldRad, see)
  const seen = see(level)
  if (seen.index.length === 0 || seen.index.length * seen.factor < GOOD_RAYS) return null
  const full = findOwnFullestField(seen, fieldRad)
  const scale = (seen.factor * 1e6) / (Math.PI * radiusAt(level) ** 2)
  const meanOf = (index: ArrayLike<number>, of: Float32Array) =>
    Array.from(index).reduce((sum, i) => sum + (of[i] ?? 0), 0) / Math.max(1, index.length)
  const upper = (of: Float32Array) =>
    scale * countUpper(full.length) * Math.max(meanOf(full, of), meanOf(seen.index, of))
  return { blueWm2sr: upper(eye.rays.blue), thermalWm2sr: upper(eye.rays.thermal) }
}

/**
 * Weighted W/m² out of the fullest field, through the widest pupil that keeps it sharp and through the narrowest that still holds enough rays: the
 * values of that with the higher upper end. `upper` null with too few rays.
 */
function countedIn(eye: Looking, fieldRad: number, see: (level: number) => Seen): { value: Of; upper: Of | null } {
  const { rays } = eye
  const widest = sharpLevel(eye, fieldRad, see)
  const readAt = (level: number) => {
    const seen = see(level)
    const full = findFullestField(seen, fieldRad)
    const { blue, thermal } = upperSums(rays, full, (seen.factor * 1e6) / (Math.PI * radiusAt(level) ** 2))
    return { blueWm2sr: blue, thermalWm2sr: thermal, rays: full.length, count: full.length * seen.factor }
  }
  const wide = readAt(widest)
  const pick = (of: Arriving, what: 'value' | 'upper'): Of => ({
    blueWm2sr: of.blueWm2sr[what],
    thermalWm2sr: of.thermalWm2sr[what],
  })
  if (wide.rays < MIN_FIELD_RAYS) return { value: pick(wide, 'value'), upper: null }
  const less = Math.floor(Math.log(wide.count / GOOD_RAYS) / 2 / Math.log(GROWTH))
  const narrow = less > 0 ? readAt(Math.max(0, widest - less)) : wide
  const brighter = (of: Weighted) =>
    narrow.rays >= MIN_FIELD_RAYS && narrow[of].upper > wide[of].upper ? narrow[of] : wide[of]
  const best: Arriving = { blueWm2sr: brighter('blueWm2sr'), thermalWm2sr: brighter('thermalWm2sr') }
  return { value: pick(best, 'value'), upper: pick(best, 'upper') }
}

function takeSeen({ rays, place, passing }: Looking, level: number): Seen {
  const all = within(passing, level)
  const stride = oddStep(Math.ceil(all.length / MOST_SEEN))
  const taken = Uint32Array.from({ length: Math.ceil(all.length / stride) }, (_, k) => all[k * stride]!)
  return seeFrom(rays, taken, place, radiusAt(level), all.length / Math.max(1, taken.length))
}

const MOST_ANGLES = 2000

/** Angle across the source as seen: twice the angle that holds 98 of 100 rays about their middle. */
function sourceAngleRad(rays: EyeRays, index: Uint32Array, { xMm, yMm, zMm }: Place3): number {
  if (index.length === 0) return 0
  const step = oddStep(Math.ceil(index.length / MOST_ANGLES))
  const ways: number[] = []
  let [mx, my, mz] = [0, 0, 0]
  for (let k = 0; k < index.length; k += step) {
    const i = index[k]!
    const [x, y, z] = [rays.xMm[i]! - xMm, rays.yMm[i]! - yMm, rays.zMm[i]! - zMm]
    const length = Math.hypot(x, y, z)
    ways.push(x / length, y / length, z / length)
    mx += x / length
    my += y / length
    mz += z / length
  }
  const long = Math.hypot(mx, my, mz)
  const angles: number[] = []
  for (let k = 0; k < ways.length; k += 3) {
    const [x, y, z] = [ways[k]!, ways[k + 1]!, ways[k + 2]!]
    const sin = Math.hypot(y * mz - z * my, z * mx - x * mz, x * my - y * mx) / long
    angles.push(Math.atan2(sin, (x * mx + y * my + z * mz) / long))
  }
  angles.sort((a, b) => a - b)
  return 2 * angles[Math.floor(0.98 * (angles.length - 1))]!
}
