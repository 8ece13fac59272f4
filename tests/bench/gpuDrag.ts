// A whole beam sheet, again and again, as while the lens is dragged: compile, trace on the device, read back, read. The page does the same in
// a worker, less the page itself.
import { availableParallelism } from 'node:os'
import { graphicsOf } from '../../src/engine/choice.ts'
import { nodeHand } from '../../src/engine/cpu/handNode.ts'
import { makePool } from '../../src/engine/cpu/pool.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { traceLamp } from '../../src/job/trace.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { median } from './gpu.ts'

export interface Dragged {
  edits: number
  /** From the edit to its first sheet. */
  'median ms': number
  'slowest ms': number
  'rays of the first sheet': number
}

export async function dragged(machine: Machine, edits = 40): Promise<Dragged> {
  const pool = makePool(Array.from({ length: Math.min(8, availableParallelism()) }, () => nodeHand()))
  const graphics = graphicsOf(machine)
  await graphics.ready
  const times: number[] = []
  let rays = 0
  const warmUp = 10
  for (let i = 0; i < warmUp + edits; i++) {
    const lamp = gannetHead()
    if (lamp.lens) lamp.lens = { ...lamp.lens, zMm: 1050 + i / 4 }
    const from = performance.now()
    let took = 0
    const options = { seed: 1, maxRays: 1 << 30, precision: 0.001, background: false, graphics, graphicsFirst: true }
    await traceLamp(
      pool,
      lamp,
      options,
      (sheet) => {
        if (took > 0) return
        took = performance.now() - from
        rays = sheet.rays
      },
      { stopped: () => took > 0, ready: () => Promise.resolve() },
    )
    if (i >= warmUp) times.push(took)
  }
  pool.close()
  return {
    edits,
    'median ms': Math.round(10 * median(times)) / 10,
    'slowest ms': Math.round(10 * Math.max(...times)) / 10,
    'rays of the first sheet': rays,
  }
}
