// A thin diffuser in the plane z = 0 of its frame: what it passes goes on about its own direction, what it reflects about the mirror
// direction, each with two Gaussian slopes; the rest is absorbed.
import { draw } from './draws.ts'
import { DX, DY, DZ, W } from './records.ts'
import { scatterAbout } from './scatter.ts'

/**
 * Passes or reflects the ray by a draw, in place; its weight falls to the share that is not absorbed, `transmits` + `reflects`. `spread`:
 * standard deviation of each of the two slopes, rad; a direction on the wrong side of the film is drawn again, sixteen times at most. Our model:
 * physics of a film by measured shares.
 */
export function passFilm(
  ray: Float64Array,
  stream: Int32Array,
  transmits: number,
  reflects: number,
  spread: number,
): void {
  const unabsorbed = transmits + reflects
  ray[W]! *= unabsorbed
  if (unabsorbed === 0) return
  if (reflects > 0 && draw(stream) * unabsorbed >= transmits) ray[DZ] = -ray[DZ]!
  if (spread === 0) return
  const mx = ray[DX]!
  const my = ray[DY]!
  const mz = ray[DZ]!
  for (let tries = 0; tries < 16; tries++) {
    scatterAbout(ray, stream, mx, my, mz, spread)
    if (ray[DZ]! * mz > 0) return
  }
  ray[DX] = mx
  ray[DY] = my
  ray[DZ] = mz
}
