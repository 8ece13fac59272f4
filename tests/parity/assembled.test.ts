// Assembled lamps (tunnels of several stretches, rows of elements that may stand tilted) on both engines: the same rays one by one, and the sums
// of a run, the ledger by part among them.
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { LM_STEP, W_STEP } from '../../src/engine/gpu/readBack.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { FATES_OF_PARTS, partCount } from '../../src/run/parts.ts'
import { FATES } from '../../src/run/types.ts'
import { compileSun } from '../../src/scene/compile.ts'
import { amount } from '../kit/amount.ts'
import { sceneOf } from '../kit/traceHere.ts'
import { LAMPS } from './assembledLamps.ts'
import { compare, testDevice } from './bothEngines.ts'

const PER_BATCH = amount(160, 640)
/** Of all rays at least so many are the same: as of one plain design (rays.test.ts). */
const SAME = 0.99

let machine: Machine
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => machine?.device.destroy())

async function check(lamp: Lamp, sunTiltDeg?: number): Promise<void> {
  const ofLamp = sceneOf(lamp)
  const shape = chooseShape(ofLamp, lamp)
  const scene = sunTiltDeg === undefined ? ofLamp : compileSun(ofLamp, lamp, sunTiltDeg, 30)
  const compared = await compare(machine, scene, shape, PER_BATCH)
  compared.gpuTracer.close()
  console.log(
    JSON.stringify({ ...compared.differs, other: compared.other, rays: compared.rays, causes: compared.causes }),
  )
  const show = () => JSON.stringify(compared.worst.slice(0, 3), null, 1)
  expect(compared.rays - compared.other, show()).toBeGreaterThanOrEqual(SAME * compared.rays)
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
      // The ledger closes exactly, and what its lines of losses hold its parts hold, step by step.
      expect(sum(at, at + FATES.length), `ledger of batch ${batch}`).toBe(gpu[emitted])
      const ofParts = FATES_OF_PARTS.reduce((all, f) => all + (gpu[at + FATES.indexOf(f)] as number), 0)
      expect(sum(parts, parts + count), `parts of batch ${batch}`).toBe(ofParts)
      expect(Math.abs((gpu[emitted] as number) - (cpu[emitted] as number))).toBeLessThanOrEqual(PER_BATCH * step)
      const slack = (0.01 * PER_BATCH + compared.other) * scale
      for (let i = 0; i < FATES.length; i++)
        expect(Math.abs(gpu[at + i]! - cpu[at + i]!), `${FATES[i]} of batch ${batch}`).toBeLessThan(slack)
      for (let i = 0; i < count; i++)
        expect(Math.abs(gpu[parts + i]! - cpu[parts + i]!), `part ${i} of batch ${batch}`).toBeLessThan(slack)
    }
  }
}

test.each(Object.keys(LAMPS))('%s', async (name) => {
  await check((LAMPS[name] as () => Lamp)())
})

test.each([
  ['a rectangular tunnel, grooves to the source beside the axis with rounded tips, a film and a coated cover', 25],
  ['a polygon of two stretches, two solid pieces and an ideal lens', 10],
])('the sun into %s', async (name, tiltDeg) => {
  await check((LAMPS[name] as () => Lamp)(), tiltDeg)
})
