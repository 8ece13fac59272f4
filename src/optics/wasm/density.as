// Twin of src/optics/density.ts, for profiles without azimuth: the same bits.
import * as C from './constants'
import { powHost } from './host'
import { kinds, profiles, single } from './memory'

const TURN: f64 = 6.283185307179586

export function profileDensity(kind: i32, dx: f64, dy: f64, dz: f64): f64 {
  const at = single(kinds, kind + C.K_profileAt)
  if (single(kinds, kind + C.K_profile) == 0) {
    const power = 1 / at
    return (power / TURN) * (power == 2 ? dz : powHost(dz, power - 1))
  }
  const sin2 = dx * dx + dy * dy
  const c = dz > 0.5 ? sin2 / (1 + dz) : 1 - dz
  return tableAt(c, <i32>at) / TURN
}

function tableAt(c: f64, at: i32): f64 {
  const n = <i32>single(profiles, at)
  const nodes = at + 2
  if (c > single(profiles, nodes + n - 1)) return 0
  let low = 0
  let high = n - 2
  while (low < high) {
    const mid = (low + high + 1) >> 1
    if (single(profiles, nodes + mid) <= c) low = mid
    else high = mid - 1
  }
  const i0 = single(profiles, nodes + n + low)
  return Math.max(0, i0 + 0.5 * single(profiles, nodes + 3 * n + low) * (c - single(profiles, nodes + low)))
}
