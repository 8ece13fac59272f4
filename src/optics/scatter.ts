// Gaussian scatter about a direction.
// References: [1] Box & Muller, Ann. Math. Statist. 29 (1958) 610, normal deviates.
import { draw } from './draws.ts'
import { tilt } from './interface.ts'
import { NX, NY, NZ, TX, TY, TZ } from './records.ts'
import { turnOf } from './turn.ts'

/**
 * Into the direction slots: the unit direction (mx, my, mz) with two independent Gaussian slopes of standard deviation `sigma` (rad) across
 * it [1]. Where that is no way to go is the caller's to see.
 */
export function scatterAbout(
  ray: Float64Array,
  stream: Int32Array,
  mx: number,
  my: number,
  mz: number,
  sigma: number,
): void {
  ray[NX] = mx
  ray[NY] = my
  ray[NZ] = mz
  const radius = sigma * Math.sqrt(-2 * Math.log(draw(stream))) // [1]
  turnOf(ray, draw(stream))
  const length = 1 / Math.sqrt(1 + radius * radius)
  ray[TX]! *= radius * length
  ray[TY]! *= radius * length
  ray[TZ] = length
  tilt(ray)
}
