// The darkest of the target's cells: chosen by a smooth model of them, since of many noisy cells the smallest is dark by chance.

/** The model's planes reach so many cells either way. */
const REACH = 2

/** A plane at a cell: a weighted sum over cells, and how much of the variance of its parts it has. */
interface Fit {
  value: number
  /** Mean of the batches in the cell itself. */
  mean: number
  /** What the cell itself weighs in it. */
  own: number
  /** Sum of the squares of all weights. */
  squares: number
}

/**
 * The darkest of n × n cells, in their unit. `dark`: batch by batch, the cell that the model of the other half of the batches is darkest in; noise is
 * not picked. `own`: the least of the model of all batches. `noise`: the standard error of such a cell by the model, since one that few rays have met
 * by chance scatters too little by itself.
 */
export function findDarkest(cells: readonly Float64Array[], n: number): { dark: number[]; own: number; noise: number } {
  const fits = fitsFor(n)
  const of = (which: (batch: number) => boolean) =>
    modelCells(
      cells.filter((_, b) => which(b)),
      fits,
    )
  const byEven = indexOfLeast(of((b) => b % 2 === 0).model)
  const byOdd = indexOfLeast(of((b) => b % 2 === 1).model)
  const dark = cells.map((lx, b) => lx[b % 2 === 0 ? byOdd : byEven]!)
  const { model, noiseOf } = of(() => true)
  return { dark, own: Math.min(...model), noise: Math.max(noiseOf(byEven), noiseOf(byOdd)) }
}

function indexOfLeast(values: readonly number[]): number {
  let [best, least] = [0, Number.POSITIVE_INFINITY]
  for (const [k, value] of values.entries()) if (value < least) [best, least] = [k, value]
  return best
}

/**
 * Each cell drawn towards the plane through its neighbours, the more the noisier the cells are: m + w (plane − m), where w is the variance of noise
 * as a share of the mean square departure from the plane (James and Stein's estimator in the form of B. Efron, C. Morris, JASA 68, 1973; from
 * memory). Never below 0. The variance of a count goes with its mean (Poisson): so does a cell's.
 */
function modelCells(
  batches: readonly Float64Array[],
  fits: readonly Weights[],
): { model: number[]; noiseOf: (cell: number) => number } {
  const count = batches.length
  const cells = fits.length
  const mean = new Float64Array(cells)
  let noise = 0
  for (let k = 0; k < cells; k++) {
    let sum = 0
    let squares = 0
    for (const lx of batches) {
      const value = lx[k]!
      sum += value
      squares += value ** 2
    }
    mean[k] = sum / count
    noise += Math.max(0, squares - (sum * sum) / count) / (count * (count - 1) * cells)
  }
  const planes = fits.map((weights, k) => planeOf(weights, mean, k))
  let apart = 0
  // Of noise alone a departure has 1 − 2 own + Σ weights² of a cell's variance.
  for (const plane of planes) apart += (plane.mean - plane.value) ** 2 / (1 - 2 * plane.own + plane.squares) / cells
  const towards = apart > noise ? noise / apart : 1
  const all = mean.reduce((a, b) => a + b, 0) / cells
  return {
    model: planes.map((plane) => Math.max(0, plane.mean + towards * (plane.value - plane.mean))),
    noiseOf: (cell) => (all > 0 ? Math.sqrt((noise * Math.max(0, planes[cell]!.value)) / all) : 0),
  }
}

/** What cells weigh in a plane, cell by cell; `squares`: sum of the squares of all weights. */
interface Weights {
  cells: number[]
  weights: number[]
  own: number
  squares: number
}

function planeOf({ cells, weights, own, squares }: Weights, mean: Float64Array, k: number): Fit {
  let value = 0
  for (let i = 0; i < cells.length; i++) value += weights[i]! * mean[cells[i]!]!
  return { value, mean: mean[k]!, own, squares }
}

const cache = new Map<number, Weights[]>()

/** For each cell the weights of its neighbours in the plane of least squares through them, at the cell. */
function fitsFor(n: number): Weights[] {
  const known = cache.get(n)
  if (known) return known
  const fits = Array.from({ length: n * n }, (_, k) => planeAt(k % n, Math.floor(k / n), n))
  cache.set(n, fits)
  return fits
}

/** A straight line each way: the window is a rectangle, so that the slopes in x and y are found one by one. */
function planeAt(column: number, row: number, n: number): Weights {
  const span = (at: number) => ({ from: Math.max(0, at - REACH), to: Math.min(n - 1, at + REACH) })
  const [x, y] = [span(column), span(row)]
  const line = ({ from, to }: { from: number; to: number }, at: number) => {
    const middle = (from + to) / 2
    let squares = 0
    for (let i = from; i <= to; i++) squares += (i - middle) ** 2
    return (i: number) => (squares > 0 ? ((at - middle) * (i - middle)) / squares : 0)
  }
  const [slopeX, slopeY] = [line(x, column), line(y, row)]
  const [across, down] = [x.to - x.from + 1, y.to - y.from + 1]
  const out: Weights = { cells: [], weights: [], own: 0, squares: 0 }
  for (let r = y.from; r <= y.to; r++)
    for (let c = x.from; c <= x.to; c++) {
      const weight = 1 / (across * down) + slopeX(c) / down + slopeY(r) / across
      out.cells.push(r * n + c)
      out.weights.push(weight)
      out.squares += weight ** 2
      if (c === column && r === row) out.own = weight
    }
  return out
}
