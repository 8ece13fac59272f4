// What comes within R of each point of the sparse grid's lattice. Twin of ../balls.ts, to the bit.
import { row4, splatLane0, splatLane1, splatLane2, splatLane3, turnLanes } from './lanes'
import { NUMBERED, WIDE, WIDES, dxAt, dyAt, dzAt, lengthAt, numbersAt, nx, ny, nz, sumsAt, wattsAt, xAt, yAt, zAt } from './memory'

/** Of the segment and the plane whose points were doubtful in single precision: see isWithin. */
let limit: f64 = 0

/** As ../balls.ts decides it: (a, b) are coordinates along both axes across the main one, c where the segment crosses the plane. */
function isWithin(a: f64, ca: f64, da: f64, reachA: f64, b: f64, cb: f64, db: f64, reachB: f64): bool {
  if (a < ceil(ca - reachA) || a > floor(ca + reachA) || b < ceil(cb - reachB) || b > floor(cb + reachB)) return false
  const x = a - ca
  const y = b - cb
  const along = x * da + y * db
  return !(x * x + y * y - along * along > limit)
}

const LANES_F = f32x4(0, 1, 2, 3)
const LANES = i32x4(0, 1, 2, 3)

/** The segment that is added, as addToBlock takes it: on plane k of its main axis at u0 + su k, v0 + sv k, in spacings. */
let main: i32 = 0
let u0: f64 = 0
let v0: f64 = 0
let su: f64 = 0
let sv: f64 = 0
let du: f64 = 0
let dv: f64 = 0
let reachU: f64 = 0
let reachV: f64 = 0
let watts: f32 = 0
/** x² + y² − (x du + y dv)² as slant s² + (lean s + stand t)²: s along x, or along y for main axis x; t along the other. */
let slant: f32 = 0
let lean: f32 = 0
let stand: f32 = 0

/** How far a point's square is from R², as row4 has it. */
// @ts-ignore: decorator
@inline
function beyond1(s: f32, t: f32, square: f32): f32 {
  const by = s * lean + t * stand
  return by * by + (s * s * slant - square)
}

/**
 * Adds the segment to the 4 by 4 by 4 points of a block whose first one is (k, u, v), on its planes `low` to `high`: all that are surely within R in single precision, and then those of
 * which it can't tell. Across its main axis the segment is at (cu, cv) on the first plane. Rows lie along x.
 */
function addToBlock4(block: usize, k: i32, u: i32, v: i32, low: i32, high: i32, square: f32, doubt: f32): void {
  const cu = <f32>(u0 + su * <f64>k - <f64>u)
  const cv = <f32>(v0 + sv * <f64>k - <f64>v)
  const us = f32x4.add(f32x4.splat(cu), f32x4.mul(f32x4.splat(<f32>su), LANES_F))
  const vs = f32x4.add(f32x4.splat(cv), f32x4.mul(f32x4.splat(<f32>sv), LANES_F))
  const there = v128.and(i32x4.ge_s(LANES, i32x4.splat(low)), i32x4.le_s(LANES, i32x4.splat(high)))
  let ws = v128.and(f32x4.splat(watts), there)
  const surely = f32x4.splat(-doubt)
  const limits = f32x4.splat(square)
  const leans = f32x4.splat(lean)
  const stands = f32x4.splat(stand)
  const slants = f32x4.splat(slant)
  let nearest = f32x4.splat(Infinity)
  if (main == 0) {
    // A row's points lie on four planes: s along y, t along z.
    const s0 = f32x4.sub(f32x4.splat(0), us)
    const s1 = f32x4.sub(f32x4.splat(1), us)
    const s2 = f32x4.sub(f32x4.splat(2), us)
    const s3 = f32x4.sub(f32x4.splat(3), us)
    const l0 = f32x4.mul(s0, leans)
    const l1 = f32x4.mul(s1, leans)
    const l2 = f32x4.mul(s2, leans)
    const l3 = f32x4.mul(s3, leans)
    const r0 = f32x4.sub(f32x4.mul(f32x4.mul(s0, s0), slants), limits)
    const r1 = f32x4.sub(f32x4.mul(f32x4.mul(s1, s1), slants), limits)
    const r2 = f32x4.sub(f32x4.mul(f32x4.mul(s2, s2), slants), limits)
    const r3 = f32x4.sub(f32x4.mul(f32x4.mul(s3, s3), slants), limits)
    for (let b = 0; b < 4; b++) {
      const at = block + ((<usize>b) << 6)
      const t = f32x4.mul(f32x4.sub(f32x4.splat(<f32>b), vs), stands)
      nearest = row4(at, f32x4.add(l0, t), r0, surely, ws, nearest)
      nearest = row4(at + 16, f32x4.add(l1, t), r1, surely, ws, nearest)
      nearest = row4(at + 32, f32x4.add(l2, t), r2, surely, ws, nearest)
      nearest = row4(at + 48, f32x4.add(l3, t), r3, surely, ws, nearest)
    }
  } else {
    // A row lies on a plane. Main axis y: s along x (v), t along z (u); z: s along x (u), t along y (v).
    const isY = main == 1
    let ls = isY ? vs : us
    let rs = isY ? us : vs
    const rowStep: usize = isY ? 64 : 16
    const planeStep: usize = isY ? 16 : 64
    for (let plane: usize = 0; plane < 4; plane++) {
      const at = block + plane * planeStep
      const s = f32x4.sub(LANES_F, splatLane0(ls))
      const t = f32x4.mul(f32x4.sub(LANES_F, splatLane0(rs)), stands)
      const w = splatLane0(ws)
      const l = f32x4.mul(s, leans)
      const r = f32x4.sub(f32x4.mul(f32x4.mul(s, s), slants), limits)
      nearest = row4(at, f32x4.add(l, splatLane0(t)), r, surely, w, nearest)
      nearest = row4(at + rowStep, f32x4.add(l, splatLane1(t)), r, surely, w, nearest)
      nearest = row4(at + 2 * rowStep, f32x4.add(l, splatLane2(t)), r, surely, w, nearest)
      nearest = row4(at + 3 * rowStep, f32x4.add(l, splatLane3(t)), r, surely, w, nearest)
      ls = turnLanes(ls)
      rs = turnLanes(rs)
      ws = turnLanes(ws)
    }
  }
  if (v128.any_true(f32x4.le(nearest, f32x4.splat(doubt)))) addDoubtful(block, k, u, v, low, high, square, doubt)
}

/** Those of which addToBlock4 can't tell. */
function addDoubtful(block: usize, k: i32, u: i32, v: i32, low: i32, high: i32, square: f32, doubt: f32): void {
  const cu = <f32>(u0 + su * <f64>k - <f64>u)
  const cv = <f32>(v0 + sv * <f64>k - <f64>v)
  const stepMain: usize = main == 0 ? 4 : main == 1 ? 16 : 64
  const stepU: usize = main == 0 ? 16 : main == 1 ? 64 : 4
  const stepV: usize = main == 0 ? 64 : main == 1 ? 4 : 16
  for (let j = low; j <= high; j++) {
    const plane = k + j
    const atU = cu + <f32>su * <f32>j
    const atV = cv + <f32>sv * <f32>j
    const ca = u0 + su * <f64>plane
    const cb = v0 + sv * <f64>plane
    for (let b = 0; b < 4; b++)
      for (let a = 0; a < 4; a++) {
        const x = <f32>a - atU
        const y = <f32>b - atV
        const beyond = main == 1 ? beyond1(y, x, square) : beyond1(x, y, square)
        if (beyond < -doubt || beyond > doubt) continue
        if (!isWithin(<f64>(u + a), ca, du, reachU, <f64>(v + b), cb, dv, reachV)) continue
        const at = block + <usize>j * stepMain + <usize>a * stepU + <usize>b * stepV
        store<f32>(at, load<f32>(at) + watts)
      }
  }
}

/** Adds the segment to the row of up to four points that begins at plane or lane `lane` of a block, point by point; `a`, `b`: the row's place across. */
function addRow(point: usize, lane: i32, m: i32, k: i32, u: i32, v: i32, k0: i32, k1: i32): void {
  for (let j = 0; j < 4 && lane + j < m; j++) {
    const plane = main == 0 ? k + lane + j : k
    if (plane < k0 || plane > k1) continue
    const a = main == 2 ? u + lane + j : u
    const b = main == 1 ? v + lane + j : v
    const ca = u0 + su * <f64>plane
    const cb = v0 + sv * <f64>plane
    if (!isWithin(<f64>a, ca, du, reachU, <f64>b, cb, dv, reachV)) continue
    const at = point + ((<usize>j) << 2)
    store<f32>(at, load<f32>(at) + watts)
  }
}

/** Adds the segment to a block whose first point is (k, u, v), on planes k0 to k1. */
function addToBlock(block: usize, m: i32, k: i32, u: i32, v: i32, k0: i32, k1: i32, square: f32, doubt: f32): void {
  const surely = f32x4.splat(square - doubt)
  const maybe = f32x4.splat(square + doubt)
  const w = f32x4.splat(watts)
  const rowBytes = (<usize>m) << 2
  const sheetBytes = (<usize>(m * m)) << 2
  // Relative to the block.
  const cu = u0 + su * <f64>k - <f64>u
  const cv = v0 + sv * <f64>k - <f64>v
  const lowU = min<f64>(cu + su * <f64>(k0 - k), cu + su * <f64>(k1 - k)) - reachU - 1e-3
  const highU = max<f64>(cu + su * <f64>(k0 - k), cu + su * <f64>(k1 - k)) + reachU + 1e-3
  const lowV = min<f64>(cv + sv * <f64>(k0 - k), cv + sv * <f64>(k1 - k)) - reachV - 1e-3
  const highV = max<f64>(cv + sv * <f64>(k0 - k), cv + sv * <f64>(k1 - k)) + reachV + 1e-3
  const rowU0 = max<i32>(0, <i32>ceil(lowU))
  const rowU1 = min<i32>(m - 1, <i32>floor(highU))
  const rowV0 = max<i32>(0, <i32>ceil(lowV))
  const rowV1 = min<i32>(m - 1, <i32>floor(highV))
  if (main == 0) {
    // Four planes at once.
    const low = i32x4.splat(k0 - k)
    const high = i32x4.splat(k1 - k)
    for (let lane = (k0 - k) & ~3; lane <= k1 - k; lane += 4) {
      const lanes = i32x4.add(LANES, i32x4.splat(lane))
      const there = v128.and(i32x4.ge_s(lanes, low), i32x4.le_s(lanes, high))
      const along = f32x4.add(LANES_F, f32x4.splat(<f32>lane))
      const cus = f32x4.add(f32x4.splat(<f32>cu), f32x4.mul(f32x4.splat(<f32>su), along))
      const cvs = f32x4.add(f32x4.splat(<f32>cv), f32x4.mul(f32x4.splat(<f32>sv), along))
      for (let b = rowV0; b <= rowV1; b++) {
        const t = f32x4.sub(f32x4.splat(<f32>b), cvs)
        const t2 = f32x4.mul(t, t)
        const td = f32x4.mul(t, f32x4.splat(<f32>dv))
        for (let a = rowU0; a <= rowU1; a++) {
          const s = f32x4.sub(f32x4.splat(<f32>a), cus)
          const by = f32x4.add(f32x4.mul(s, f32x4.splat(<f32>du)), td)
          const off = f32x4.sub(f32x4.add(f32x4.mul(s, s), t2), f32x4.mul(by, by))
          const within = v128.and(f32x4.le(off, surely), there)
          const perhaps = v128.and(f32x4.le(off, maybe), there)
          const point = block + <usize>b * sheetBytes + <usize>a * rowBytes + ((<usize>lane) << 2)
          if (v128.any_true(v128.xor(within, perhaps))) addRow(point, lane, m, k, u + a, v + b, k0, k1)
          else v128.store(point, f32x4.add(v128.load(point), v128.and(w, within)))
        }
      }
    }
    return
  }
  // Rows along x lie in a plane: u along z and v along x for main axis y, u along x and v along y for z.
  const isY = main == 1
  const row0 = isY ? rowU0 : rowV0
  const row1 = isY ? rowU1 : rowV1
  const begin = (isY ? rowV0 : rowU0) & ~3
  const end = isY ? rowV1 : rowU1
  const dr = <f32>(isY ? du : dv)
  const dl = f32x4.splat(<f32>(isY ? dv : du))
  const rowStep = isY ? sheetBytes : rowBytes
  const planeStep = isY ? rowBytes : sheetBytes
  const reachR = isY ? reachU : reachV
  const lastLanes = i32x4.splat(m)
  for (let plane = k0; plane <= k1; plane++) {
    const by = <f64>(plane - k)
    const cr = isY ? cu + su * by : cv + sv * by
    const cl = f32x4.splat(<f32>(isY ? cv + sv * by : cu + su * by))
    const b1 = min<i32>(row1, <i32>floor(cr + reachR + 1e-3))
    for (let b = max<i32>(row0, <i32>ceil(cr - reachR - 1e-3)); b <= b1; b++) {
      const t = <f32>b - <f32>cr
      const t2 = f32x4.splat(t * t)
      const td = f32x4.splat(t * dr)
      for (let lane = begin; lane <= end; lane += 4) {
        const s = f32x4.sub(f32x4.add(LANES_F, f32x4.splat(<f32>lane)), cl)
        const along = f32x4.add(f32x4.mul(s, dl), td)
        const off = f32x4.sub(f32x4.add(f32x4.mul(s, s), t2), f32x4.mul(along, along))
        const there = i32x4.lt_s(i32x4.add(LANES, i32x4.splat(lane)), lastLanes)
        const within = v128.and(f32x4.le(off, surely), there)
        const perhaps = v128.and(f32x4.le(off, maybe), there)
        const point = block + <usize>b * rowStep + <usize>(plane - k) * planeStep + ((<usize>lane) << 2)
        if (v128.any_true(v128.xor(within, perhaps)))
          addRow(point, lane, m, plane, isY ? u + b : u, isY ? v : v + b, k0, k1)
        else v128.store(point, f32x4.add(v128.load(point), v128.and(w, within)))
      }
    }
  }
}

/**
 * Adds the watts of `count` segments to the points within R of them, of blocks that have a number. Lattice: `m` points along a block's edge, `spacing` mm apart, the first at `startX`…;
 * `square` is R² in spacings. A row of four points along x at once, in single precision; where that can't tell whether a point is within R, as ../balls.ts does. A segment crosses
 * the blocks layer by layer along its main axis. Cells are 2 R wide on either side of a corner, so that its place on a plane of points lies in a cell about each block that it can touch.
 */
export function sumBalls(count: i32, startX: f64, startY: f64, startZ: f64, spacing: f64, m: i32, square: f64): void {
  limit = square
  // Coordinates within a block are wrong by 2⁻²³ of m + 4 at most, squares about the rim by some times that.
  const doubt = <f32>(2e-5 * <f64>(m + 4))
  const perBlock = (<usize>(m * m * m)) << 2
  const perM = 1 / <f64>m
  const middle = 0.5 * <f64>(m - 1)
  const strideY = nx
  const strideZ = nx * ny
  const wideX = (nx + 7) >> WIDE
  const wideXY = wideX * ((ny + 7) >> WIDE)
  for (let line: usize = 0, all = (<usize>count) << 2; line < all; line += 4) {
    watts = load<f32>(wattsAt + line)
    if (watts == 0) continue
    const dx = <f64>load<f32>(dxAt + line)
    const dy = <f64>load<f32>(dyAt + line)
    const dz = <f64>load<f32>(dzAt + line)
    const x = <f64>load<f32>(xAt + line) - startX
    const y = <f64>load<f32>(yAt + line) - startY
    const z = <f64>load<f32>(zAt + line) - startZ
    const ax = abs(dx)
    const ay = abs(dy)
    const az = abs(dz)
    // Along the main axis d, along the next two in turn du and dv: x y z, y z x or z x y.
    let axis = 2
    let d = dz
    let eu = dx
    let ev = dy
    let p = z
    let pu = x
    let pv = y
    let strideMain = strideZ
    let strideU = 1
    let strideV = strideY
    let wideMain = wideXY
    let wideU = 1
    let wideV = wideX
    let nu = nx
    let nv = ny
    if (ax >= ay && ax >= az) {
      axis = 0
      d = dx
      eu = dy
      ev = dz
      p = x
      pu = y
      pv = z
      strideMain = 1
      strideU = strideY
      strideV = strideZ
      wideMain = 1
      wideU = wideX
      wideV = wideXY
      nu = ny
      nv = nz
    } else if (ay >= az) {
      axis = 1
      d = dy
      eu = dz
      ev = dx
      p = y
      pu = z
      pv = x
      strideMain = strideY
      strideU = strideZ
      strideV = 1
      wideMain = wideX
      wideU = wideXY
      wideV = 1
      nu = nz
      nv = nx
    }
    p /= spacing
    const q = p + (d * <f64>load<f32>(lengthAt + line)) / spacing
    const first = <i32>ceil(min<f64>(p, q))
    const last = <i32>floor(max<f64>(p, q))
    if (first > last) continue
    const slopeU = eu / d
    const slopeV = ev / d
    const fromU = pu / spacing - slopeU * p
    const fromV = pv / spacing - slopeV * p
    const overU = sqrt(square * (1 - ev * ev)) / abs(d)
    const overV = sqrt(square * (1 - eu * eu)) / abs(d)
    main = axis
    du = eu
    dv = ev
    su = slopeU
    sv = slopeV
    u0 = fromU
    v0 = fromV
    reachU = overU
    reachV = overV
    const across = axis == 1 ? eu : ev
    const away = 1 - across * across
    slant = <f32>((away - (axis == 1 ? ev * ev : eu * eu)) / away)
    lean = <f32>((-eu * ev) / sqrt(away))
    stand = <f32>sqrt(away)
    // In blocks: where the segment is in the middle of a layer, and how far from there it touches points of it, a little wide.
    const middleU = (fromU + slopeU * middle) * perM
    const middleV = (fromV + slopeV * middle) * perM
    const halfU = (abs(slopeU) * middle + overU) * perM + 1e-4
    const halfV = (abs(slopeV) * middle + overV) * perM + 1e-4
    const bounds = NUMBERED + ((<usize>axis) << 2)
    const layers = min<i32>(last / m, load<i32>(bounds, 12))
    let inWide = -1
    for (let layer = max<i32>(first / m, load<i32>(bounds)); layer <= layers; layer++) {
      const atU = middleU + slopeU * <f64>layer
      const atV = middleV + slopeV * <f64>layer
      if (layer >> WIDE != inWide) {
        inWide = layer >> WIDE
        const more = <f64>(7 - (layer & 7))
        const endU = atU + slopeU * more
        const endV = atV + slopeV * more
        const lastU = min<i32>(nu - 1, <i32>(max<f64>(atU, endU) + halfU)) >> WIDE
        const lastV = min<i32>(nv - 1, <i32>(max<f64>(atV, endV) + halfV)) >> WIDE
        const firstU = max<i32>(0, <i32>(min<f64>(atU, endU) - halfU)) >> WIDE
        let any: i32 = 0
        for (let wv = max<i32>(0, <i32>(min<f64>(atV, endV) - halfV)) >> WIDE; wv <= lastV; wv++)
          for (let wu = firstU; wu <= lastU; wu++)
            any |= <i32>load<u8>(WIDES + <usize>(inWide * wideMain + wu * wideU + wv * wideV))
        if (!any) {
          layer |= 7
          continue
        }
      }
      const lastU = min<i32>(nu - 1, <i32>(atU + halfU))
      const lastV = min<i32>(nv - 1, <i32>(atV + halfV))
      const firstU = max<i32>(0, <i32>(atU - halfU))
      for (let bv = max<i32>(0, <i32>(atV - halfV)); bv <= lastV; bv++)
        for (let bu = firstU; bu <= lastU; bu++) {
          const number = load<i32>(numbersAt + ((<usize>(layer * strideMain + bu * strideU + bv * strideV)) << 2))
          if (number == 0) continue
          const block = sumsAt + <usize>(number - 1) * perBlock
          const k = layer * m
          const u = bu * m
          const v = bv * m
          const k0 = max<i32>(first, k)
          const k1 = min<i32>(last, k + m - 1)
          if (m == 4) addToBlock4(block, k, u, v, k0 - k, k1 - k, <f32>square, doubt)
          else addToBlock(block, m, k, u, v, k0, k1, <f32>square, doubt)
        }
    }
  }
}

/** `count` sums (padded to whole fours) times a factor, rounded once. */
export function scaleSums(count: i32, factor: f64): void {
  const by = f64x2.splat(factor)
  for (let at = sumsAt, end = sumsAt + ((<usize>count) << 2); at < end; at += 16) {
    const sums = v128.load(at)
    const low = f32x4.demote_f64x2_zero(f64x2.mul(f64x2.promote_low_f32x4(sums), by))
    const high = f32x4.demote_f64x2_zero(f64x2.mul(f64x2.promote_low_f32x4(i8x16.shuffle(sums, sums, 8, 9, 10, 11, 12, 13, 14, 15, 8, 9, 10, 11, 12, 13, 14, 15)), by))
    v128.store(at, i8x16.shuffle(low, high, 0, 1, 2, 3, 4, 5, 6, 7, 16, 17, 18, 19, 20, 21, 22, 23))
  }
}
