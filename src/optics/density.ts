// The other side of emission.ts: the density per steradian with which leaveEmitter chooses a direction, read from the same tables.

import * as KIND from './kindRow.ts'

const TURN = 6.283185307179586

/**
 * Density per steradian with which leaveEmitter draws the direction (dx, dy, dz), a unit vector in the emitter's own
 * frame with dz > 0; `kind` is the offset of the kind record. Its integral over the hemisphere is 1. 0 where no light
 * goes.
 * Cosine power: (m + 1)/2π cosᵐθ; tables: I/∫ I dc over 2π; maps: rows spread by their hats (emission.ts).
 */
export function profileDensity(
  kinds: Float32Array,
  kind: number,
  profiles: Float32Array,
  dx: number,
  dy: number,
  dz: number,
): number {
  const which = kinds[kind + KIND.profile]!
  const at = kinds[kind + KIND.profileAt]!
  if (which === 0) {
    const power = 1 / at
    return (power / TURN) * (power === 2 ? dz : dz ** (power - 1)) // (m + 1)/2π cosᵐθ
  }
  const sin2 = dx * dx + dy * dy
  const c = dz > 0.5 ? sin2 / (1 + dz) : 1 - dz // 1 − cosθ without cancellation
  if (which === 1) return tableAt(c, profiles, at) / TURN
  const rows = kinds[kind + KIND.profileRows]!
  const phi = Math.atan2(dy, dx)
  let sum = 0
  for (let r = 0; r < rows; r++) {
    const row = at + 5 * r
    const hat = hatAt(phi - profiles[row + 2]!, profiles[row + 3]!, profiles[row + 4]!)
    if (hat === 0) continue
    const share = (r + 1 < rows ? profiles[row + 5]! : 1) - profiles[row]!
    sum += share * hat * tableAt(c, profiles, profiles[row + 1]!)
  }
  return sum
}

/** Density of azimuthFromMap's hat at `off` from its row, rad⁻¹; both halves may reach the same place by way of the whole turn. */
function hatAt(off: number, before: number, after: number): number {
  const ahead = off - TURN * Math.floor(off / TURN)
  const behind = TURN - ahead
  const rise = behind < before ? 1 - behind / before : 0
  const fall = ahead < after ? 1 - ahead / after : 0
  return (2 / (before + after)) * (rise + fall)
}

/** Intensity of a packed table at c, its integral over c being 1. */
function tableAt(c: number, tables: Float32Array, at: number): number {
  const n = tables[at]!
  const nodes = at + 2
  if (c > tables[nodes + n - 1]!) return 0
  let low = 0
  let high = n - 2
  while (low < high) {
    const mid = (low + high + 1) >> 1
    if (tables[nodes + mid]! <= c) low = mid
    else high = mid - 1
  }
  return Math.max(0, tables[nodes + n + low]! + 0.5 * tables[nodes + 3 * n + low]! * (c - tables[nodes + low]!))
}
