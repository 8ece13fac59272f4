// Discs on planes, moved to where the most power crosses them.
import { COMPASS } from '../num/gridDisc.ts'
import type { TimeSliced } from '../num/scheduler.ts'
import type { RayColumns } from '../run/exits.ts'
import { findNear } from './nearPlanes.ts'
import type { PlanePlace, Spot2 } from './planes.ts'

/** What the hottest disc near a place has. */
export interface ClimbedPlace extends PlanePlace {
  /** Of the rays that were searched. */
  watts: number
  /** Of their mean direction to the axis. */
  cos: number
}

/** Where a climb begins, and the disc that climbs. */
interface ClimbStart extends PlanePlace {
  discMm: number
}

/**
 * The disc on a plane near each of the places that the most power crosses: compass search (steps halved from R/2 to R/16) on at most 3000 of the
 * rays near by. Place in mm, watts of the rays, and the cosine of their mean direction to the axis: a disc that faces the light meets 1/cos as
 * much on its area. Time-sliced.
 */
export function* climbPlanes(rays: RayColumns, starts: readonly ClimbStart[]): TimeSliced<ClimbedPlace[]> {
  const out: ClimbedPlace[] = []
  // The lists of so many at once are kept.
  for (let first = 0; first < starts.length; first += CLIMBED_AT_ONCE) {
    const some = starts.slice(first, first + CLIMBED_AT_ONCE)
    const seekers = some.map((start) => makeSeeker(rays, start))
    yield* findNear(
      rays,
      seekers.map(({ window }) => window),
      (q, near) => seekers[q]?.add(near),
    )
    for (const { start, read } of seekers) {
      yield
      out.push({ distanceMm: start.distanceMm, ...climb(thinned(rays, start.distanceMm, read()), start) })
    }
  }
  return out
}

const CLIMBED_AT_ONCE = 16

/** Lists the rays that a climb may meet. */
function makeSeeker({ xMm, yMm, slopeX, slopeY }: RayColumns, start: ClimbStart) {
  const { distanceMm, xMm: px, yMm: py, discMm } = start
  const reachMm = 1.5 * discMm
  let numbers = new Int32Array(256)
  let count = 0
  return {
    start,
    window: { distanceMm, xMm: px, yMm: py, reachMm },
    add(near: Int32Array) {
      for (const i of near) {
        if (!(Math.abs(xMm[i]! + slopeX[i]! * distanceMm - px) <= reachMm)) continue
        if (!(Math.abs(yMm[i]! + slopeY[i]! * distanceMm - py) <= reachMm)) continue
        if (count === numbers.length) {
          const more = new Int32Array(2 * count)
          more.set(numbers)
          numbers = more
        }
        numbers[count++] = i
      }
    },
    read: () => numbers.subarray(0, count),
  }
}

function climb(near: NearRays, { discMm, ...start }: ClimbStart): Spot2 & { watts: number; cos: number } {
  const radius = discMm / 2
  const through = (x: number, y: number) => {
    let sum = 0
    for (let k = 0; k < near.count; k++)
      if ((near.x[k]! - x) ** 2 + (near.y[k]! - y) ** 2 <= radius * radius) sum += near.watts[k]!
    return sum
  }
  let [x, y] = [start.xMm, start.yMm]
  let most = through(x, y)
  for (let step = radius / 2; step >= radius / 16; step /= 2) {
    for (let better = true; better; ) {
      better = false
      for (const [dx, dy] of COMPASS) {
        const [tx, ty] = [x + step * dx, y + step * dy]
        if (Math.abs(tx - start.xMm) > discMm || Math.abs(ty - start.yMm) > discMm) continue
        const watts = through(tx, ty)
        if (watts > most * (1 + 1e-6)) [x, y, most, better] = [tx, ty, watts, true]
      }
    }
  }
  return { xMm: x, yMm: y, watts: most, cos: near.cosAbout(x, y, radius) }
}

const MOST_NEAR = 3000

type NearRays = ReturnType<typeof thinned>

/** Places and watts of some rays on a plane, of at most 3000 of them. */
function thinned(rays: RayColumns, distanceMm: number, index: Int32Array) {
  const all = index.length
  const stride = Math.max(1, Math.ceil(all / MOST_NEAR))
  const count = Math.ceil(all / stride)
  const [x, y, watts] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)]
  for (let k = 0; k < count; k++) {
    const i = index[k * stride]!
    x[k] = rays.xMm[i]! + rays.slopeX[i]! * distanceMm
    y[k] = rays.yMm[i]! + rays.slopeY[i]! * distanceMm
    watts[k] = (rays.watts[i]! * all) / count
  }
  const cosAbout = (px: number, py: number, radius: number) => {
    let [sx, sy, sz] = [0, 0, 0]
    for (let k = 0; k < count; k++) {
      if ((x[k]! - px) ** 2 + (y[k]! - py) ** 2 > radius * radius) continue
      const i = index[k * stride]!
      const length = Math.sqrt(1 + rays.slopeX[i]! ** 2 + rays.slopeY[i]! ** 2)
      sx += (watts[k]! * rays.slopeX[i]!) / length
      sy += (watts[k]! * rays.slopeY[i]!) / length
      sz += watts[k]! / length
    }
    const length = Math.hypot(sx, sy, sz)
    return length > 0 ? Math.max(LEAST_COS, sz / length) : 1
  }
  return { count, x, y, watts, cosAbout }
}

/** Light that runs more along the plane than this is left to the search in space. */
const LEAST_COS = 0.2
