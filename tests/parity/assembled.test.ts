// Assembled lamps (tunnels of several stretches, rows of elements that may stand tilted) on both engines: the same rays one by one, and the sums
// and maps of a run, the ledger by part among them.
import { afterAll, beforeAll, expect, test } from 'vitest'
import { unsupportedBackward } from '../../src/engine/gpu/backwardEngine.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { LM_STEP, W_STEP } from '../../src/engine/gpu/readBack.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { FATES_OF_PARTS, partCount } from '../../src/run/parts.ts'
import { FATES } from '../../src/run/types.ts'
import { compileSun } from '../../src/scene/compile.ts'
import { amount } from '../kit/amount.ts'
import { sceneOf, traceScene } from '../kit/traceHere.ts'
import { ASSEMBLED, type AssembledName } from './assembledLamps.ts'
import { compare, testDevice } from './bothEngines.ts'

const PER_BATCH = amount(96, 640)
/** Of all rays at least so many are the same: as of one plain design (rays.test.ts). */
const SAME = 0.99
/** Of the rest, so many are rays that the processor loses too once it keeps them in single precision (causes.ts). */
const EXPLAINED = 0.8
/** Of a few that differ one or two may be none of those: so many of all rays. */
const UNSEEN = 5e-4
/** Rays a batch of the run whose sums are compared. */
const RUN = 64
/** Of a map's light so much may lie in other cells: each ray that lands elsewhere counts twice. */
const ELSEWHERE = 0.02

let machine: Machine
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => machine?.device.destroy())

/** Each is a shader of its own, which the software device compiles for seconds. */
const FORWARD: AssembledName[] = amount(['rectangular'], ['rectangular', 'round', 'polygonal', 'open'])
/** Through three curved pieces, back and forth in a tunnel, the sun's rays are beyond single precision: this lamp has none. */
const SUNLIT: [AssembledName, number][] = amount([], [['rectangular', 25]])

async function check(lamp: Lamp, sunTiltDeg?: number): Promise<void> {
  const ofLamp = sceneOf(lamp)
  const shape = chooseShape(ofLamp, lamp)
  const scene = sunTiltDeg === undefined ? ofLamp : compileSun(ofLamp, lamp, sunTiltDeg, 30)
  expect(unsupportedBackward(ofLamp)).not.toEqual([])
  const compared = await compare(machine, scene, shape, PER_BATCH)
  const show = () => JSON.stringify(compared.worst.slice(0, 3), null, 1)
  expect(compared.rays - compared.other, show()).toBeGreaterThanOrEqual(SAME * compared.rays)
  const unseen = compared.causes['not seen on the processor']
  const known = Math.max(compared.other - UNSEEN * compared.rays, 0)
  expect(compared.other - unseen, show()).toBeGreaterThanOrEqual(Math.min(EXPLAINED * compared.other, known))
  const layout = tallyLayout(shape)
  const count = partCount(shape.parts)
  expect(count).toBeGreaterThan(0)
  for (const [batch, gpu] of compared.sums.gpu.entries()) {
    const cpu = compared.sums.cpu[batch] as Float64Array
    for (const [at, parts, emitted, step, scale] of [
      [layout.fateW, layout.partsW, layout.emitted, W_STEP, 1],
      [layout.fateLm, layout.partsLm, layout.emitted + 1, LM_STEP, 683],
    ] as const) {
      const sum = (from: number, to: number) => gpu.subarray(from, to).reduce((a, b) => a + b, 0)
      const off = (i: number) => Math.abs((gpu[i] as number) - (cpu[i] as number))
      // The ledger closes exactly, and what its lines of losses hold its parts hold, step by step.
      expect(sum(at, at + FATES.length), `ledger of batch ${batch}`).toBe(gpu[emitted])
      const ofParts = FATES_OF_PARTS.reduce((all, f) => all + sum(at + FATES.indexOf(f), at + FATES.indexOf(f) + 1), 0)
      expect(sum(parts, parts + count), `parts of batch ${batch}`).toBe(ofParts)
      expect(off(emitted)).toBeLessThanOrEqual(PER_BATCH * step)
      const slack = (0.01 * PER_BATCH + compared.other) * scale
      for (const [i, fate] of FATES.entries()) expect(off(at + i), `${fate} of batch ${batch}`).toBeLessThan(slack)
      for (let i = 0; i < count; i++) expect(off(parts + i), `part ${i} of batch ${batch}`).toBeLessThan(slack)
    }
  }
  if (sunTiltDeg === undefined) {
    const run = traceScene(scene, shape, { rays: 16 * RUN, seed: 7 })
    const partials = [await compared.gpuTracer.trace(0, RUN / 2), await compared.gpuTracer.trace(RUN / 2, RUN)]
    for (const [from, to] of [
      [layout.partsW, layout.partsLm],
      [layout.partsLm, layout.windowLm],
      [layout.windowLm, layout.lensW],
      [layout.lensW, layout.wallW],
      [layout.wallW, layout.faceW],
      [layout.faceW, layout.elementsW],
      [layout.elementsW, layout.size],
    ] as const) {
      let all = 0
      let elsewhere = 0
      for (const [batch, cpu] of run.tallies.entries()) {
        for (let i = from; i < to; i++) {
          const at = i - layout.windowLm
          const gpu = partials.reduce((sum, p) => sum + ((at < 0 ? p[batch]?.sums[i] : p[batch]?.maps[at]) ?? 0), 0)
          all += cpu[i] as number
          elsewhere += Math.abs(gpu - (cpu[i] as number))
        }
      }
      expect(elsewhere, `tally from ${from} of ${layout.size}`).toBeLessThanOrEqual(ELSEWHERE * all)
    }
  }
  compared.gpuTracer.close()
}

test.each(FORWARD)('%s', async (name) => {
  await check(ASSEMBLED[name]())
})

test.each(SUNLIT)('the sun into %s', async (name, tiltDeg) => {
  await check(ASSEMBLED[name](), tiltDeg)
})
