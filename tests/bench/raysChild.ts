// One checkout's side of the bench of rays: reads `rays LAMP` or `first LAMP`, a line each, and answers with seconds of processor time. Bundled from
// either checkout (rays.ts), so it imports only what both have.
import { createInterface } from 'node:readline'
import { fastKernel } from '../../src/engine/forward/wasm/fastKernel.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { traceLamp } from '../../src/job/beam/trace.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { makeScheduler } from '../../src/num/scheduler.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { compile } from '../../src/scene/compile.ts'

const RAYS = 300_000
const SHEETS = 8

const seconds = () => process.cpuUsage().user / 1e6

/** Of a ray. */
function raySeconds(name: string): number {
  const lamp = DEMOS[name]!()
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const shape = chooseShape(scene, lamp)
  const kernel = fastKernel(scene, shape, { seed: 1, plainRandom: false, exitsBelow: 0 })
  const tally = new Float64Array(tallyLayout(shape).size)
  const from = seconds()
  kernel.trace(0, 0, RAYS, tally)
  return (seconds() - from) / RAYS
}

/** From a lamp to its first sheet, in this thread. */
async function sheetSeconds(name: string): Promise<number> {
  const pool = makePool([inlineWorker(queueMicrotask)])
  const took: number[] = []
  for (let seed = 1; seed <= SHEETS; seed++) {
    const enough = new AbortController()
    const from = seconds()
    let first = 0
    const take = () => {
      first ||= seconds() - from
      enough.abort()
    }
    const options = { seed, maxRays: 1 << 20, precision: 0, background: false }
    await traceLamp(pool, DEMOS[name]!(), options, take, { scheduler: makeScheduler(enough.signal) })
    took.push(first)
  }
  pool.close()
  return took.sort((a, b) => a - b)[SHEETS >> 1]!
}

for await (const line of createInterface({ input: process.stdin })) {
  const [what, name] = line.split(' ') as [string, string]
  console.log(what === 'rays' ? raySeconds(name) : await sheetSeconds(name))
}
