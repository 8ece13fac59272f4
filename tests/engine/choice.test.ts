// Which engine may trace, and the words for it.
import { expect, test } from 'vitest'
import { openGraphics } from '../../src/engine/choice.ts'
import { makeGpuForward } from '../../src/engine/gpuForward.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { benchCheck } from '../../src/library/demos.ts'
import { type FakeDevice, fakeDevice } from '../kit/fakeDevice.ts'
import { sceneOf } from '../kit/traceHere.ts'

/** Gives the devices one after another. */
function opener(...devices: FakeDevice[]) {
  const calls = { count: 0 }
  const open = () => {
    calls.count++
    const next = devices.shift()
    return Promise.resolve(
      next ? { ok: true as const, machine: next.machine } : { ok: false as const, why: 'no more devices' },
    )
  }
  return { open, calls }
}

/** What was told to a promise has been heard. */
const heard = () => new Promise((done) => setTimeout(done, 0))

test('cpu: no device is opened', async () => {
  const { open, calls } = opener(fakeDevice())
  const graphics = openGraphics('cpu', open)
  expect(await graphics.ready).toBeNull()
  expect([calls.count, graphics.machine(), graphics.why()]).toEqual([0, null, 'it was asked for'])
})

test('until the device is open, and where there is none, it says so', async () => {
  const graphics = openGraphics('auto', opener().open)
  expect(graphics.why()).toBe('the graphics device is still being opened')
  expect(await graphics.ready).toBeNull()
  expect(graphics.why()).toBe('no more devices')
})

test.each(['SwiftShader Device (Subzero)', 'llvmpipe (LLVM 15, 256 bits)'])(
  '%s: passed over by auto, taken by gpu',
  async (name) => {
    const soft = fakeDevice({ name })
    const auto = openGraphics('auto', opener(soft).open)
    expect(await auto.ready).toBeNull()
    expect(auto.why()).toContain(`computed by the processor (${name}`)
    expect(soft.destroyed()).toBe(true)
    const other = fakeDevice({ name })
    expect(await openGraphics('gpu', opener(other).open).ready).toBe(other.machine)
  },
)

test('a lost device is opened once more, by the next trace; lost again, the processor stays', async () => {
  const [first, second, third] = [fakeDevice(), fakeDevice(), fakeDevice()]
  const { open, calls } = opener(first, second, third)
  const graphics = openGraphics('auto', open)
  await graphics.ready
  graphics.renew()
  expect(calls.count).toBe(1)
  first.lose('the driver was renewed\nand more')
  await heard()
  expect([graphics.machine(), graphics.why()]).toEqual([null, 'the graphics device was lost (the driver was renewed)'])
  graphics.renew()
  expect(await graphics.ready).toBe(second.machine)
  second.lose('')
  await heard()
  graphics.renew()
  expect(await graphics.ready).toBe(second.machine)
  expect([graphics.machine(), graphics.why(), calls.count]).toEqual([
    null,
    'the graphics device was lost (no reason given)',
    2,
  ])
})

test('a device that reported a fault is given back and not opened again', async () => {
  const first = fakeDevice()
  const { open, calls } = opener(first, fakeDevice())
  const graphics = openGraphics('auto', open)
  await graphics.ready
  first.complain('binding 3 is too small')
  await heard()
  expect(graphics.why()).toBe('the graphics device reported a fault (binding 3 is too small)')
  expect(first.destroyed()).toBe(true)
  graphics.renew()
  expect([graphics.machine(), calls.count]).toEqual([null, 1])
})

test('a device that is slower than the processor is left alone by auto, never by gpu', async () => {
  for (const [choice, worth] of [
    ['auto', false],
    ['gpu', true],
  ] as const) {
    const graphics = openGraphics(choice, opener(fakeDevice()).open)
    await graphics.ready
    expect(graphics.worth(500)).toBe(true)
    graphics.measurePool(1000)
    graphics.measurePool(700) // it stood still meanwhile
    expect([graphics.worth(null), graphics.worth(1200), graphics.worth(900)]).toEqual([true, true, worth])
  }
})

test('the drill: the device goes once it has been given so many rays', async () => {
  const first = fakeDevice()
  const graphics = openGraphics('gpu', opener(first).open, { loseAfter: 1000 })
  await graphics.ready
  graphics.countRays(999)
  await heard()
  expect(graphics.machine()).toBe(first.machine)
  graphics.countRays(1)
  await heard()
  expect(graphics.why()).toBe('the graphics device was lost (it was given back)')
})

test('a helper says why the processor traces', async () => {
  const lamp = benchCheck()
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const options = { seed: 1, plainRandom: false, exitsBelow: 0 }
  expect(makeGpuForward(undefined, scene, shape, options).engineUse()).toEqual({
    engine: 'cpu',
    engineWhy: 'it was asked for',
  })
  // A device that gives nothing but zeros is found out before it counts.
  const graphics = openGraphics('auto', opener(fakeDevice()).open)
  const helper = makeGpuForward(graphics, scene, shape, options)
  expect(helper.engineUse().engineWhy).toBe('the graphics device is still being opened')
  await graphics.ready
  expect(helper.engineUse().engineWhy).toBe('the graphics device is being made ready for this lamp')
  await helper.ready
  expect(helper.tracer()).toBeNull()
  expect(helper.engineUse()).toEqual({
    engine: 'cpu',
    engineWhy: 'the graphics device lost count of its rays (0 of 128 ended)',
  })
})

test('too many profile bins for the device: the processor, in words, and the device stays for other lamps', async () => {
  const lamp = benchCheck()
  const scene = sceneOf(lamp)
  const shape = { ...chooseShape(scene, lamp), fineBins: 10_000 }
  const graphics = openGraphics('auto', opener(fakeDevice()).open)
  const helper = makeGpuForward(graphics, scene, shape, { seed: 1, plainRandom: false, exitsBelow: 0 })
  await helper.ready
  expect(helper.engineUse().engineWhy).toBe('the graphics engine does not trace so many profile bins')
  expect(graphics.machine()).not.toBeNull()
})
