// From which distance on I/d² gives the illuminance on the axis within 1 %, "at this and all greater distances": ANSI/IESNA
// LM-73-04, 2.5; compare the five-times rule of EN 13032-1 for cosine-like sources.
import { fold, jackknife } from '../run/batches.ts'
import { type RayColumns, rayColumns } from '../run/exits.ts'
import type { Figure } from '../run/figure.ts'
import { BATCHES, type Run } from '../run/types.ts'
import { findHalfAngle, thetaEdges } from './profile.ts'

export interface InverseSquare {
  /** From the lamp's front, m. */
  figure?: Figure
  absent?: string
  /** Half angle of the cone that both sides of the comparison are averaged over. */
  coneHalfDeg: number
  note: string
}

const TOLERANCE = 0.01
/** On the way in noise has many chances to be taken for 1 %: it must be so many standard errors. Our choice. */
const SURE = 3
const STEP = 2 ** 0.25
/** So many times as far as the widest ray's lever needs to fill the cone. */
const START = 20
const NEAREST_MM = 1
/** A deviation that grows faster than this power comes out of nothing there. */
const MOST_POWER = 4

/**
 * The distance from the lamp's front (z = frontZMm), m, from which on I/d² is right within 1 % (LM-73-04, 2.5), with
 * its error; or `absent`, in words.
 * E(d)·d² and I are means over the same cone: a ray at (x, y) with slopes (s, t) counts by where (s + x/d, t + y/d)
 * lies in it. The weight is (1 − u²) over a disc 1.22 times as wide as the cone, which has the cone's second moment;
 * unlike a disc with an edge it doesn't jump as rays cross that edge, so the difference of the two means is known far
 * better than either. The kernel: our choice.
 */
export function readInverseSquare(run: Run, frontZMm: number): InverseSquare {
  const rays = rayColumns(run, frontZMm)
  const cone = chooseConeTangent(run)
  const coneHalfDeg = (Math.atan(cone) * 180) / Math.PI
  const note = `On the axis, over a cone of ${Number(coneHalfDeg.toPrecision(3))}° half angle, from the lamp’s front.`
  const absent = (why: string): InverseSquare => ({ absent: why, coneHalfDeg, note })
  const infinite = sumKernel(rays, null, cone, Number.POSITIVE_INFINITY)
  if (infinite.count < 100) return absent('Too few exit rays on the axis to compare illuminance with I/d².')
  const found = walkInwards(rays, cone, infinite.batch)
  if (found === 'everywhere') return absent('I/d² holds from the lamp’s front on.')
  if (found === 'nowhere')
    return absent('No distance was found from which I/d² is right within 1 %, or the sample is too small.')
  const without = Array.from({ length: BATCHES }, (_, b) => b)
  const near = (b: number) => deviation(found.near, infinite.batch, b)
  if (jackknife(near(-1), without.map(near)).se > TOLERANCE / SURE)
    return absent('Too few exit rays on the axis to tell 1 % from noise; the figure comes with more rays.')
  const crossing = (b: number) => {
    const t = stepAt(Math.abs(deviation(found.far, infinite.batch, b)), Math.abs(near(b)))
    return (found.farMm * (found.nearMm / found.farMm) ** t) / 1000
  }
  return { figure: jackknife(crossing(-1), without.map(crossing)), coneHalfDeg, note }
}

/**
 * Where the deviation is 1 %, as a share of the step from the bracket’s distant end to its near one: a power of the distance (1/d, 1/d²) where it
 * grows as one does, otherwise straight in log d.
 */
function stepAt(far: number, near: number): number {
  if (!(near > far)) return 0.5
  const asPower = far > 0 && near / far < STEP ** MOST_POWER
  const t = asPower ? Math.log(TOLERANCE / far) / Math.log(near / far) : (TOLERANCE - far) / (near - far)
  return Math.min(2, Math.max(-1, t))
}

interface Bracket {
  nearMm: number
  farMm: number
  near: Float64Array
  far: Float64Array
}

/** From far away towards the lamp until the deviation first exceeds 1 %: within it "at this and all greater distances". */
function walkInwards(rays: RayColumns, cone: number, infinite: Float64Array): Bracket | 'everywhere' | 'nowhere' {
  let farthest = 0
  for (let i = 0; i < rays.count; i++) farthest = Math.max(farthest, Math.sqrt(rays.xMm[i]! ** 2 + rays.yMm[i]! ** 2))
  const startMm = Math.max(1, (START * farthest) / cone)
  let [farMm, far] = [startMm, infinite]
  let [list, listToMm] = [findReachableRays(rays, cone, startMm / 2), startMm / 2]
  for (let d = startMm; d > NEAREST_MM; d /= STEP) {
    if (d < listToMm) {
      listToMm = d / 2
      list = findReachableRays(rays, cone, listToMm)
    }
    const near = sumKernel(rays, list, cone, d).batch
    if (Math.abs(deviation(near, infinite, -1)) > TOLERANCE)
      return d === startMm ? 'nowhere' : { nearMm: d, farMm, near, far }
    ;[farMm, far] = [d, near]
  }
  return 'everywhere'
}

/** E d² / I − 1, one batch left out (-1: none). */
function deviation(near: Float64Array, infinite: Float64Array, without: number): number {
  let [a, b] = [0, 0]
  for (let i = 0; i < BATCHES; i++) {
    if (i === without) continue
    a += near[i]!
    b += infinite[i]!
  }
  return b > 0 ? a / b - 1 : 0
}

/**
 * Tangent of the cone: a quarter of the half-flux cone's, or the user's axial cone if that is wider. Of the beam alone, not of how many rays there
 * are: near a picture of the emitters the distance hangs on the cone.
 */
function chooseConeTangent(run: Run): number {
  const { all, layout } = fold(run)
  const half = findHalfAngle(all.data, layout.profileLm, thetaEdges(run.shape), 0.5)
  return Math.max(Math.tan(run.shape.axialConeHalfRad), Math.tan(Math.min(half, 1.2) / 4))
}

/** The disc of the kernel, in slopes. */
const kernelRadius = (cone: number) => cone * Math.sqrt(1.5)

/** Rays that may come under the kernel at distance d or anywhere beyond it. */
function findReachableRays(rays: RayColumns, cone: number, d: number): Uint32Array {
  const radius = kernelRadius(cone)
  const found = new Uint32Array(rays.count)
  let n = 0
  for (let i = 0; i < rays.count; i++) {
    const slope = Math.sqrt(rays.slopeX[i]! ** 2 + rays.slopeY[i]! ** 2)
    if (slope < radius + Math.sqrt(rays.xMm[i]! ** 2 + rays.yMm[i]! ** 2) / d) found[n++] = i
  }
  return found.slice(0, n)
}

/** Weight under the kernel at distance d (null list: all rays), batch by batch. */
function sumKernel(rays: RayColumns, list: Uint32Array | null, cone: number, d: number) {
  const batch = new Float64Array(BATCHES)
  const reach = kernelRadius(cone) ** 2
  const length = list ? list.length : rays.count
  let count = 0
  for (let k = 0; k < length; k++) {
    const i = list ? list[k]! : k
    const sx = rays.slopeX[i]! + rays.xMm[i]! / d
    const sy = rays.slopeY[i]! + rays.yMm[i]! / d
    const square = sx * sx + sy * sy
    if (square >= reach) continue
    batch[rays.batch[i]!]! += rays.lumens[i]! * (1 - square / reach)
    count++
  }
  return { batch, count }
}
