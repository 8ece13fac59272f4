// The intensity profile: luminous sums over θ bins, smoothed with the axial cone, batch by batch.
import { type Folded, jackknife, type Tally } from '../run/batches.ts'
import type { Run, TallyShape } from '../run/types.ts'

/** Edges of the θ bins, rad: fine, then coarse; one more than there are bins, from 0 to π. */
export function thetaEdges(shape: TallyShape): Float64Array {
  const edges = new Float64Array(shape.fineBins + shape.coarseBins + 1)
  for (let i = 0; i <= shape.fineBins; i++) edges[i] = (i / shape.fineBins) * shape.fineHalfRad
  for (let i = 1; i <= shape.coarseBins; i++)
    edges[shape.fineBins + i] = shape.fineHalfRad + (i / shape.coarseBins) * (Math.PI - shape.fineHalfRad)
  edges[edges.length - 1] = Math.PI
  return edges
}

/**
 * Solid angle between the cones of half angle a ≤ b (rad), sr: 2π (cos a − cos b), without losing digits at small
 * angles.
 */
export const zoneSr = (a: number, b: number): number => 4 * Math.PI * Math.sin((a + b) / 2) * Math.sin((b - a) / 2)
/** Solid angle of a cone of half angle `half` (rad), sr. */
export const coneSr = (half: number): number => zoneSr(0, half)

/**
 * Share, 0 to 1, of the circle at θ that lies within the cone of half angle `cone` about a direction at θ0, all rad:
 * spherical law of cosines.
 */
export function shareInCone(theta: number, theta0: number, cone: number): number {
  if (theta + theta0 <= cone || theta + theta0 >= 2 * Math.PI - cone) return 1
  if (Math.abs(theta - theta0) >= cone) return 0
  const cos = (Math.cos(cone) - Math.cos(theta) * Math.cos(theta0)) / (Math.sin(theta) * Math.sin(theta0))
  return Math.acos(Math.min(1, Math.max(-1, cos))) / Math.PI
}

/** For each bin centre the bins under a cone about it and the share of each that the cone covers. */
interface Smoother {
  thetaRad: Float64Array
  first: Int32Array
  /** Of bin j: from start[j] to start[j + 1]. */
  weights: Float64Array
  start: Int32Array
  /** Solid angle of what is covered. */
  sr: Float64Array
}

let smootherCache: { key: string; value: Smoother } | null = null

/**
 * For each bin centre, the bins under the axial cone about it and the share of each that the cone covers. Cached for
 * one set of bins; not to be written into.
 */
export function getConeSmoother(shape: TallyShape): Smoother {
  const key = [shape.fineHalfRad, shape.fineBins, shape.coarseBins, shape.axialConeHalfRad].join()
  if (smootherCache?.key !== key)
    smootherCache = { key, value: buildSmoother(thetaEdges(shape), shape.axialConeHalfRad) }
  return smootherCache.value
}

function buildSmoother(edges: Float64Array, cone: number): Smoother {
  const n = edges.length - 1
  const [thetaRad, sr] = [new Float64Array(n), new Float64Array(n)]
  const [first, start] = [new Int32Array(n), new Int32Array(n + 1)]
  const weights: number[] = []
  const zones = Float64Array.from({ length: n }, (_, i) => zoneSr(edges[i]!, edges[i + 1]!))
  for (let j = 0; j < n; j++) {
    const theta0 = (edges[j]! + edges[j + 1]!) / 2
    thetaRad[j] = theta0
    let from = j
    let to = j
    // A cone narrower than the bin sees the bin itself.
    if (cone > (edges[j + 1]! - edges[j]!) / 2) {
      while (from > 0 && edges[from]! > theta0 - cone) from--
      while (to < n - 1 && edges[to + 1]! < theta0 + cone) to++
    }
    let covered = 0
    for (let i = from; i <= to; i++) {
      const weight = from === to ? 1 : meanShare(edges[i]!, edges[i + 1]!, theta0, cone)
      weights.push(weight)
      covered += weight * zones[i]!
    }
    sr[j] = covered
    first[j] = from
    start[j + 1] = weights.length
  }
  return { thetaRad, first, start, weights: Float64Array.from(weights), sr }
}

/** Mean over a bin, by solid angle; the more points the wider the bin is against the cone. */
function meanShare(a: number, b: number, theta0: number, cone: number): number {
  const points = Math.min(8, Math.max(1, Math.ceil((12 * (b - a)) / cone)))
  let sum = 0
  let sr = 0
  for (let k = 0; k < points; k++) {
    const [from, to] = [a + ((b - a) * k) / points, a + ((b - a) * (k + 1)) / points]
    const zone = zoneSr(from, to)
    sum += zone * shareInCone((from + to) / 2, theta0, cone)
    sr += zone
  }
  return sum / sr
}

/** No sum over rays is known better than to one of them, lm: where all batches count alike their spread is 0. Our choice. */
export const oneRayLm = (run: Run): number => run.emittedLm / Math.max(1, run.rays)

/** What a lumen in the bin adds to the azimuth mean at its middle, smoothed with the axial cone, cd; bin −1: to the mean over that cone itself. */
export function cdPerLumen(shape: TallyShape, bin: number): number {
  const { weights, start, sr } = getConeSmoother(shape)
  if (bin < 0 || bin >= sr.length) return 1 / coneSr(shape.axialConeHalfRad)
  return weights.subarray(start[bin], start[bin + 1]).reduce((a, b) => Math.max(a, b), 0) / sr[bin]!
}

export interface Profile {
  /** 0 first (the axial cone itself), then the bin centres. */
  thetaRad: Float64Array
  cd: Float64Array
  seCd: Float64Array
  /** The same with one batch left out. */
  without: Float64Array[]
}

/**
 * The intensity profile, cd over θ (rad): mean over azimuth, smoothed with the axial cone, with standard errors and
 * the profiles without one batch each.
 */
export function readSmoothProfile(folded: Folded): Profile {
  const smoother = getConeSmoother(folded.run.shape)
  const { first, start, weights, sr } = smoother
  const { axialLm, profileLm } = folded.layout
  const cone = coneSr(folded.run.shape.axialConeHalfRad)
  const n = smoother.thetaRad.length
  const read = ({ data, lmPerWeight }: Tally) => {
    const cd = new Float64Array(n + 1)
    cd[0] = (data[axialLm]! * lmPerWeight) / cone
    for (let j = 0, k = 0; j < n; j++) {
      let at = profileLm + first[j]!
      let lm = 0
      for (const end = start[j + 1]!; k < end; k++, at++) lm += weights[k]! * data[at]!
      cd[j + 1] = (lm * lmPerWeight) / sr[j]!
    }
    return cd
  }
  const cd = read(folded.all)
  const without = folded.without.map(read)
  const thetaRad = new Float64Array(n + 1)
  thetaRad.set(smoother.thetaRad, 1)
  const seCd = new Float64Array(n + 1)
  const at = new Array<number>(without.length)
  for (let j = 0; j <= n; j++) {
    for (let b = 0; b < without.length; b++) at[b] = without[b]![j]!
    seCd[j] = jackknife(cd[j]!, at).se
  }
  seCd[0] = Math.max(seCd[0]!, oneRayLm(folded.run) / cone)
  return { thetaRad, cd, seCd, without }
}

/**
 * Luminous weight inside the cone of half angle `half` (rad) on the axis; bins start at data[from]. Within a bin it
 * spreads evenly over the solid angle.
 */
export function weightInside(data: Float64Array, from: number, edges: Float64Array, half: number): number {
  let sum = 0
  let i = 0
  const bins = edges.length - 1
  for (; i < bins && edges[i + 1]! <= half; i++) sum += data[from + i]!
  if (i < bins && half > edges[i]!)
    sum += (data[from + i]! * zoneSr(edges[i]!, half)) / zoneSr(edges[i]!, edges[i + 1]!)
  return sum
}

/**
 * One standard error of the weight inside the half angle `rad` for the bin that it cuts, in the unit of the data: light lies evenly in it, and its
 * neighbours tell how far from even it may lie. 0 at an edge.
 */
export function unevenInBin(data: Float64Array, from: number, edges: Float64Array, rad: number): number {
  const bin = edges.findIndex((edge) => edge > rad) - 1
  if (bin < 0) return 0
  const at = (i: number) => (i >= 0 && i < edges.length - 1 ? data[from + i]! : 0)
  const part = (rad - edges[bin]!) / (edges[bin + 1]! - edges[bin]!)
  return Math.sqrt((part * (1 - part)) / 12) * Math.abs(at(bin - 1) - at(bin + 1))
}

/** Half angle, rad, of the cone on the axis that holds `share` (0 to 1) of the weight; π where no weight lies. */
export function findHalfAngle(data: Float64Array, from: number, edges: Float64Array, share: number): number {
  const n = edges.length - 1
  let total = 0
  for (let i = 0; i < n; i++) total += data[from + i]!
  const wanted = share * total
  let sum = 0
  for (let i = 0; i < n; i++) {
    const here = data[from + i]!
    if (here > 0 && sum + here >= wanted) {
      // Even over the solid angle: cos θ falls linearly with the weight; sin² of the half angle keeps the digits.
      const s = (angle: number) => Math.sin(angle / 2) ** 2
      const [a, b] = [s(edges[i]!), s(edges[i + 1]!)]
      return 2 * Math.asin(Math.sqrt(a + ((wanted - sum) / here) * (b - a)))
    }
    sum += here
  }
  return Math.PI
}
