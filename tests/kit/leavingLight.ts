// Light that leaves a lamp, drawn by a test: a point, a direction and watts for each ray.
import type { EyeRays, LeavingLight } from '../../src/hazard/eyeRays.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { BATCHES } from '../../src/run/types.ts'

export interface DrawnLight {
  rays: number
  /** Of all rays together. */
  watts: number
  nm?: number
  seed?: number
  draw: (random: () => number) => { at: readonly [number, number, number]; towards: readonly [number, number, number] }
}

/** Rays of equal watts, batch by batch in turn; directions are made unit. */
export function drawnLight({ rays, watts, nm = 555, seed = 1, draw }: DrawnLight): LeavingLight {
  const random = seededRandom(seed)
  const column = () => new Float64Array(rays)
  const out = { xMm: column(), yMm: column(), zMm: column(), dx: column(), dy: column(), dz: column() }
  for (let i = 0; i < rays; i++) {
    const { at, towards } = draw(random)
    const length = Math.hypot(...towards)
    ;[out.xMm[i], out.yMm[i], out.zMm[i]] = at
    ;[out.dx[i], out.dy[i], out.dz[i]] = [towards[0] / length, towards[1] / length, towards[2] / length]
  }
  return {
    ...out,
    count: rays,
    watts: column().fill(watts / rays),
    wavelengthNm: column().fill(nm),
    batch: Uint8Array.from({ length: rays }, (_, i) => i % BATCHES),
  }
}

/** Even over a disc about a point of the plane z. */
export function onDiscAt(random: () => number, radiusMm: number, x = 0, y = 0, z = 0): [number, number, number] {
  const r = radiusMm * Math.sqrt(random())
  const turn = 2 * Math.PI * random()
  return [x + r * Math.cos(turn), y + r * Math.sin(turn), z]
}

/** Of even radiance within a half angle about an axis in the xz plane, `offRad` off +z: even in sin²θ. */
export function inCone(random: () => number, halfRad: number, offRad = 0): [number, number, number] {
  const sin = Math.sin(halfRad) * Math.sqrt(random())
  const turn = 2 * Math.PI * random()
  const [x, y, z] = [sin * Math.cos(turn), sin * Math.sin(turn), Math.sqrt(1 - sin * sin)]
  return [x * Math.cos(offRad) + z * Math.sin(offRad), y, z * Math.cos(offRad) - x * Math.sin(offRad)]
}

export interface HandRay {
  at: readonly [number, number, number]
  /** Made unit. */
  towards: readonly [number, number, number]
  /** 1 by default; the weighted columns are as large unless they are given. */
  watts?: number
  blue?: number
  thermal?: number
  lumens?: number
  /** In turn by default. */
  batch?: number
}

/** Weighted rays written out one by one. */
export function eyeRaysOf(rows: readonly HandRay[]): EyeRays {
  const column = (of: (ray: HandRay) => number) => Float32Array.from(rows, of)
  const way = (axis: 0 | 1 | 2) => column(({ towards }) => towards[axis] / Math.hypot(...towards))
  const watts = (key: 'blue' | 'thermal' | 'lumens') => column((r) => r[key] ?? r.watts ?? 1)
  return {
    ...{ count: rows.length, xMm: column((r) => r.at[0]), yMm: column((r) => r.at[1]), zMm: column((r) => r.at[2]) },
    ...{ dx: way(0), dy: way(1), dz: way(2), watts: column((r) => r.watts ?? 1) },
    ...{ blue: watts('blue'), thermal: watts('thermal'), lumens: watts('lumens') },
    batch: Uint8Array.from(rows, (r, i) => r.batch ?? i % BATCHES),
  }
}
