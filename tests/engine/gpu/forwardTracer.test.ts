// A scene on a device that fails: slow, out of memory, lost on the way, closed.
import { afterEach, expect, test, vi } from 'vitest'
import { makeForwardTracer } from '../../../src/engine/gpu/forwardTracer.ts'
import { prepare } from '../../../src/engine/gpu/gpuEngine.ts'
import { W_STEP } from '../../../src/engine/gpu/readBack.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { Cancelled } from '../../../src/num/scheduler.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { BATCHES } from '../../../src/run/types.ts'
import { type FakeOptions, fakeDevice } from '../../kit/fakeDevice.ts'
import { sceneOf } from '../../kit/traceHere.ts'

const lamp = benchCheck()
const scene = sceneOf(lamp)
const shape = chooseShape(scene, lamp)
const layout = tallyLayout(shape)
const OPTIONS = { seed: 1, plainRandom: false, exitsBelow: 0 }
const pipeline = { getBindGroupLayout: () => ({}) } as unknown as GPUComputePipeline
const PIPELINES = { trace: pipeline, mapResolve: pipeline }

/** Every ray of a chunk of so many, in each batch, delivered. */
const allDelivered = (rays: number) => (bytes: ArrayBuffer) => {
  const words = new Uint32Array(bytes)
  for (let batch = 0; batch < BATCHES; batch++) {
    const at = 2 * layout.windowLm * batch
    for (const place of [layout.fateW + 10, layout.emitted]) {
      const steps = rays / W_STEP
      words[at + 2 * place] = steps % 2 ** 32
      words[at + 2 * place + 1] = Math.floor(steps / 2 ** 32)
    }
  }
}

function bench(options: FakeOptions = {}) {
  const fake = fakeDevice(options)
  return { fake, gpuTracer: makeForwardTracer(fake.machine, PIPELINES, scene, shape, OPTIONS) }
}

afterEach(() => {
  vi.restoreAllMocks()
})

test('a chunk whose ledger closes is taken; one whose rays are not all there is not, nor anything after it', async () => {
  const { gpuTracer } = bench({ fill: allDelivered(5000) })
  const partials = await gpuTracer.trace(0, 5000)
  expect(partials).toHaveLength(BATCHES)
  expect(partials[3]!.sums[layout.emitted]).toBe(5000)
  const short = bench({ fill: allDelivered(4999) })
  await expect(short.gpuTracer.trace(0, 5000)).rejects.toThrow('lost count of its rays (4999 of 5000 ended)')
  expect(short.fake.machine.lost()).toContain('lost count')
  expect(short.fake.machine.gaveUp()).toBe(true)
  await expect(short.gpuTracer.trace(5000, 10_000)).rejects.toThrow('lost count')
})

test('dispatches shrink on a slow device; when the smallest take over a second, and not once only, it is given up', async () => {
  let clock = 0
  vi.spyOn(performance, 'now').mockImplementation(() => clock)
  const step = { ms: 0 }
  const { gpuTracer, fake } = bench({
    beforeDone: () => {
      clock += step.ms
    },
    fill: allDelivered(1 << 16),
  })
  step.ms = 5
  await gpuTracer.trace(0, 1 << 16)
  expect(fake.machine.lost()).toBeNull()
  expect(gpuTracer.raysIn(5)).toBeGreaterThan(1000)
  step.ms = 1500
  // The first of these finds out how slow it has become.
  const again = async () => {
    for (let i = 0; i < 4; i++) await gpuTracer.trace(0, 1 << 16)
  }
  await expect(again()).rejects.toThrow(/the graphics device was too slow \([\d\u202f]+ rays a second\)/)
  expect(fake.destroyed()).toBe(true)
})

test('a device’s own clock counts before ours; one that tells nothing leaves it to ours', async () => {
  let now = 0
  vi.spyOn(performance, 'now').mockImplementation(() => now)
  const device = { ns: 0 }
  const { gpuTracer } = bench({
    clock: true,
    beforeDone: () => {
      now += 20 // this thread was busy with something else
    },
    fill: (bytes) => {
      allDelivered(4096)(bytes)
      new BigUint64Array(bytes, bytes.byteLength - 16).set([7_000_000n, 7_000_000n + BigInt(device.ns)])
    },
  })
  await gpuTracer.trace(0, 4096)
  expect(gpuTracer.raysIn(1)).toBeLessThan(1 + 4096 / 20)
  device.ns = 500_000
  await gpuTracer.trace(0, 4096)
  expect(gpuTracer.raysIn(1)).toBe(8192)
})

test('out of memory: this lamp goes without, the device stays', async () => {
  const { gpuTracer, fake } = bench({ mostBytes: 1 << 20 })
  await expect(gpuTracer.trace(0, 1024)).rejects.toThrow('the graphics device has not enough memory for this lamp')
  expect(fake.machine.lost()).toBeNull()
})

test('a driver that complains is not destroyed from within its own call, where it may wait for itself for ever', async () => {
  const { machine, complain, destroyed } = fakeDevice()
  complain('no such function\nin line 7')
  expect(destroyed()).toBe(false)
  expect(machine.lost()).toBe('the graphics device reported a fault (no such function)')
  expect(await prepare(machine, scene, shape, OPTIONS)).toEqual({ ok: false, why: machine.lost() })
  await new Promise((done) => setTimeout(done, 0))
  expect(destroyed()).toBe(true)
  expect(machine.gaveUp()).toBe(true)
})

test('lost on the way: the chunk fails with the reason, whatever the driver threw', async () => {
  const { gpuTracer, fake } = bench({ beforeDone: () => fake.lose('it hung'), fill: allDelivered(1024) })
  await expect(gpuTracer.trace(0, 1024)).rejects.toThrow('the graphics device was lost (it hung)')
})

test('closed: what is under way ends as dropped, and its buffers are the next scene’s', async () => {
  const fake = fakeDevice({ fill: allDelivered(4096) })
  const first = makeForwardTracer(fake.machine, PIPELINES, scene, shape, OPTIONS)
  await first.trace(0, 4096)
  const made = fake.made()
  const under = first.trace(0, 4096)
  first.close()
  await expect(under).rejects.toThrow(Cancelled)
  await new Promise((done) => setTimeout(done, 0))
  const second = makeForwardTracer(fake.machine, PIPELINES, scene, shape, OPTIONS)
  await second.trace(0, 4096)
  expect(fake.made()).toBe(made)
})
