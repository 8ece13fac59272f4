// The ray segments: no light is lost on the way from segment to segment, and what leaves is what the ledger says.
import assert from 'node:assert/strict'
import { describe, expect, test } from 'vitest'
import { traceRecorded } from '../../../src/engine/segments.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { overBatches } from '../../../src/run/batches.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { LEAKED_SEGMENT, RETURNED_SEGMENT } from '../../../src/run/segments.ts'
import { FATES, type Fate } from '../../../src/run/types.ts'
import { compileSun } from '../../../src/scene/compile.ts'
import { expectWithin } from '../../kit/expect.ts'
import { oneEmitter, sceneOf } from '../../kit/traceHere.ts'

const RAYS = 1 << 14

async function record(lamp: Lamp, sunTiltDeg?: number) {
  const own = sceneOf(lamp)
  const scene = sunTiltDeg === undefined ? own : compileSun(own, lamp, sunTiltDeg)
  const { run, segments } = await traceRecorded(makePool([inlineWorker()]), scene, chooseShape(own, lamp), {
    seed: 3,
    rays: RAYS,
  })
  const at = tallyLayout(run.shape).fateW
  const watts = (...names: Fate[]) =>
    names.reduce((sum, name) => {
      const line = FATES.indexOf(name)
      return sum + overBatches(run, (t, _, wPerWeight) => wPerWeight * t[at + line]!).value
    }, 0)
  const sum = (which: (i: number) => boolean) =>
    Array.from(segments.watts).reduce((all, w, i) => (which(i) ? all + w : all), 0)
  return { scene, run, segments, watts, sum }
}

describe('a lamp with gaps, a tunnel and a lens', () => {
  const lamp = gannetHead()
  test('what leaves as a beam and what leaks is what the ledger has on those lines', async () => {
    const { segments, watts, sum } = await record(lamp)
    const leaves = (i: number) => segments.lengthMm[i] === Number.POSITIVE_INFINITY
    const leaks = (i: number) => (segments.flags[i]! & LEAKED_SEGMENT) !== 0
    expectWithin(
      sum((i) => leaves(i) && !leaks(i)),
      watts('delivered', 'deliveredViaRiser'),
      { rel: 1e-4, because: 'single precision' },
    )
    // Light past the rim and light that the lens had sent back leak too, on lines that hold more.
    const own = watts('blocked', 'behindFace', 'leakedFaceGap', 'leakedLensGap', 'outsideLens')
    expect(own).toBeGreaterThan(0)
    expect(sum((i) => leaves(i) && leaks(i))).toBeGreaterThanOrEqual(own * (1 - 1e-4))
    expect(sum((i) => leaves(i) && leaks(i))).toBeLessThanOrEqual(own + watts('lensReturnedLost', 'lensRim') + 1e-6)
    // No segment leaks that goes nowhere.
    expect(sum((i) => leaks(i) && !leaves(i))).toBe(0)
  })
  test('directions are unit vectors, segments lie in the lamp until they leave, and light that came back is marked', async () => {
    const { segments } = await record(lamp)
    let returned = 0
    for (let i = 0; i < segments.count; i++) {
      const length = Math.hypot(segments.dx[i]!, segments.dy[i]!, segments.dz[i]!)
      assert.ok(Math.abs(length - 1) < 1e-5, `length ${length}`)
      assert.ok(segments.watts[i]! > 0)
      if ((segments.flags[i]! & RETURNED_SEGMENT) !== 0) returned++
      if (segments.lengthMm[i] === Number.POSITIVE_INFINITY) continue
      const z = segments.zMm[i]! + segments.lengthMm[i]! * segments.dz[i]!
      assert.ok(z > -0.01 && z < 1054.01, `ends at z ${z}`)
    }
    expect(returned).toBeGreaterThan(100)
  })
  test('the rays are those of a run: the same ledger', async () => {
    const { run, watts } = await record(lamp)
    expect(run.rays).toBe(RAYS)
    expect(run.exits.count).toBe(0)
    expectWithin(
      FATES.reduce((sum, name) => sum + watts(name), 0),
      run.emittedW,
      { rel: 1e-6, because: 'the ledger closes' },
    )
  })
})

test('a bare emitter: each ray is one segment from the emitter into the open, none of it leaked', async () => {
  const { segments, scene, sum } = await record(oneEmitter({}))
  expect(segments.count).toBe(RAYS)
  expectWithin(
    sum(() => true),
    scene.emittedW,
    { rel: 1e-5, because: 'all of it' },
  )
  expect(segments.flags.every((f) => f === 0)).toBe(true)
  expect(segments.lengthMm.every((l) => l === Number.POSITIVE_INFINITY)).toBe(true)
})

test('light past a small lens goes on from the emitter in one segment', async () => {
  const lamp = oneEmitter({ lens: { kind: 'ideal', zMm: 100, focalMm: 100, diameterMm: 20 } })
  const { segments, watts, sum } = await record(lamp)
  const leaked = (i: number) => (segments.flags[i]! & LEAKED_SEGMENT) !== 0
  expectWithin(sum(leaked), watts('outsideLens'), { rel: 1e-4, because: 'single precision' })
  for (let i = 0; i < segments.count; i++) if (leaked(i)) assert.ok(segments.zMm[i]! < 99)
})

test('the sun: what comes in through an ideal lens and misses a small face goes on behind it in the same segment', async () => {
  const lamp = oneEmitter({
    lens: { kind: 'ideal', zMm: 100, focalMm: 300, diameterMm: 80 },
    faceSizeMm: 20,
  })
  const lit = { ...lamp, reading: { ...lamp.reading, sunWm2: 1000 } }
  const { segments, scene, watts, sum } = await record(lit, 0)
  const leaves = (i: number) => segments.lengthMm[i] === Number.POSITIVE_INFINITY && segments.dz[i]! < 0
  expectWithin(sum(leaves), watts('behindFace'), { rel: 1e-4, because: 'single precision' })
  // At the face the cone is 80 · (1 − 100/300) mm wide, of which the face stops (20/53.3)².
  expectWithin(sum(leaves) / scene.emittedW, 1 - (20 / (160 / 3)) ** 2, { abs: 0.02, because: 'the sun’s own width' })
  for (let i = 0; i < segments.count; i++) if (leaves(i)) assert.equal(segments.zMm[i], 100)
})
