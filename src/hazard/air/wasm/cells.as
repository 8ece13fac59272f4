// What crosses each cell and each half cell of the sparse grid. Twin of ../grid.ts and ../tighten.ts, to the bit.
import { BOX, WIDE, WIDES, crossedAt, dxAt, dyAt, dzAt, fluenceAt, lengthAt, numbersAt, nx, ny, nz, powerAt, sumsAt, wattsAt, xAt, yAt, zAt } from './memory'

/** Ends of `count` segments, one at least. */
export function boxOf(count: i32): void {
  for (let axis: usize = 0; axis < 3; axis++) {
    const stride = yAt - xAt
    const start = xAt + axis * stride
    const direction = dxAt + axis * stride
    let least: f64 = Infinity
    let most: f64 = -Infinity
    for (let at: usize = 0, end = (<usize>count) << 2; at < end; at += 4) {
      const a = <f64>load<f32>(start + at)
      const b = a + <f64>load<f32>(direction + at) * <f64>load<f32>(lengthAt + at)
      least = min<f64>(least, min<f64>(a, b))
      most = max<f64>(most, max<f64>(a, b))
    }
    store<f64>(BOX + (axis << 3), least)
    store<f64>(BOX + (axis << 3), most, 24)
  }
}

/** As sumCells of ../grid.ts: how many cells are crossed. All cells are 0 before. */
export function sumCells(count: i32, fromX: f64, fromY: f64, fromZ: f64, cellMm: f64): i32 {
  let next = crossedAt
  for (let line: usize = 0, all = (<usize>count) << 2; line < all; line += 4) {
    const w = load<f32>(wattsAt + line)
    if (!(w > 0)) continue
    const watts = <f64>w
    const dx = <f64>load<f32>(dxAt + line)
    const dy = <f64>load<f32>(dyAt + line)
    const dz = <f64>load<f32>(dzAt + line)
    const end = <f64>load<f32>(lengthAt + line)
    const x = (<f64>load<f32>(xAt + line) - fromX) / cellMm
    const y = (<f64>load<f32>(yAt + line) - fromY) / cellMm
    const z = (<f64>load<f32>(zAt + line) - fromZ) / cellMm
    const ix = floor(x)
    const iy = floor(y)
    const iz = floor(z)
    const perX = cellMm / max<f64>(1e-9, abs(dx))
    const perY = cellMm / max<f64>(1e-9, abs(dy))
    const perZ = cellMm / max<f64>(1e-9, abs(dz))
    let atX = (dx > 0 ? ix + 1 - x : x - ix) * perX
    let atY = (dy > 0 ? iy + 1 - y : y - iy) * perY
    let atZ = (dz > 0 ? iz + 1 - z : z - iz) * perZ
    const stepX = dx > 0 ? 1 : -1
    const stepY = dy > 0 ? nx : -nx
    const stepZ = dz > 0 ? nx * ny : -nx * ny
    let cell = (<i32>iz * ny + <i32>iy) * nx + <i32>ix
    let at: f64 = 0
    for (;;) {
      const leave = min<f64>(min<f64>(atX, atY), min<f64>(atZ, end))
      const power = powerAt + ((<usize>cell) << 2)
      const fluence = fluenceAt + ((<usize>cell) << 2)
      const before = load<f32>(power)
      // Written before it is known whether it counts.
      store<i32>(next, cell)
      next += (<usize>(before == 0)) << 2
      store<f32>(power, <f32>(<f64>before + watts))
      store<f32>(fluence, <f32>(<f64>load<f32>(fluence) + watts * (leave - at)))
      if (!(leave < end)) break
      at = leave
      if (atX == leave) {
        cell += stepX
        atX += perX
      } else if (atY == leave) {
        cell += stepY
        atY += perY
      } else {
        cell += stepZ
        atZ += perZ
      }
    }
  }
  return <i32>((next - crossedAt) >> 2)
}

/** Half cells from the wall before a place to the next one, as a line meets it. */
// @ts-ignore: decorator
@inline
function toWall(d: f64, at: f64, cell: f64, size: f64, per: f64): f64 {
  return (d > 0 ? (cell + 1) * size - at : at - cell * size) * per
}

/** As sumHalves of ../tighten.ts: watts by half cell of the cells that have a number, eight in a row. Wide cells are marked where one of their cells has a number. */
export function sumHalves(count: i32, fromX: f64, fromY: f64, fromZ: f64, cellMm: f64): void {
  const wideMm = 8 * cellMm
  const halfMm = cellMm / 2
  const wideX = (nx + 7) >> WIDE
  const wideXY = wideX * ((ny + 7) >> WIDE)
  for (let line: usize = 0, all = (<usize>count) << 2; line < all; line += 4) {
    const w = <f64>load<f32>(wattsAt + line)
    const end = <f64>load<f32>(lengthAt + line)
    const x = <f64>load<f32>(xAt + line) - fromX
    const y = <f64>load<f32>(yAt + line) - fromY
    const z = <f64>load<f32>(zAt + line) - fromZ
    const dx = <f64>load<f32>(dxAt + line)
    const dy = <f64>load<f32>(dyAt + line)
    const dz = <f64>load<f32>(dzAt + line)
    const perX = 1 / max<f64>(1e-9, abs(dx))
    const perY = 1 / max<f64>(1e-9, abs(dy))
    const perZ = 1 / max<f64>(1e-9, abs(dz))
    const stepX = dx > 0 ? 1 : -1
    const stepY = dy > 0 ? 1 : -1
    const stepZ = dz > 0 ? 1 : -1
    const wx = floor(x / wideMm)
    const wy = floor(y / wideMm)
    const wz = floor(z / wideMm)
    let atX = toWall(dx, x, wx, wideMm, perX)
    let atY = toWall(dy, y, wy, wideMm, perY)
    let atZ = toWall(dz, z, wz, wideMm, perZ)
    let wide = <i32>wx + <i32>wy * wideX + <i32>wz * wideXY
    let at: f64 = 0
    for (;;) {
      const leave = min<f64>(min<f64>(atX, atY), min<f64>(atZ, end))
      if (load<u8>(WIDES + <usize>wide)) {
        let hx = min<i32>(2 * nx - 1, max<i32>(0, <i32>floor((x + at * dx) / halfMm)))
        let hy = min<i32>(2 * ny - 1, max<i32>(0, <i32>floor((y + at * dy) / halfMm)))
        let hz = min<i32>(2 * nz - 1, max<i32>(0, <i32>floor((z + at * dz) / halfMm)))
        let toX = toWall(dx, x, <f64>hx, halfMm, perX)
        let toY = toWall(dy, y, <f64>hy, halfMm, perY)
        let toZ = toWall(dz, z, <f64>hz, halfMm, perZ)
        for (;;) {
          const number = load<i32>(numbersAt + ((<usize>((hx >> 1) + nx * ((hy >> 1) + ny * (hz >> 1)))) << 2))
          if (number > 0) {
            const half = 8 * (number - 1) + (hx & 1) + 2 * (hy & 1) + 4 * (hz & 1)
            const sum = sumsAt + ((<usize>half) << 2)
            store<f32>(sum, <f32>(<f64>load<f32>(sum) + w))
          }
          if (toX < toY && toX < toZ) {
            if (!(toX < leave)) break
            hx += stepX
            toX += halfMm * perX
          } else if (toY < toZ) {
            if (!(toY < leave)) break
            hy += stepY
            toY += halfMm * perY
          } else {
            if (!(toZ < leave)) break
            hz += stepZ
            toZ += halfMm * perZ
          }
        }
      }
      if (!(leave < end)) break
      at = leave
      if (atX == leave) {
        wide += stepX
        atX += wideMm * perX
      } else if (atY == leave) {
        wide += stepY * wideX
        atY += wideMm * perY
      } else {
        wide += stepZ * wideXY
        atZ += wideMm * perZ
      }
    }
  }
}

/** Power and fluence of the first `count` crossed cells are 0 again. */
export function clearCells(count: i32): void {
  for (let at = crossedAt, end = crossedAt + ((<usize>count) << 2); at < end; at += 4) {
    const by = (<usize>load<i32>(at)) << 2
    store<f32>(powerAt + by, 0)
    store<f32>(fluenceAt + by, 0)
  }
}
