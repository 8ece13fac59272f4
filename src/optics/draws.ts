// Random numbers by counter. A draw is a pure function of (seed, batch, index in the batch, draw number): 32-bit integers only, so
// that a shader gives the same bits.
// References: [1] C. Wellons, "Hash Function Prospector" (2018), the constants of a two-round 32-bit mixer of low bias (public domain).

import * as Draw from './firstDraws.ts'
/**
 * Numbers of a ray that come from the low-discrepancy sequence: emitter, two of place, two of direction, wavelength.
 */
export const SOBOL_DIMENSIONS = 6

/** A bijection on 32-bit integers that scatters every bit [1]. */
export function mix(x: number): number {
  x = Math.imul(x ^ (x >>> 16), 0x7feb352d)
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b | 0)
  return x ^ (x >>> 16)
}

/** 2⁻²⁴ */
export const UNIT = 5.9604644775390625e-8

/**
 * The upper 24 of 32 random bits as a number in the middle of its cell, in (0, 1): single precision holds it exactly.
 */
export function unit(bits: number): number {
  return ((bits >>> 8) + 0.5) * UNIT
}

/**
 * Starts the random stream of one ray. `stream` has three slots: key, odd step, next draw number. Batch and index ≥
 * 0; any 32-bit seed. Counter-based generator by the mixer [1]: our choice.
 */
export function seedStream(stream: Int32Array, seed: number, batch: number, index: number): void {
  const run = mix(seed ^ Math.imul(batch + 1, 0x9e3779b1 | 0))
  stream[0] = mix(index ^ run)
  stream[1] = mix(stream[0]! + 0x6a09e667) | 1 // a step of the ray's own: two streams don't run along each other
  stream[2] = Draw.firstBounce
}

/**
 * The next 24 random bits of the path, an integer in [0, 2²⁴): small integers pass without boxing in JavaScript
 * engines.
 */
export function draw24(stream: Int32Array): number {
  const k = stream[2]!
  stream[2] = k + 1
  return mix((stream[0]! + Math.imul(k, stream[1]!)) | 0) >>> 8
}

/** The next number of the path, in (0, 1). */
export function draw(stream: Int32Array): number {
  return (draw24(stream) + 0.5) * UNIT
}

/**
 * Draw number k of the path out of order, in (0, 1): for the comparison with plain random numbers. The stream stays
 * where it is.
 */
export function drawAt(stream: Int32Array, k: number): number {
  return unit(mix((stream[0]! + Math.imul(k, stream[1]!)) | 0))
}
