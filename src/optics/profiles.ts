// Directions from an intensity profile: each sampler comes with its density and its inverse. With c = 1 − cosθ the share of light inside
// θ is ∫ I dc; a table holds I over c, linear between nodes fine enough for the profile it was made from.
// Table layout in a Float32Array: [nodes, guide cells, then c, I, share below, 2 dI/dc of the cell after (each `nodes`), then the guide].

/** Cells of a table's guide, which starts the search for a share near its end. */
export const GUIDE = 2048

/**
 * cosθ of a cosine power m (I ∝ cosᵐθ) from u in (0, 1), the share of light outside θ: u = cosᵐ⁺¹θ. `inverse` = 1/(m
 * + 1).
 */
export function cosFromPower(u: number, inverse: number): number {
  return inverse === 0.5 ? Math.sqrt(u) : u ** inverse
}
/** Density of a cosine power m, per steradian, at θ in [0, π/2] rad: (m + 1)/2π cosᵐθ. */
export function densityOfPower(theta: number, m: number): number {
  return ((m + 1) / (2 * Math.PI)) * Math.cos(theta) ** m
}
/** Share of the light of a cosine power m outside the angle θ (rad): cosᵐ⁺¹θ. Undoes cosFromPower. */
export function uFromPower(theta: number, m: number): number {
  return Math.cos(theta) ** (m + 1)
}

/** Exponent m of the cosine power with a full width at half maximum in rad, 0 < FWHM < π: m = ln ½ / ln cos(FWHM/2). */
export function powerFromFwhm(fwhmRad: number): number {
  return Math.log(0.5) / Math.log(Math.cos(fwhmRad / 2))
}

export interface ProfileTable {
  /** Nodes of c = 1 − cosθ, rising from 0. */
  c: Float64Array
  /** Relative intensity at the nodes. */
  intensity: Float64Array
  /** ∫ I dc: the table's weight, in relative intensity × c. */
  weight: number
  packed: Float32Array
}

/** Nodes closer than this share of the table are one: between them 1 − cosθ may not change at all, and the slope is 0/0. */
const LEAST_STEP = 1e-9

/**
 * A table from I(θ) (relative, negative values as 0), θ in [0, thetaMax] rad, with `nodes` equal steps of θ and extra
 * nodes at the profile's `corners` (rad).
 */
export function tableFromProfile(
  intensity: (theta: number) => number,
  thetaMax: number,
  corners: readonly number[] = [],
  nodes = 768,
): ProfileTable {
  const least = LEAST_STEP * thetaMax
  const thetas = new Set<number>([0, thetaMax, ...corners.filter((t) => t > least && t < thetaMax - least)])
  for (let i = 1; i < nodes; i++) thetas.add((thetaMax * i) / nodes)
  const sorted = [...thetas].sort((a, b) => a - b).filter((t, i, all) => i === 0 || t - all[i - 1]! > least)
  const n = sorted.length
  const c = new Float64Array(n)
  const value = new Float64Array(n)
  for (const [i, theta] of sorted.entries()) {
    c[i] = 2 * Math.sin(theta / 2) ** 2
    value[i] = Math.max(0, intensity(theta))
  }
  return packTable(c, value)
}

/**
 * A packed table from nodes of c = 1 − cosθ (rising from 0) and relative intensities ≥ 0, not zero everywhere; linear
 * in c between nodes. Layout above.
 */
export function packTable(c: Float64Array, intensity: Float64Array): ProfileTable {
  const n = c.length
  const below = new Float64Array(n)
  for (let i = 1; i < n; i++) below[i] = below[i - 1]! + 0.5 * (intensity[i]! + intensity[i - 1]!) * (c[i]! - c[i - 1]!)
  const weight = below[n - 1]!
  const packed = new Float32Array(2 + 4 * n + GUIDE)
  packed[0] = n
  packed[1] = GUIDE
  for (let i = 0; i < n; i++) {
    packed[2 + i] = c[i]!
    packed[2 + n + i] = intensity[i]! / weight
    packed[2 + 2 * n + i] = below[i]! / weight
    if (i < n - 1) packed[2 + 3 * n + i] = (2 * (intensity[i + 1]! - intensity[i]!)) / weight / (c[i + 1]! - c[i]!)
  }
  packed[2 + 2 * n + n - 1] = 1
  let at = 0
  for (let g = 0; g < GUIDE; g++) {
    while (at < n - 2 && packed[2 + 2 * n + at + 1]! <= g / GUIDE) at++
    packed[2 + 4 * n + g] = at
  }
  return { c, intensity, weight, packed }
}

/**
 * c = 1 − cosθ where the share u in (0, 1) of the light lies inside θ, from the packed table at offset `at`:
 * quadratic inside the cell, stable form.
 */
export function cFromTable(u: number, tables: Float32Array, at: number): number {
  const n = tables[at]!
  const below = at + 2 + 2 * n
  let cell = tables[at + 2 + 4 * n + ((u * GUIDE) | 0)]!
  while (cell < n - 2 && tables[below + cell + 1]! < u) cell++
  const c0 = tables[at + 2 + cell]!
  const width = tables[at + 3 + cell]! - c0
  const i0 = tables[at + 2 + n + cell]!
  const need = Math.max(0, u - tables[below + cell]!)
  const root = Math.sqrt(Math.max(0, i0 * i0 + tables[at + 2 + 3 * n + cell]! * need))
  const s = i0 + root > 0 ? (2 * need) / (i0 + root) : width
  return c0 + Math.min(s, width)
}

/** Density of a table, per steradian, at angle θ (rad): I/(2π ∫ I dc). */
export function densityOfTable(theta: number, table: ProfileTable): number {
  const c = 2 * Math.sin(theta / 2) ** 2
  return intensityAt(c, table) / (2 * Math.PI * table.weight)
}

/** Share of a table's light inside the angle θ (rad), 0 to 1. Undoes cFromTable. */
export function uFromTable(theta: number, table: ProfileTable): number {
  const c = 2 * Math.sin(theta / 2) ** 2
  let sum = 0
  for (let i = 1; i < table.c.length; i++) {
    const from = table.c[i - 1]!
    if (from >= c) break
    const to = Math.min(c, table.c[i]!)
    sum += 0.5 * (intensityAt(from, table) + intensityAt(to, table)) * (to - from)
  }
  return sum / table.weight
}

function intensityAt(c: number, table: ProfileTable): number {
  const last = table.c.length - 1
  if (c >= table.c[last]!) return c > table.c[last]! ? 0 : table.intensity[last]!
  let i = 0
  while (table.c[i + 1]! < c) i++
  const t = (c - table.c[i]!) / (table.c[i + 1]! - table.c[i]!)
  return table.intensity[i]! + t * (table.intensity[i + 1]! - table.intensity[i]!)
}
