// Rotations in space as nine numbers, row by row; textbook geometry. No library: eight lines of products, in plain numbers that go into flat arrays.

/** Rows of the matrix that takes a vector from the turned frame to the outer one. */
export type Rotation = readonly [number, number, number, number, number, number, number, number, number]
export type Vector = readonly [number, number, number]

export const NO_TURN: Rotation = [1, 0, 0, 0, 1, 0, 0, 0, 1]

/** A vector of the turned frame, in the outer one. */
export const turnVector = (m: Rotation, [x, y, z]: Vector): [number, number, number] => [
  m[0] * x + m[1] * y + m[2] * z,
  m[3] * x + m[4] * y + m[5] * z,
  m[6] * x + m[7] * y + m[8] * z,
]

/** a · b: first b, then a. */
export function joinTurns(a: Rotation, b: Rotation): Rotation {
  const [x, y, z] = [0, 1, 2].map((j) => turnVector(a, [b[j]!, b[j + 3]!, b[j + 6]!])) as [Column, Column, Column]
  return [x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2]]
}
type Column = [number, number, number]

/** Right-handed turn by `rad` about a unit vector (Rodrigues' formula). */
export function turnAbout([x, y, z]: Vector, rad: number): Rotation {
  const c = Math.cos(rad)
  const s = Math.sin(rad)
  const k = 1 - c
  return [
    ...[c + k * x * x, k * x * y - s * z, k * x * z + s * y],
    ...[k * x * y + s * z, c + k * y * y, k * y * z - s * x],
    ...[k * x * z - s * y, k * y * z + s * x, c + k * z * z],
  ] as unknown as Rotation
}

/** Right-handed turn by `rad` about z. */
export const turnAboutZ = (rad: number): Rotation => {
  const c = Math.cos(rad)
  const s = Math.sin(rad)
  return [c, -s, 0, s, c, 0, 0, 0, 1]
}

/** The smallest turn that takes the unit vector a to b; of opposite ones, half a turn about any axis across. */
export function turnOnto(a: Vector, b: Vector): Rotation {
  const cross: Vector = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
  const sin = Math.hypot(...cross)
  const cos = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
  if (sin > 1e-12) return turnAbout([cross[0] / sin, cross[1] / sin, cross[2] / sin], Math.atan2(sin, cos))
  if (cos > 0) return NO_TURN
  const across = Math.abs(a[0]) < 0.9 ? ([0, a[2], -a[1]] as const) : ([-a[2], 0, a[0]] as const)
  const length = Math.hypot(...across)
  return turnAbout([across[0] / length, across[1] / length, across[2] / length], Math.PI)
}
