// Tallies that one run after another is put into: nothing of the run before stays in them.
import { expect, test } from 'vitest'
import { fastKernel } from '../../src/engine/forward/wasm/fastKernel.ts'
import { type FirstRound, recycleRun, runOf } from '../../src/engine/partialTallies.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES } from '../../src/run/types.ts'
import { expectSameRun } from '../kit/sameRun.ts'
import { sceneOf } from '../kit/traceHere.ts'

const lamp = stileLamp()
const scene = sceneOf(lamp)
const shape = chooseShape(scene, lamp)
const { size, windowLm } = tallyLayout(shape)

function firstRound(seed: number, isSparse: boolean): FirstRound {
  const kernel = fastKernel(scene, shape, { seed, plainRandom: false, exitsBelow: 2000 })
  const partials = Array.from({ length: BATCHES }, (_, batch) => {
    if (isSparse) return kernel.traceSparse(batch, 0, 64)
    const [sums, maps] = [new Float64Array(windowLm), new Float32Array(size - windowLm)]
    return { sums, maps, exits: kernel.traceSplit(batch, 0, 64, sums, maps) }
  })
  const { emittedLm, emittedW } = scene
  return { seed, shape, emittedLm, emittedW, rays: 64 * BATCHES, recorded: 64 * BATCHES, partials }
}

test('sparse and dense rounds in whatever order, taken out cell by cell or left as they are: the same runs as in new arrays', () => {
  const rounds = [true, true, false, true, false].map((isSparse, i) => firstRound(i + 1, isSparse))
  const fresh = rounds.map((round) => runOf(round)) // none of them given back: each in arrays of its own
  for (const [i, round] of rounds.entries()) {
    const run = runOf(round)
    const before = fresh.at(i)
    if (before) expectSameRun(run, before)
    recycleRun(run, round.partials)
    if (round.partials.every(({ cells }) => cells))
      expect([...run.tallies, ...(run.halves ?? [])].every((tally) => tally.every((value) => value === 0))).toBe(true)
    // And of a run whose partials nobody tells.
    const untold = runOf(round)
    if (before) expectSameRun(untold, before)
    if (i === 1) recycleRun(untold)
  }
})
