// Twin of src/engine/backward/radiance.ts, for emitters on planes and without cups: the same bits.
import { profileDensity } from '../../../optics/wasm/density'
import { draw } from '../../../optics/wasm/draws'
import * as C from './constants'
import {
  count,
  double,
  emitters,
  grid,
  integer,
  kinds,
  own,
  planes,
  radiance,
  ratio,
  ray,
  single,
  spectrumOf,
} from './memory'

const PATCHES_MOST: i32 = 12
/** Bytes of a plane's row: height, corner, cells a mm; then integers: columns, rows, first of its starts and of its items in the grid. */
const PLANE: usize = 48

/** Radiance met so far by the ray in flight, 1/(mm² sr) for each watt emitted. */
export let met: f64 = 0
export function startScore(): void {
  met = 0
}

function radianceAt(i: i32, x: f64, y: f64): f64 {
  const at = i * C.E_size
  const kind = <i32>single(emitters, at + C.E_kind) * C.K_size
  const cos = single(emitters, at + C.E_cos)
  const sin = single(emitters, at + C.E_sin)
  const px = x - single(emitters, at + C.E_x)
  const py = y - single(emitters, at + C.E_y)
  const half = single(kinds, kind + C.K_halfX)
  if (single(kinds, kind + C.K_disc) > 0) {
    if (px * px + py * py > half * half) return 0
  } else if (Math.abs(cos * px + sin * py) > half || Math.abs(cos * py - sin * px) > single(kinds, kind + C.K_halfY)) return 0
  const share = double(ratio, integer(spectrumOf, i))
  if (share == 0) return 0
  const dx = -ray(C.DX)
  const dy = -ray(C.DY)
  const dz = -ray(C.DZ)
  const density = profileDensity(kind, cos * dx + sin * dy, cos * dy - sin * dx, dz)
  return (double(radiance, i) * share * density) / dz
}

function crossPatches(plane: usize): void {
  const s = (load<f64>(plane) - ray(C.Z)) / ray(C.DZ)
  const x = ray(C.X) + s * ray(C.DX)
  const y = ray(C.Y) + s * ray(C.DY)
  const perMm = load<f64>(plane, 24)
  const column = <i32>Math.floor((x - load<f64>(plane, 8)) * perMm)
  const row = <i32>Math.floor((y - load<f64>(plane, 16)) * perMm)
  const columns = load<i32>(plane, 32)
  if (column < 0 || row < 0 || column >= columns || row >= load<i32>(plane, 36)) return
  const start = load<i32>(plane, 40) + row * columns + column
  const from = integer(grid, start)
  const n = integer(grid, start + 1) - from
  const items = load<i32>(plane, 44) + from
  const w = ray(C.W)
  if (n <= PATCHES_MOST) {
    for (let k = 0; k < n; k++) met += w * radianceAt(integer(grid, items + k), x, y)
    return
  }
  const first = draw()
  const times = <f64>n / <f64>PATCHES_MOST
  for (let k = 0; k < PATCHES_MOST; k++) {
    const which = <i32>Math.floor(((first + <f64>k) * <f64>n) / <f64>PATCHES_MOST)
    met += times * w * radianceAt(integer(grid, items + which), x, y)
  }
}

/** The ray goes on straight down to zTo: add what it crosses. */
export function descend(zTo: f64): void {
  if (zTo > own(C.O_topMm)) return
  const zFrom = ray(C.Z)
  const n = count(C.N_planes)
  for (let k = 0; k < n; k++) {
    const plane = planes + <usize>k * PLANE
    const z = load<f64>(plane)
    if (z < zFrom && z >= zTo) crossPatches(plane)
  }
}
