// Does the window map have structure as fine as its cells? Then a place brighter than the axis may lie anywhere in the beam, and be brighter than its cell.
import type { Folded } from '../run/batches.ts'
import type { Profile } from './profile.ts'
import { windowCd } from './windowMap.ts'

/** A cell is inside the beam when the blocks about it, on all four sides, have at least this share of the intensity. Our choice: well below what a pattern's gaps leave of its mean. */
const INSIDE_SHARE = 0.25
/** Middle of a block of 3 × 3 cells from the cell itself, in cells: an edge beside the cell leaves one of the four dark. */
const BLOCK_OFF = 3
/** By chance in one of 700 smooth beams (normal). Our choice. */
const GRAIN_SIGMAS = 3
/** Cells that differ from their neighbours by less than this share of the mean (root mean square) are even enough: a peak's ± is seldom less. Our choice. */
const LEAST_GRAIN = 0.05
/** Of the ring that is darker and of the one that is brighter. */
const RISE_SIGMAS = 2

/**
 * More than noise sets neighbouring cells of the beam apart, or its azimuth mean falls to less than half and rises again. `cd`: the intensity on the
 * axis.
 */
export const isGrained = (folded: Folded, profile: Profile, cd: number): boolean =>
  risesAgain(profile) || hasGrain(grainOf(folded, cd))

const hasGrain = ({ sigmas, share }: Grain): boolean => sigmas > GRAIN_SIGMAS && share > LEAST_GRAIN

interface Grain {
  /** What sets cells apart from their neighbours, in standard errors of what noise does … */
  sigmas: number
  /** … and as a share of the mean: root mean square, noise taken off. */
  share: number
}

/** Some ring, at least half as bright as the brightest, is more than twice as bright as one further in, by their lower and upper ends. */
function risesAgain({ cd, seCd }: Profile): boolean {
  const end = (side: number) => cd.map((value, j) => value + side * RISE_SIGMAS * (seCd[j] ?? 0))
  const [low, high] = [end(-1), end(1)]
  const brightest = low.reduce((a, b) => Math.max(a, b))
  let darkest = Number.POSITIVE_INFINITY
  return low.some((value, j) => {
    const rises = value > 2 * darkest && value > brightest / 2
    darkest = Math.min(darkest, high[j] ?? darkest)
    return rises
  })
}

/**
 * What sets a cell apart from the mean of its four neighbours, d, in the two halves of the batches, which share no noise: Σ d₁ d₂ over its
 * standard error under even light, √(Σ d₁² d₂²). Slopes don't count, and edges are left out (`INSIDE_SHARE`). The split of a sum of squares into
 * halves of independent noise: common practice, no source.
 */
export function grainOf(folded: Folded, cd: number): Grain {
  const n = folded.run.shape.windowN
  const [one, other] = folded.halves.map((half) => windowCd(folded, half)) as [Float64Array, Float64Array]
  const blocks = blockMeans(windowCd(folded, folded.all), n)
  const least = INSIDE_SHARE * cd
  const isInside = (at: number) =>
    [1, -1, n, -n].every((step) => (blocks[at + BLOCK_OFF * step] ?? 0) >= least) &&
    Math.abs((at % n) + 0.5 - n / 2) < n / 2 - BLOCK_OFF
  const beside = (of: Float64Array, at: number) => sumOf(of, [at - 1, at + 1, at - n, at + n]) / 4
  let sum = 0
  let squares = 0
  let light = 0
  let cells = 0
  for (const [at, value] of one.entries()) {
    if (!isInside(at)) continue
    const product = (value - beside(one, at)) * ((other[at] ?? 0) - beside(other, at))
    sum += product
    squares += product * product
    light += value
    cells++
  }
  if (!(squares > 0)) return { sigmas: 0, share: 0 }
  return { sigmas: sum / Math.sqrt(squares), share: Math.sqrt(Math.max(0, sum) * cells) / light }
}

const sumOf = (of: Float64Array, places: number[]): number => places.reduce((sum, at) => sum + (of[at] ?? 0), 0)

/** Means of 3 × 3 cells about each; dark beyond the map. */
const blockMeans = (cd: Float64Array, n: number): Float64Array =>
  cd.map((_, at) => [at - n, at, at + n].reduce((sum, row) => sum + sumOf(cd, [row - 1, row, row + 1]), 0) / 9)
