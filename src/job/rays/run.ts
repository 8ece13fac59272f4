// Every ray that leaves a lamp, block by block, for files that hold any number of them. Nothing but the blocks under way is in memory.
import { addPartial, emptyRun } from '../../engine/partialTallies.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { tallyLayout } from '../../run/layout.ts'
import { BATCHES, type Run } from '../../run/types.ts'
import { expectValid } from '../../run/validate.ts'
import { compile } from '../../scene/compile.ts'
import { shapeWithoutMaps } from '../beam/pilot.ts'
import { lampOperatingPoint } from '../power/light.ts'

export interface ExitOptions {
  seed: number
  /** Rays that start; a multiple of sixteen, else so many more. */
  rays: number
}

export interface ExitTrace {
  /** Rays that start. */
  rays: number
  emittedLm: number
  emittedW: number
  /** How many blocks come. */
  blockCount: number
  /** Exit records (run/types.ts), EXIT_STRIDE numbers each, in an order that depends on the lamp, the seed and the rays alone. The generator returns
   * the run's sums, without exit rays; it throws where they are invalid (the ledger does not close). */
  blocks: AsyncGenerator<Float32Array, Run>
}

/** Rays of one batch in one block: some 150 kB of records. */
const CHUNK = 4096
/** Blocks under way for each thread. */
const AHEAD = 3

export function traceExits(pool: Pool, lamp: Lamp, { seed, rays }: ExitOptions): ExitTrace {
  const scene = compile(lamp, lampOperatingPoint(lamp))
  const shape = shapeWithoutMaps(scene, lamp)
  const each = Math.max(1, Math.ceil(rays / BATCHES))
  const { emittedLm, emittedW } = scene
  async function* blocks(): AsyncGenerator<Float32Array, Run> {
    const run: Run = { ...emptyRun(scene, shape, seed), rays: each * BATCHES }
    if (!(emittedW > 0)) return run
    const { windowLm } = tallyLayout(shape)
    const loaded = pool.load(scene, shape, { seed, plainRandom: false, exitsBelow: each * BATCHES })
    const pending: { batch: number; reply: ReturnType<typeof loaded.trace> }[] = []
    const next = tasks(each)
    const order = () => {
      const task = next.next()
      if (task.done) return
      const { batch, from, to } = task.value
      const reply = loaded.trace(batch, from, to)
      reply.catch(() => {}) // awaited in its turn
      pending.push({ batch, reply })
    }
    try {
      for (let i = 0; i < AHEAD * pool.threads; i++) order()
      for (let first = pending.shift(); first; first = pending.shift()) {
        const reply = await first.reply
        order()
        addPartial(run, first.batch, reply, windowLm)
        if (!reply.cells) pool.recycle(reply)
        yield reply.exits
      }
    } finally {
      loaded.unload()
    }
    expectValid(run, true)
    return run
  }
  const blockCount = emittedW > 0 ? BATCHES * Math.ceil(each / CHUNK) : 0
  return { rays: each * BATCHES, emittedLm, emittedW, blockCount, blocks: blocks() }
}

function* tasks(each: number): Generator<{ batch: number; from: number; to: number }> {
  for (let from = 0; from < each; from += CHUNK)
    for (let batch = 0; batch < BATCHES; batch++) yield { batch, from, to: Math.min(each, from + CHUNK) }
}
