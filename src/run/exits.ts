// The exit rays as columns, carried to one plane: position, slopes, watts, lumens. Readers propagate from here.
import { giveBack, spareFloat32, spareUint8 } from '../num/spareArrays.ts'
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

function makeColumns(run: Run, zMm: number, sense: 1 | -1): RayColumns {
  const { data, count, fromRays, batch } = run.exits
  const wattsPerUnit = fromRays > 0 ? run.emittedW / fromRays : 0
  const lumensPerUnit = fromRays > 0 ? (run.emittedLm / fromRays) * weightRatio(run) : 0
  const out: RayColumns = {
    count: 0,
    zMm,
    xMm: spareFloat32(count),
    yMm: spareFloat32(count),
    slopeX: spareFloat32(count),
    slopeY: spareFloat32(count),
    watts: spareFloat32(count),
    lumens: spareFloat32(count),
    batch: spareUint8(count),
    wattsOfOne: wattsPerUnit,
  }
  let n = 0
  for (let i = 0, at = 0; i < count; i++, at += EXIT_STRIDE) {
    const dz = data[at + 5]!
    if (dz * sense < 1e-6) continue
    const sx = data[at + 3]! / dz
    const sy = data[at + 4]! / dz
    const step = zMm - data[at + 2]!
    out.xMm[n] = data[at]! + sx * step
    out.yMm[n] = data[at + 1]! + sy * step
    out.slopeX[n] = sx
    out.slopeY[n] = sy
    out.watts[n] = data[at + 6]! * wattsPerUnit
    out.lumens[n] = data[at + 7]! * lumensPerUnit
    out.batch[n] = batch[i]!
    n++
  }
  out.count = n
  for (const column of columnsIn(out)) column.fill(0, n)
  return out
}

const columnsIn = ({ xMm, yMm, slopeX, slopeY, watts, lumens, batch }: RayColumns) => [
  ...[xMm, yMm, slopeX, slopeY, watts, lumens],
  batch,
]

/** Nobody reads the exit rays of this run any more, nor columns of them. `exits`: they were joined for it alone (`joinExits` of the engine). */
export function giveBackExits(run: Run): void {
  const { columns } = cache.get(run) ?? {}
  cache.delete(run)
  if (columns) giveBack(columnsIn(columns))
  giveBack([run.exits.data, run.exits.batch])
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
