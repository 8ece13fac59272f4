// Rays on planes, four at a time (SIMD): who comes near a place, and how much crosses each point of a lattice. Twin of ../nearPlanes.ts and
// ../air/planes.ts, to the bit. Columns are padded to whole fours with NaN, which is near nothing.

/** Windows on planes: distance, place, reach (single precision, four in a row); after them how many rays each has; then their numbers. */
const WINDOWS: usize = 2048
const COUNTS: usize = 2560
const FOUND: usize = 4096
/** Rays of one call, whose numbers all find room in each window. */
const CALL: usize = 4096

let xAt: usize = 0
let yAt: usize = 0
let slopeXAt: usize = 0
let slopeYAt: usize = 0
let wattsAt: usize = 0

/** Columns of `padded` rays, one after another. */
export function place(columns: usize, padded: usize): void {
  const bytes = padded << 2
  xAt = columns
  yAt = xAt + bytes
  slopeXAt = yAt + bytes
  slopeYAt = slopeXAt + bytes
  wattsAt = slopeYAt + bytes
}

/** Numbers of the rays from `from` to `to` (whole fours) in each of the first `windows` squares, in their order. */
export function findNear(from: i32, to: i32, windows: i32): void {
  for (let q: i32 = 0; q < windows; q++) {
    const at = WINDOWS + ((<usize>q) << 4)
    const distance = f32x4.splat(load<f32>(at))
    const px = f32x4.splat(load<f32>(at, 4))
    const py = f32x4.splat(load<f32>(at, 8))
    const reach = f32x4.splat(load<f32>(at, 12))
    const found = FOUND + (<usize>q) * (CALL << 2)
    let next = found
    for (let ray = (<usize>from) << 2, end = (<usize>to) << 2; ray < end; ray += 16) {
      const x = f32x4.add(v128.load(xAt + ray), f32x4.mul(v128.load(slopeXAt + ray), distance))
      const nearX = f32x4.le(f32x4.abs(f32x4.sub(x, px)), reach)
      if (!v128.any_true(nearX)) continue
      const y = f32x4.add(v128.load(yAt + ray), f32x4.mul(v128.load(slopeYAt + ray), distance))
      const nearY = f32x4.le(f32x4.abs(f32x4.sub(y, py)), reach)
      let bits = i32x4.bitmask(v128.and(nearX, nearY))
      for (const first = <i32>(ray >> 2); bits != 0; bits &= bits - 1) {
        store<i32>(next, first + ctz(bits))
        next += 4
      }
    }
    store<i32>(COUNTS + ((<usize>q) << 2), <i32>((next - found) >> 2))
  }
}

/** Of each of sixteen choices among four numbers: the bytes that bring the chosen ones to the front. */
const TO_FRONT = memory.data<u8>([
  255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255,
  0, 1, 2, 3, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255,
  4, 5, 6, 7, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255,
  0, 1, 2, 3, 4, 5, 6, 7, 255, 255, 255, 255, 255, 255, 255, 255,
  8, 9, 10, 11, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255,
  0, 1, 2, 3, 8, 9, 10, 11, 255, 255, 255, 255, 255, 255, 255, 255,
  4, 5, 6, 7, 8, 9, 10, 11, 255, 255, 255, 255, 255, 255, 255, 255,
  0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 255, 255, 255, 255,
  12, 13, 14, 15, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255,
  0, 1, 2, 3, 12, 13, 14, 15, 255, 255, 255, 255, 255, 255, 255, 255,
  4, 5, 6, 7, 12, 13, 14, 15, 255, 255, 255, 255, 255, 255, 255, 255,
  0, 1, 2, 3, 4, 5, 6, 7, 12, 13, 14, 15, 255, 255, 255, 255,
  8, 9, 10, 11, 12, 13, 14, 15, 255, 255, 255, 255, 255, 255, 255, 255,
  0, 1, 2, 3, 8, 9, 10, 11, 12, 13, 14, 15, 255, 255, 255, 255,
  4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 255, 255, 255, 255,
  0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15,
], 16)

/** Where the next point's number is written. */
let next: usize = 0

/**
 * Adds a ray's watts to those of four points, a square of the lattice from `k` on, for which `within` has all bits set, and notes the points that were
 * dark before.
 */
// @ts-ignore: decorator
@inline
function addToSquare(grid: usize, row: usize, k: i32, numbers: v128, within: v128, watts: v128): void {
  const point = grid + ((<usize>k) << 2)
  const before = v128.load_lane<f64>(point + row, v128.load64_zero(point), 1)
  const more = v128.and(watts, within)
  const after = f32x4.add(before, more)
  v128.store_lane<f64>(point, after, 0)
  v128.store_lane<f64>(point + row, after, 1)
  const zero = f32x4.splat(0)
  const fresh = i32x4.bitmask(v128.and(f32x4.eq(before, zero), f32x4.gt(more, zero)))
  const noted = i32x4.add(i32x4.splat(k), numbers)
  v128.store(next, i8x16.swizzle(noted, v128.load(TO_FRONT + ((<usize>fresh) << 4))))
  next += (<usize>popcnt(fresh)) << 2
}

/** As addPlainly of ../air/planes.ts, two rays at a time; without branches, since which points are within R of a ray is a toss. */
export function addRays(
  count: i32,
  distanceMm: f64,
  half: f64,
  per: f64,
  n: i32,
  grid: usize,
  touched: usize,
): i32 {
  const row = (<usize>n) << 2
  const distance = f64x2.splat(distanceMm)
  const first = f64x2.splat(half)
  const scale = f64x2.splat(per)
  const zero = f64x2.splat(0)
  const one = f64x2.splat(1)
  const last = f64x2.splat(<f64>(n - 1))
  const columns = i32x4.splat(n)
  const numbers = i32x4.replace_lane(i32x4.replace_lane(i32x4.replace_lane(i32x4.splat(0), 1, 1), 2, n), 3, n + 1)
  next = touched
  for (let at: usize = 0, end = (<usize>count) << 2; at < end; at += 8) {
    const x = f64x2.mul(f64x2.add(f64x2.add(pair(xAt + at), f64x2.mul(pair(slopeXAt + at), distance)), first), scale)
    const y = f64x2.mul(f64x2.add(f64x2.add(pair(yAt + at), f64x2.mul(pair(slopeYAt + at), distance)), first), scale)
    const above = v128.and(f64x2.gt(x, zero), f64x2.gt(y, zero))
    const inside = i64x2.bitmask(v128.and(above, v128.and(f64x2.lt(x, last), f64x2.lt(y, last))))
    if (inside == 0) continue
    const c = i32x4.trunc_sat_f64x2_s_zero(x)
    const r = i32x4.trunc_sat_f64x2_s_zero(y)
    const u = f64x2.sub(x, f64x2.convert_low_i32x4_s(c))
    const v = f64x2.sub(y, f64x2.convert_low_i32x4_s(r))
    const u2 = f64x2.mul(u, u)
    const v2 = f64x2.mul(v, v)
    const left = f64x2.sub(one, u)
    const right = f64x2.mul(left, left)
    const down = f64x2.sub(one, v)
    const up = f64x2.mul(down, down)
    // All bits where the point is within R, none elsewhere.
    const m0 = f64x2.le(f64x2.add(u2, v2), one)
    const m1 = f64x2.le(f64x2.add(right, v2), one)
    const m2 = f64x2.le(f64x2.add(u2, up), one)
    const m3 = f64x2.le(f64x2.add(right, up), one)
    // Of the first ray, then of the second: single words of both pairs.
    const low = v128.shuffle<i32>(m0, m1, 0, 4, 2, 6)
    const high = v128.shuffle<i32>(m2, m3, 0, 4, 2, 6)
    const k = i32x4.add(i32x4.mul(r, columns), c)
    if (inside & 1)
      addToSquare(
        grid,
        row,
        i32x4.extract_lane(k, 0),
        numbers,
        v128.shuffle<i64>(low, high, 0, 2),
        v128.load_splat<u32>(wattsAt + at),
      )
    if (inside & 2)
      addToSquare(
        grid,
        row,
        i32x4.extract_lane(k, 1),
        numbers,
        v128.shuffle<i64>(low, high, 1, 3),
        v128.load_splat<u32>(wattsAt + at, 4),
      )
  }
  return <i32>((next - touched) >> 2)
}

/** Two numbers of a column, in double precision. */
// @ts-ignore: decorator
@inline
function pair(at: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(at))
}

/** Watts of the point that topOf gives. */
const TOP: usize = 2624

/** The first of the brightest points that were noted, -1 without one; all of them are dark then. */
export function topOf(touched: usize, used: i32, grid: usize): i32 {
  let top: i32 = -1
  let most: f32 = 0
  for (let at = touched, end = touched + ((<usize>used) << 2); at < end; at += 4) {
    const k = load<i32>(at)
    const point = grid + ((<usize>k) << 2)
    const watts = load<f32>(point)
    store<f32>(point, 0)
    if (watts > most) {
      most = watts
      top = k
    }
  }
  store<f32>(TOP, most)
  return top
}
