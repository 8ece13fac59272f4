// Tilted and aimed emitters on both engines: fate, place, direction and weight of each ray; and what a device declines.
import { afterAll, beforeAll, expect, test } from 'vitest'
import { unsupportedBackward } from '../../src/engine/gpu/backwardEngine.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { unsupported } from '../../src/engine/gpu/gpuEngine.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp, OpticType } from '../../src/lamp/schema.ts'
import { broadLamp } from '../kit/forwardBackward.ts'
import { tilted } from '../kit/tiltedLamp.ts'
import { sceneOf } from '../kit/traceHere.ts'
import { compare, testDevice } from './bothEngines.ts'

const PER_BATCH = 160
/** As rays.test.ts: of one design's rays so many are the same. */
const SAME_OF_ONE = 0.99

let machine: Machine
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => machine?.device.destroy())

async function check(name: string, lamp: Lamp): Promise<void> {
  const scene = sceneOf(lamp)
  expect(scene.frames.length, name).toBeGreaterThan(0)
  const compared = await compare(machine, scene, chooseShape(scene, lamp), PER_BATCH)
  compared.gpuTracer.close()
  const show = () => `${name} ${JSON.stringify(compared.worst.slice(0, 3), null, 1)}`
  expect(compared.rays - compared.other, show()).toBeGreaterThanOrEqual(SAME_OF_ONE * compared.rays)
}

const elliptical: OpticType = {
  ...{ kind: 'collimator', id: 'o', name: '', exitDiameterMm: 20, heightMm: 12, efficiency: 0.9 },
  ...{ shape: 'gaussian', fwhmDeg: 10, fwhmYDeg: 40, turnDeg: 30 },
}

test.each([11])('random lamp %i on a wedge', async (seed) => {
  await check(`random ${seed}`, tilted(broadLamp(seed), seed, 9))
})

test('an elliptical beam on a wedge, without tunnel and lens', async () => {
  await check('open', { ...tilted(broadLamp(3), 3, 9), tunnel: null, lens: null, opticTypes: [elliptical] })
})

test('a device says what it leaves to the processor', () => {
  const steep = tilted(broadLamp(3), 3, 50)
  const scene = sceneOf(steep)
  expect(unsupported(scene, chooseShape(scene, steep), machine.device.limits).join()).toContain(
    'boards that stop light',
  )
  expect(unsupportedBackward(scene)).toContain('Tilted or aimed emitters.')
  const flat = broadLamp(3)
  expect(unsupportedBackward(sceneOf(flat))).not.toContain('Tilted or aimed emitters.')
})
