// A lens on its own, in its local frame and in double precision: single rays through a facet or a curve.

import { seedStream } from '../../src/optics/draws.ts'
import { passFresnel } from '../../src/optics/grooves.ts'
import * as P from '../../src/optics/params.ts'
import { DX, DY, DZ, INDEX, RAY_SIZE, RISER, W, X, Y, Z } from '../../src/optics/records.ts'
import * as RING from '../../src/optics/ringRow.ts'
import { passSolid } from '../../src/optics/solidLens.ts'

/** The optics read numbers from whatever array they are given; a test may give them doubles. */
export const doubles = (n: number): Float32Array => new Float64Array(n) as unknown as Float32Array

export interface Grooves {
  halfMm: number
  thicknessMm: number
  pitchMm: number
  /** Facet slopes, rad, from the middle outward. */
  slopes: number[]
  draftRad?: number
  tipShare?: number
  absorption?: number
  square?: boolean
}

export interface LensTables {
  p: Float32Array
  rings: Float32Array
}

export function grooveTables(g: Grooves): LensTables {
  const p = doubles(P.size)
  const rings = doubles(g.slopes.length * RING.size)
  const tanDraft = Math.tan(g.draftRad ?? 0)
  let layer = 0
  for (const [k, slope] of g.slopes.entries()) {
    const tan = Math.tan(slope)
    const tip = (g.pitchMm * tan) / (1 + (k > 0 ? tan * tanDraft : 0))
    rings[k * RING.size + RING.tan] = tan
    rings[k * RING.size + RING.sin] = Math.sin(slope)
    rings[k * RING.size + RING.cos] = Math.cos(slope)
    rings[k * RING.size + RING.tip] = tip
    rings[k * RING.size + RING.cot] = 1 / tan
    layer = Math.max(layer, tip)
  }
  p[P.lensKind] = 3
  p[P.lensHalf] = g.halfMm
  p[P.lensSquare] = g.square ? 1 : 0
  p[P.lensThickness] = g.thicknessMm
  p[P.lensPitch] = g.pitchMm
  p[P.lensRings] = g.slopes.length
  p[P.lensLayer] = layer
  p[P.lensTanDraft] = tanDraft
  p[P.lensTipShare] = g.tipShare ?? 0
  p[P.lensAbsorption] = g.absorption ?? 0
  return { p, rings }
}

export interface SolidCurve {
  halfMm: number
  thicknessMm: number
  radiusMm: number
  conic: number
  absorption?: number
}

export function solidTables(s: SolidCurve): LensTables {
  const p = doubles(P.size)
  p[P.lensKind] = 2
  p[P.lensHalf] = s.halfMm
  p[P.lensThickness] = s.thicknessMm
  p[P.lensCurvature] = 1 / s.radiusMm
  p[P.lensConic] = s.conic
  p[P.lensAbsorption] = s.absorption ?? 0
  return { p, rings: doubles(RING.size) }
}

export type Vec = readonly [number, number, number]

export function rayAt(from: Vec, towards: Vec, index: number): Float64Array {
  const ray = new Float64Array(RAY_SIZE)
  const length = Math.hypot(...towards)
  ray[X] = from[0]
  ray[Y] = from[1]
  ray[Z] = from[2]
  ray[DX] = towards[0] / length
  ray[DY] = towards[1] / length
  ray[DZ] = towards[2] / length
  ray[W] = 1
  ray[INDEX] = index
  return ray
}

export interface Passed {
  outcome: number
  at: Vec
  towards: Vec
  weight: number
  /** In the material; from the weight, so NaN in a lens without absorption. */
  pathMm: number
  riser: boolean
}

/** One passage with the random numbers of (seed, index). `worked`: the ray comes to the grooved or curved side. */
export function pass(lens: LensTables, ray: Float64Array, worked: boolean, seed: number, index: number): Passed {
  const stream = new Int32Array(3)
  seedStream(stream, seed, 0, index)
  const outcome =
    lens.p[P.lensKind] === 3
      ? passFresnel(ray, stream, lens.p, lens.rings, worked)
      : passSolid(ray, stream, lens.p, worked)
  return {
    outcome,
    at: [ray[X]!, ray[Y]!, ray[Z]!],
    towards: [ray[DX]!, ray[DY]!, ray[DZ]!],
    weight: ray[W]!,
    pathMm: -Math.log(ray[W]!) / lens.p[P.lensAbsorption]!,
    riser: ray[RISER]! > 0,
  }
}

/** The same, with other random numbers until the lens lets it through without a reflection (by the `through` side). */
export function passClean(lens: LensTables, make: () => Float64Array, worked: boolean, through: number): Passed {
  for (let i = 0; i < 200; i++) {
    const passed = pass(lens, make(), worked, 1, i)
    if (passed.outcome === through && !passed.riser) return passed
  }
  throw new Error('the lens never let the ray through')
}
