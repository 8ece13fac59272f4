// Which rays come near places on planes: many places at once, the rays in pieces that stay in the processor's cache, four at a time in WebAssembly.
import type { TimeSliced } from '../num/scheduler.ts'
import type { RayColumns } from '../run/exits.ts'
import { CALL_RAYS, CALL_WINDOWS, type PlanesMachine, planesMachine } from './wasm/instance.ts'

/** A square on a plane, ± reach about a place. */
export interface PlaneWindow {
  distanceMm: number
  xMm: number
  yMm: number
  reachMm: number
}

/** Gets the numbers of some rays, in their order, that may be in a window; valid until it returns. */
type Take = (window: number, rays: Int32Array) => void

/**
 * Hands out for each window all rays in it, piece after piece in the order of the rays, and a few from just beyond its edge: single precision finds
 * them, and whoever takes them looks again. Time-sliced. Our own method, no source.
 */
export function* findNear(
  rays: RayColumns,
  windows: readonly PlaneWindow[],
  take: Take,
  machine: PlanesMachine | null = planesMachine(),
): TimeSliced<void> {
  if (!machine) return yield* findNearPlainly(rays, windows, take)
  const widest = widestOf(rays)
  const padded = 4 * Math.ceil(rays.count / 4)
  for (let first = 0; first < windows.length; first += CALL_WINDOWS) {
    const some = windows.slice(first, first + CALL_WINDOWS)
    for (let from = 0; from < padded; from += CALL_RAYS) {
      machine.use(rays) // another search may have come between
      for (const [q, { distanceMm, xMm, yMm, reachMm }] of some.entries()) {
        const reach = reachMm + marginMm(reachMm + Math.max(Math.abs(xMm), Math.abs(yMm)), widest)
        machine.windows.set([distanceMm, xMm, yMm, reach], 4 * q)
      }
      machine.findNear(from, Math.min(padded, from + CALL_RAYS), some.length)
      for (const [q] of some.entries()) {
        const count = machine.counts[q] ?? 0
        if (count > 0) take(first + q, machine.found.subarray(q * CALL_RAYS, q * CALL_RAYS + count))
      }
      yield
    }
  }
}

/**
 * What single precision may be wrong by: x + s d − p is rounded six times (the distance and the place among them), each time by at most 2⁻²⁴ of
 * what is rounded. Of a ray in the window, x + s d is no more than place and reach, s d no more than that and the widest x.
 */
const marginMm = (farthestMm: number, widestMm: number): number => 2 ** -21 * (farthestMm + widestMm)

const widestX = new WeakMap<RayColumns, number>()

function widestOf(rays: RayColumns): number {
  const known = widestX.get(rays)
  if (known !== undefined) return known
  let most = 0
  for (const column of [rays.xMm, rays.yMm])
    for (const mm of column.subarray(0, rays.count)) most = Math.max(most, Math.abs(mm))
  widestX.set(rays, most)
  return most
}

/** Where there is no WebAssembly. */
function* findNearPlainly(rays: RayColumns, windows: readonly PlaneWindow[], take: Take): TimeSliced<void> {
  const { count, xMm, yMm, slopeX, slopeY } = rays
  const found = new Int32Array(count)
  for (const [q, { distanceMm, xMm: px, yMm: py, reachMm }] of windows.entries()) {
    let n = 0
    for (let i = 0; i < count; i++) {
      if (!(Math.abs(xMm[i]! + slopeX[i]! * distanceMm - px) <= reachMm)) continue
      if (Math.abs(yMm[i]! + slopeY[i]! * distanceMm - py) <= reachMm) found[n++] = i
    }
    if (n > 0) take(q, found.subarray(0, n))
    yield
  }
}
