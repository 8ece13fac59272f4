// Light on its way to an eye: rays with their directions, watts weighted for the retina, and lumens. Any direction will do,
// also sideways and backwards, so light that leaves where it shouldn't is appended to what leaves by the front.
import { blueLightWeight, retinalThermalWeight } from '../library/eyeWeights.ts'
import { LM_PER_W, photopic } from '../library/photopic.ts'
import { LEAKED_SEGMENT, type Segments } from '../run/segments.ts'
import { EXIT_STRIDE, type Run } from '../run/types.ts'

/** Rays as a run keeps them, whichever way they left: a point on each, its unit direction, W, nm, batch; `count` of each. Lamp's frame. */
export interface LeavingLight {
  count: number
  xMm: ArrayLike<number>
  yMm: ArrayLike<number>
  zMm: ArrayLike<number>
  dx: ArrayLike<number>
  dy: ArrayLike<number>
  dz: ArrayLike<number>
  watts: ArrayLike<number>
  wavelengthNm: ArrayLike<number>
  batch: ArrayLike<number>
}

/** The same with weighted watts. */
export interface EyeRays {
  count: number
  xMm: Float32Array
  yMm: Float32Array
  zMm: Float32Array
  dx: Float32Array
  dy: Float32Array
  dz: Float32Array
  watts: Float32Array
  /** W weighted by B(λ). */
  blue: Float32Array
  /** W weighted by R(λ). */
  thermal: Float32Array
  lumens: Float32Array
  batch: Uint8Array
  /** Of the emitter whose light weighs most, for one watt, where that is known. */
  perWatt?: PerWatt
}

/** What a watt weighs: by B(λ), by R(λ), in lm. */
export interface PerWatt {
  blue: number
  thermal: number
  lumens: number
}

/** Weighted power of one watt at each whole nanometre: weights are looked up once, not for every ray. */
interface Weights {
  blue: Float64Array
  thermal: Float64Array
  lumens: Float64Array
}

const LAST_NM = 1400
let weights: Weights | null = null

function weightsByNm(): Weights {
  const over = (of: (nm: number) => number) => Float64Array.from({ length: LAST_NM + 1 }, (_, nm) => of(nm))
  weights ??= {
    blue: over(blueLightWeight),
    thermal: over(retinalThermalWeight),
    lumens: over((nm) => LM_PER_W * photopic(nm)),
  }
  return weights
}

/**
 * One set of rays of all that leaves a lamp: watts weighted by B(λ) and R(λ) (IEC 62471:2006) and lumens (V(λ)), weights
 * at the nearest whole nanometre, 0 beyond 1400 nm. `perWatt`: of the emitter whose light weighs most. Directions must be unit vectors. Empty lists give an empty set.
 */
export function weighRays(lights: readonly LeavingLight[], perWatt?: PerWatt): EyeRays {
  const n = lights.reduce((sum, l) => sum + l.count, 0)
  const column = () => new Float32Array(n)
  const out: EyeRays = {
    ...{ count: n, xMm: column(), yMm: column(), zMm: column(), dx: column(), dy: column(), dz: column() },
    ...{ watts: column(), blue: column(), thermal: column(), lumens: column(), batch: new Uint8Array(n) },
    ...(perWatt ? { perWatt } : {}),
  }
  const { blue, thermal, lumens } = weightsByNm()
  let from = 0
  for (const light of lights) {
    for (const key of ['xMm', 'yMm', 'zMm', 'dx', 'dy', 'dz', 'watts', 'batch'] as const) out[key].set(light[key], from)
    for (let i = 0, k = from; i < light.count; i++, k++) {
      const watts = out.watts[k]!
      const nm = Math.round(light.wavelengthNm[i]!)
      out.blue[k] = watts * (blue[nm] ?? 0)
      out.thermal[k] = watts * (thermal[nm] ?? 0)
      out.lumens[k] = watts * (lumens[nm] ?? 0)
    }
    from += light.count
  }
  return out
}

/**
 * Every third ray, worth three, of more rays than 131,072; else the same set. (Every second would leave out batches.) W and
 * lm as of all.
 */
export function thinned(rays: EyeRays): EyeRays {
  if (rays.count <= FEW_RAYS) return rays
  const count = Math.ceil(rays.count / 3)
  const factor = rays.count / count
  const every = (of: Float32Array, worth = 1) => Float32Array.from({ length: count }, (_, k) => worth * of[3 * k]!)
  return {
    ...{ count, xMm: every(rays.xMm), yMm: every(rays.yMm), zMm: every(rays.zMm) },
    ...{ dx: every(rays.dx), dy: every(rays.dy), dz: every(rays.dz) },
    ...{ watts: every(rays.watts, factor), blue: every(rays.blue, factor), thermal: every(rays.thermal, factor) },
    lumens: every(rays.lumens, factor),
    batch: Uint8Array.from({ length: count }, (_, k) => rays.batch[3 * k]!),
    ...(rays.perWatt ? { perWatt: rays.perWatt } : {}),
  }
}

const FEW_RAYS = 1 << 17

/**
 * The exit rays of a run as they left (mm, unit directions, W, nm): a unit of weight is worth emittedW / fromRays. Empty
 * when none was kept.
 */
export function leavingLightOf(run: Run): LeavingLight {
  const { data, count, fromRays, batch } = run.exits
  const perUnit = run.emittedW / fromRays // of no use without rays
  const column = (at: number, factor = 1) => {
    const out = new Float32Array(count)
    for (let i = 0; i < count; i++) out[i] = data[i * EXIT_STRIDE + at]! * factor
    return out
  }
  return {
    ...{ count, xMm: column(0), yMm: column(1), zMm: column(2), dx: column(3), dy: column(4), dz: column(5) },
    ...{ watts: column(6, perUnit), wavelengthNm: column(8), batch },
  }
}

/** Of segments in air those that leave where no beam should, and go on into the open, whichever way; no exit ray is one. */
export function leakedLightOf(segments: Segments): LeavingLight {
  const open: number[] = []
  for (let i = 0; i < segments.count; i++)
    if (segments.lengthMm[i] === Number.POSITIVE_INFINITY && (segments.flags[i]! & LEAKED_SEGMENT) !== 0) open.push(i)
  const column = (of: ArrayLike<number>) => Float32Array.from(open, (i) => of[i]!)
  return {
    ...{ count: open.length, xMm: column(segments.xMm), yMm: column(segments.yMm), zMm: column(segments.zMm) },
    ...{ dx: column(segments.dx), dy: column(segments.dy), dz: column(segments.dz), watts: column(segments.watts) },
    ...{ wavelengthNm: column(segments.wavelengthNm), batch: column(segments.batch) },
  }
}
