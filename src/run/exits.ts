// The exit rays as columns, carried to one plane: position, slopes, watts, lumens. Readers propagate from here.
import { tallyLayout } from './layout.ts'
import { BATCHES, EXIT_STRIDE, type Run } from './types.ts'

/** Rays crossing the plane z = zMm: at a distance d beyond it a ray is at (x + sx d, y + sy d). */
export interface RayColumns {
  count: number
  zMm: number
  xMm: Float32Array
  yMm: Float32Array
  /** dx/dz and dy/dz. */
  slopeX: Float32Array
  slopeY: Float32Array
  watts: Float32Array
  lumens: Float32Array
  batch: Uint8Array
  /** What a ray that has lost nothing stands for. */
  wattsOfOne: number
}

/**
 * Columns of all exit rays that run towards `sense` (+1: to the target; −1: into the lamp, for sunlight), carried to
 * the plane z = zMm; mm, slopes, W, lm. Rays nearly along the plane (|dz| < 1e-6) are left out. The last set of a run
 * is cached: not to be written into.
 * Started rays carry a radiant weight of 1, so a unit is worth emittedW / fromRays; the luminous unit is worth the
 * same number of lumens as in the tallies, by the mean weight emitted.
 */
export function rayColumns(run: Run, zMm: number, sense: 1 | -1 = 1): RayColumns {
  const cached = cache.get(run)
  if (cached && cached.of === run.exits && cached.columns.zMm === zMm && cached.sense === sense) return cached.columns
  const columns = makeColumns(run, zMm, sense)
  cache.set(run, { of: run.exits, sense, columns })
  return columns
}

/** The last set made of a run: several readers need the same plane. */
const cache = new WeakMap<Run, { of: Run['exits']; sense: 1 | -1; columns: RayColumns }>()

/** Columns of a run that nobody reads any more, to be written over. */
let spare: Columns | null = null
type Columns = Pick<RayColumns, 'xMm' | 'yMm' | 'slopeX' | 'slopeY' | 'watts' | 'lumens' | 'batch'>
/** Longer ones are given back to the memory. */
const SPARE_MOST = 1 << 16

/** Nobody reads this run's columns any more. */
export function releaseColumns(run: Run): void {
  const cached = cache.get(run)
  cache.delete(run)
  if (cached && cached.columns.xMm.length <= SPARE_MOST) spare = cached.columns
}

/** Room for so many rays at least, of whatever was in it. */
function takeColumns(count: number): Columns {
  const released = spare
  spare = null
  if (released && released.xMm.length >= count) return released
  const column = () => new Float32Array(count)
  return {
    ...{ xMm: column(), yMm: column(), slopeX: column(), slopeY: column() },
    ...{ watts: column(), lumens: column(), batch: new Uint8Array(count) },
  }
}

function makeColumns(run: Run, zMm: number, sense: 1 | -1): RayColumns {
  const { data, count, fromRays, batch } = run.exits
  const wattsPerUnit = fromRays > 0 ? run.emittedW / fromRays : 0
  const lumensPerUnit = fromRays > 0 ? (run.emittedLm / fromRays) * weightRatio(run) : 0
  const { xMm, yMm, slopeX, slopeY, watts, lumens, batch: batches } = takeColumns(count)
  let n = 0
  for (let i = 0, at = 0; i < count; i++, at += EXIT_STRIDE) {
    const dz = data[at + 5]!
    if (dz * sense < 1e-6) continue
    const sx = data[at + 3]! / dz
    const sy = data[at + 4]! / dz
    const step = zMm - data[at + 2]!
    xMm[n] = data[at]! + sx * step
    yMm[n] = data[at + 1]! + sy * step
    slopeX[n] = sx
    slopeY[n] = sy
    watts[n] = data[at + 6]! * wattsPerUnit
    lumens[n] = data[at + 7]! * lumensPerUnit
    batches[n] = batch[i]!
    n++
  }
  return { count: n, zMm, xMm, yMm, slopeX, slopeY, watts, lumens, batch: batches, wattsOfOne: wattsPerUnit }
}

/** Radiant weight emitted for each unit of luminous weight: turns a luminous weight into lumens a started ray. */
function weightRatio(run: Run): number {
  const at = tallyLayout(run.shape).emitted
  let radiant = 0
  let luminous = 0
  for (const t of run.tallies) {
    radiant += t[at]!
    luminous += t[at + 1]!
  }
  return luminous > 0 ? radiant / luminous : 0
}

/**
 * Sum over the sample from the sums of its 16 batches, and its standard error √(16/15 · Σ (sᵢ − s̄)²): batches hold
 * equal numbers of rays. In the unit of `perBatch`.
 */
export function sampleSum(perBatch: ArrayLike<number>): { value: number; se: number } {
  let sum = 0
  let squares = 0
  for (let b = 0; b < BATCHES; b++) sum += perBatch[b]!
  for (let b = 0; b < BATCHES; b++) squares += (perBatch[b]! - sum / BATCHES) ** 2
  return { value: sum, se: Math.sqrt((squares * BATCHES) / (BATCHES - 1)) }
}
