// Four points of a row in the lanes of a vector.

// @ts-ignore: decorator
@inline
export function splatLane0(v: v128): v128 {
  return i8x16.shuffle(v, v, 0, 1, 2, 3, 0, 1, 2, 3, 0, 1, 2, 3, 0, 1, 2, 3)
}
// @ts-ignore: decorator
@inline
export function splatLane1(v: v128): v128 {
  return i8x16.shuffle(v, v, 4, 5, 6, 7, 4, 5, 6, 7, 4, 5, 6, 7, 4, 5, 6, 7)
}
// @ts-ignore: decorator
@inline
export function splatLane2(v: v128): v128 {
  return i8x16.shuffle(v, v, 8, 9, 10, 11, 8, 9, 10, 11, 8, 9, 10, 11, 8, 9, 10, 11)
}
// @ts-ignore: decorator
@inline
export function splatLane3(v: v128): v128 {
  return i8x16.shuffle(v, v, 12, 13, 14, 15, 12, 13, 14, 15, 12, 13, 14, 15, 12, 13, 14, 15)
}
// @ts-ignore: decorator
@inline
export function turnLanes(v: v128): v128 {
  return i8x16.shuffle(v, v, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 0, 1, 2, 3)
}

/** Adds w to the points of a row that are surely within R: lean s + stand t = by, slant s² − R² = rest. How far the squares of the nearest points so far are from R². */
// @ts-ignore: decorator
@inline
export function row4(at: usize, by: v128, rest: v128, surely: v128, w: v128, nearest: v128): v128 {
  const beyond = f32x4.add(f32x4.mul(by, by), rest)
  v128.store(at, f32x4.add(v128.load(at), v128.and(w, f32x4.lt(beyond, surely))))
  return f32x4.pmin(f32x4.abs(beyond), nearest)
}
