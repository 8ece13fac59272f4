// From an edit to the first rough sheet and on to ±1 % on the axis, milliseconds, on Node's worker threads: the way the page goes, less
// the page itself. The first lamp warms the workers up; the rest are edits of it.
import { availableParallelism } from 'node:os'
import { nodeHand } from '../../src/engine/cpu/handNode.ts'
import { makePool } from '../../src/engine/cpu/pool.ts'
import { traceLamp } from '../../src/job/trace.ts'
import { gannetHead } from '../../src/library/demos.ts'

export interface FirstSheet {
  threads: number
  /** Median over the edits. */
  firstMs: number
  settledMs: number
}

export async function firstSheet(edits = 5): Promise<FirstSheet> {
  const threads = availableParallelism()
  const pool = makePool(Array.from({ length: threads }, () => nodeHand()))
  const first: number[] = []
  const settled: number[] = []
  for (let i = 0; i <= edits; i++) {
    const lamp = gannetHead()
    if (lamp.lens) lamp.lens = { ...lamp.lens, zMm: 1050 + i }
    const from = performance.now()
    let seen = false
    const options = { seed: 1, maxRays: 50_000_000, precision: 0.01, background: false }
    await traceLamp(pool, lamp, options, () => {
      if (i > 0 && !seen) first.push(performance.now() - from)
      seen = true
    })
    if (i > 0) settled.push(performance.now() - from)
  }
  pool.close()
  const median = (xs: number[]) => xs.sort((a, b) => a - b)[xs.length >> 1]!
  return { threads, firstMs: median(first), settledMs: median(settled) }
}
