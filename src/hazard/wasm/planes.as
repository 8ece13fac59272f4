// Rays on planes, four at a time (SIMD): who comes near a place, and how much crosses each point of a lattice. Twin of ../nearPlanes.ts and
// ../air/planes.ts, to the bit. Columns are padded to whole fours with NaN, which is near nothing.

/** Windows on planes: distance, place, reach (single precision, four in a row); after them how many rays each has; then their numbers. */
const WINDOWS: usize = 1024
const COUNTS: usize = 2048
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

/** As addRays of ../air/planes.ts; without branches, since which points are within R of a ray is a toss. */
export function addRays(
  count: i32,
  distanceMm: f64,
  half: f64,
  per: f64,
  n: i32,
  grid: usize,
  touched: usize,
): i32 {
  const last = <f64>(n - 1)
  const row = (<usize>n) << 2
  let next = touched
  for (let at: usize = 0, end = (<usize>count) << 2; at < end; at += 4) {
    const x = (<f64>load<f32>(xAt + at) + <f64>load<f32>(slopeXAt + at) * distanceMm + half) * per
    const y = (<f64>load<f32>(yAt + at) + <f64>load<f32>(slopeYAt + at) * distanceMm + half) * per
    if (!(<i32>(x > 0) & <i32>(y > 0) & <i32>(x < last) & <i32>(y < last))) continue
    const w = load<i32>(wattsAt + at)
    const c = <i32>x
    const r = <i32>y
    const u = x - <f64>c
    const v = y - <f64>r
    const u2 = u * u
    const v2 = v * v
    const right = (1 - u) * (1 - u)
    const up = (1 - v) * (1 - v)
    // All bits where the point is within R, none elsewhere.
    const m0 = -(<i32>(u2 + v2 <= 1))
    const m1 = -(<i32>(right + v2 <= 1))
    const m2 = -(<i32>(u2 + up <= 1))
    const m3 = -(<i32>(right + up <= 1))
    const k = r * n + c
    const point = grid + ((<usize>k) << 2)
    const b0 = load<f32>(point)
    const b1 = load<f32>(point, 4)
    const b2 = load<f32>(point + row)
    const b3 = load<f32>(point + row, 4)
    store<f32>(point, b0 + reinterpret<f32>(w & m0))
    store<f32>(point, b1 + reinterpret<f32>(w & m1), 4)
    store<f32>(point + row, b2 + reinterpret<f32>(w & m2))
    store<f32>(point + row, b3 + reinterpret<f32>(w & m3), 4)
    const lit = <i32>(reinterpret<f32>(w) > 0)
    store<i32>(next, k)
    next += (<usize>(<i32>(b0 == 0) & lit & m0)) << 2
    store<i32>(next, k + 1)
    next += (<usize>(<i32>(b1 == 0) & lit & m1)) << 2
    store<i32>(next, k + n)
    next += (<usize>(<i32>(b2 == 0) & lit & m2)) << 2
    store<i32>(next, k + n + 1)
    next += (<usize>(<i32>(b3 == 0) & lit & m3)) << 2
  }
  return <i32>((next - touched) >> 2)
}
