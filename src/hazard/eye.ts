// What an eye meets in front of the lamp: radiance by field of view, weighted for the retina, from the exit rays. IEC 62471:2006 (CIE S
// 009:2002). Screening, hot side: the upper end of ±, at the worst place of each plane; never more than the emitters' own radiance,
// which no lens raises, nor than all that arrives there out of one field of view.
import { blueLightWeight, retinalThermalWeight } from '../library/eyeWeights.ts'
import { T95 } from '../num/stats.ts'
import { BATCHES, EXIT_STRIDE, type Run } from '../run/types.ts'

/**
 * Fields of view that radiance is averaged over, rad (full angle): a blink, ten to a hundred seconds, half an hour's
 * task, a day's. IEC 62471:2006.
 */
export const FIELDS_RAD = [0.0017, 0.011, 0.035, 0.1] as const

/** Exit rays at the front plane with the two weighted powers. */
export interface EyeRays {
  count: number
  xMm: Float32Array
  yMm: Float32Array
  slopeX: Float32Array
  slopeY: Float32Array
  watts: Float32Array
  blue: Float32Array
  thermal: Float32Array
  batch: Uint8Array
  wattsOfOne: number
}

const MOST_RAYS = 1 << 18

/**
 * Exit rays towards the target carried to the plane z = frontZMm, with watts weighted for blue light and for the
 * retina's warming (IEC 62471:2006, table 4.2). At most 2¹⁸ rays, each then worth more.
 */
export function makeEyeRays(run: Run, frontZMm: number): EyeRays {
  const { data, count, fromRays, batch } = run.exits
  let stride = Math.max(1, Math.ceil(count / MOST_RAYS))
  if (stride > 1 && stride % 2 === 0) stride++
  const n = Math.ceil(count / stride)
  const perUnit = fromRays > 0 ? (run.emittedW / fromRays) * (n > 0 ? count / n : 1) : 0
  const columns = () => new Float32Array(n)
  const out = { xMm: columns(), yMm: columns(), slopeX: columns(), slopeY: columns(), watts: columns() }
  const [blue, thermal, batches] = [columns(), columns(), new Uint8Array(n)]
  let k = 0
  for (let i = 0; i < count; i += stride) {
    const at = i * EXIT_STRIDE
    const dz = data[at + 5]!
    if (dz < 1e-6) continue
    const [sx, sy] = [data[at + 3]! / dz, data[at + 4]! / dz]
    const step = frontZMm - data[at + 2]!
    out.xMm[k] = data[at]! + sx * step
    out.yMm[k] = data[at + 1]! + sy * step
    out.slopeX[k] = sx
    out.slopeY[k] = sy
    const watts = data[at + 6]! * perUnit
    out.watts[k] = watts
    blue[k] = watts * blueLightWeight(data[at + 8]!)
    thermal[k] = watts * retinalThermalWeight(data[at + 8]!)
    batches[k++] = batch[i]!
  }
  return { ...out, count: k, blue, thermal, batch: batches, wattsOfOne: perUnit }
}

/** Greatest weighted radiance of any emitter, W/m²sr: what the eye can't see more of. */
export interface SourceRadiance {
  blueWm2sr: number
  thermalWm2sr: number
}

/** Radiance averaged over a field, weighted; upper ends. */
export interface FieldRadiance {
  fieldRad: number
  blueWm2sr: number
  thermalWm2sr: number
}

export interface EyeReading {
  distanceMm: number
  /** 0: looking straight into the beam at its worst place; else a passer-by so far off the axis. */
  angleDeg: number
  /** On the pupil, unweighted, upper end. */
  irradianceWm2: number
  /** Angle that the lit source fills, rad. */
  subtendsRad: number
  fields: FieldRadiance[]
  /** Longest exposure before the blue-light limit; null: no limit within 10 000 s. */
  blueSeconds: number | null
  /** The same of the retinal thermal limit; null: none within 10 s. */
  thermalSeconds: number | null
}

export interface Place {
  xMm: number
  yMm: number
  distanceMm: number
}

/** With fewer rays of either half in a field its radiance is not read: the emitters' own is then used. */
const MIN_FIELD_RAYS = 12
const ENOUGH_RAYS = 4000
const NARROWEST_MM = 20

/** Rays that pass near an eye, with the direction they come from as the eye sees it (slopes). */
interface PupilRays {
  index: number[]
  radiusMm: number
  /** Rays in the pupil for each one in the index. */
  factor: number
}

/** More rays than these add nothing. */
const MOST_PUPIL_RAYS = 12_000

/** The pupil is widened until enough rays go through: the radiance is a mean over that disc. */
function collectPupilRays(rays: EyeRays, at: Place, widenRad: number): PupilRays {
  const reach = Math.max(NARROWEST_MM * 8, widenRad * at.distanceMm)
  const near: number[] = []
  const squares: number[] = []
  for (let i = 0; i < rays.count; i++) {
    const x = rays.xMm[i]! + rays.slopeX[i]! * at.distanceMm - at.xMm
    if (x > reach || x < -reach) continue
    const y = rays.yMm[i]! + rays.slopeY[i]! * at.distanceMm - at.yMm
    const square = x * x + y * y
    if (square >= reach * reach) continue
    near.push(i)
    squares.push(square)
  }
  let radiusMm = NARROWEST_MM
  const countWithin = (r: number) => {
    let n = 0
    for (const square of squares) if (square <= r * r) n++
    return n
  }
  let count = countWithin(radiusMm)
  while (count < ENOUGH_RAYS && radiusMm < reach) {
    radiusMm = Math.min(reach, radiusMm * 1.5)
    count = countWithin(radiusMm)
  }
  // Rays lie batch by batch: every so many takes from all alike.
  const stride = Math.max(1, Math.ceil(count / MOST_PUPIL_RAYS))
  const index: number[] = []
  let seen = 0
  for (const [k, i] of near.entries()) if (squares[k]! <= radiusMm * radiusMm && seen++ % stride === 0) index.push(i)
  return { index, radiusMm, factor: index.length > 0 ? count / index.length : 1 }
}

/**
 * What an eye at a place in front of the lamp (mm) receives: radiance by field of view, W/m²sr, irradiance W/m²,
 * exposure limits in s; upper ends of ±. `source`: no more than the emitters' radiance. IEC 62471:2006; screening
 * only.
 * `widenRad`: the pupil may be widened to this angle of the distance, over which the light is even enough.
 */
export function readEye(
  rays: EyeRays,
  at: Place,
  angleDeg: number,
  source: SourceRadiance,
  widenRad: number,
): EyeReading {
  const pupil = collectPupilRays(rays, at, widenRad)
  const areaM2 = Math.PI * pupil.radiusMm ** 2 * 1e-6
  const cos = 1 / Math.hypot(1, Math.hypot(at.xMm, at.yMm) / Math.max(1, at.distanceMm))
  const perM2 = pupil.factor / areaM2 / cos
  const upper = (of: Float32Array) => upperSum(rays, pupil.index, of) * perM2
  const arriving = { watts: upper(rays.watts), blue: upper(rays.blue), thermal: upper(rays.thermal) }
  const fields: FieldRadiance[] = []
  // From the widest down: a narrow field holds no more than the wide one about it, and its brightest place is no darker.
  for (const fieldRad of [...FIELDS_RAD].reverse()) {
    const sr = (Math.PI / 4) * fieldRad ** 2
    const full = findFullestField(rays, pupil.index, at, fieldRad)
    const enough = full.every((f) => f.rays.length >= MIN_FIELD_RAYS)
    const wider = fields[0]
    const bound = (of: Float32Array, name: 'blueWm2sr' | 'thermalWm2sr', all: number) => {
      const most = wider ? wider[name] * (wider.fieldRad / fieldRad) ** 2 : Number.POSITIVE_INFINITY
      const traced = enough
        ? (Math.max(...full.map((f) => upperSum(rays, f.rays, of, f.half))) * perM2) / sr
        : Number.POSITIVE_INFINITY
      return Math.max(wider?.[name] ?? 0, Math.min(source[name], all / sr, most, traced))
    }
    fields.unshift({
      fieldRad,
      blueWm2sr: bound(rays.blue, 'blueWm2sr', arriving.blue),
      thermalWm2sr: bound(rays.thermal, 'thermalWm2sr', arriving.thermal),
    })
  }
  const subtendsRad = sourceAngleRad(rays, pupil.index, at)
  return {
    distanceMm: at.distanceMm,
    angleDeg,
    irradianceWm2: arriving.watts,
    subtendsRad,
    fields,
    blueSeconds: blueSeconds(fields),
    thermalSeconds: thermalSeconds(fields),
  }
}

/** Sum over rays with the upper end of ±; the error is at least one ray's. `half`: only batches of one parity, scaled to all. */
function upperSum(rays: EyeRays, index: readonly number[], of: Float32Array, half?: 0 | 1): number {
  const perBatch = new Float64Array(BATCHES)
  let largest = 0
  for (const i of index) {
    perBatch[rays.batch[i]!]! += of[i]!
    if (of[i]! > largest) largest = of[i]!
  }
  const used = [...perBatch].filter((_, b) => half === undefined || b % 2 === half)
  const n = used.length
  const mean = used.reduce((a, b) => a + b, 0) / n
  const square = used.reduce((a, b) => a + (b - mean) ** 2, 0) / (n - 1)
  return BATCHES * mean + T95 * Math.max(BATCHES * Math.sqrt(square / n), largest * (BATCHES / n))
}

/**
 * The field that holds most power, found with the rays of one parity and reported with those of the other; both ways.
 */
function findFullestField(
  rays: EyeRays,
  index: readonly number[],
  at: Place,
  fieldRad: number,
): { rays: number[]; half: 0 | 1 }[] {
  // Two by two cells have the solid angle of the round field.
  const cell = ((fieldRad * Math.sqrt(Math.PI)) / 4) * at.distanceMm
  return ([0, 1] as const).map((half) => {
    const cells = new Map<number, number>()
    const key = (c: number, r: number) => c * 65_536 + r
    for (const i of index) {
      if (rays.batch[i]! % 2 === half) continue
      const [c, r] = [Math.floor(rays.xMm[i]! / cell) + 32_768, Math.floor(rays.yMm[i]! / cell) + 32_768]
      for (const [a, b] of [
        [0, 0],
        [-1, 0],
        [0, -1],
        [-1, -1],
      ] as const) {
        const k = key(c + a, r + b)
        cells.set(k, (cells.get(k) ?? 0) + rays.thermal[i]!)
      }
    }
    let best = -1
    let most = 0
    for (const [k, sum] of cells) if (sum > most) [best, most] = [k, sum]
    const [c, r] = [Math.floor(best / 65_536) - 32_768, (best % 65_536) - 32_768]
    const holds = (i: number) =>
      rays.batch[i]! % 2 === half &&
      rays.xMm[i]! >= c * cell &&
      rays.xMm[i]! < (c + 2) * cell &&
      rays.yMm[i]! >= r * cell &&
      rays.yMm[i]! < (r + 2) * cell
    return { rays: best < 0 ? [] : index.filter(holds), half }
  })
}

/** Angle across the source as seen: twice the radius that holds 98 of 100 rays about their middle. The wide side: a lower thermal limit. */
function sourceAngleRad(rays: EyeRays, index: readonly number[], at: Place): number {
  if (index.length === 0) return 0
  let [x, y] = [0, 0]
  for (const i of index) {
    x += rays.xMm[i]! / index.length
    y += rays.yMm[i]! / index.length
  }
  const radii = index.map((i) => Math.hypot(rays.xMm[i]! - x, rays.yMm[i]! - y)).sort((a, b) => a - b)
  return (2 * radii[Math.floor(0.98 * (radii.length - 1))]!) / Math.max(1, at.distanceMm)
}

/** L_B · t ≤ 10⁶ J/m²sr to 10⁴ s, L_B ≤ 100 W/m²sr beyond. */
const BLUE_DOSE = 1e6
const LONG_SECONDS = 1e4

const fieldOf = (fields: readonly FieldRadiance[], rad: number) =>
  fields.find((f) => f.fieldRad === rad) ?? fields[fields.length - 1]!

/**
 * Longest exposure, s, before the blue-light limit; null: none within 10,000 s. L_B t ≤ 10⁶ J/m²sr, L_B ≤ 100 W/m²sr
 * beyond 10⁴ s: IEC 62471:2006.
 * The field grows with the time: 1.7 mrad to 0.25 s, 11 mrad to 100 s, then 1.1 √t mrad up to 100 mrad (memory).
 * Between the fields that were read the narrower one holds: the hot side.
 */
export function blueSeconds(fields: readonly FieldRadiance[]): number | null {
  const dose = (rad: number) => BLUE_DOSE / Math.max(1e-9, fieldOf(fields, rad).blueWm2sr)
  if (dose(0.0017) < 0.25) return dose(0.0017)
  const until = (0.035 / 0.0011) ** 2
  if (dose(0.011) < until) return Math.max(0.25, dose(0.011))
  if (dose(0.035) < LONG_SECONDS) return Math.max(until, dose(0.035))
  return dose(0.1) < LONG_SECONDS ? LONG_SECONDS : null
}

/**
 * Longest exposure, s, before the retinal thermal limit; null: none within 10 s. L_R ≤ 50 000/(α t^¼) W/m²sr from 10
 * µs to 10 s (IEC 62471:2006); α in rad, 1.7 mrad (to 0.25 s) or 11 mrad at least and 100 mrad at most.
 * An uneven source is taken as each of its parts in turn, α the field that L_R is the mean over, and the soonest
 * decides (as ICNIRP has it for sources of many parts, Health Physics 105 (2013) 74; from memory).
 */
export function thermalSeconds(fields: readonly FieldRadiance[]): number | null {
  const limit = (f: FieldRadiance, least: number) =>
    (50_000 / (Math.min(0.1, Math.max(f.fieldRad, least)) * Math.max(1e-9, f.thermalWm2sr))) ** 4
  const blink = Math.min(...fields.map((f) => limit(f, 0.0017)))
  if (blink < 0.25) return Math.max(1e-5, blink)
  const glance = Math.min(...fields.filter((f) => f.fieldRad >= 0.011).map((f) => limit(f, 0.011)))
  return glance < 10 ? Math.max(0.25, glance) : null
}
