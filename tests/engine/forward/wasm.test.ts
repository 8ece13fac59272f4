// The kernel in WebAssembly against the reference in TypeScript: the same bits, whatever the lamp.
import { expect, test } from 'vitest'
import { type KernelOptions, makeKernel } from '../../../src/engine/forward/kernel.ts'
import type { SparseTally } from '../../../src/engine/forward/sparseTally.ts'
import { fastKernel } from '../../../src/engine/forward/wasm/fastKernel.ts'
import { wasmInstance } from '../../../src/engine/forward/wasm/instance.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import * as KIND from '../../../src/optics/kindRow.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import type { TallyShape } from '../../../src/run/types.ts'
import { compileSun } from '../../../src/scene/compile.ts'
import type { Scene } from '../../../src/scene/scene.ts'
import { amount } from '../../kit/amount.ts'
import { seeds } from '../../kit/expect.ts'
import { randomLamp } from '../../kit/randomLamp.ts'
import { sameBits } from '../../kit/sameRun.ts'
import { oneEmitter, sceneOf } from '../../kit/traceHere.ts'

const OPTIONS: KernelOptions = { seed: 11, plainRandom: false, exitsBelow: 40_000 }
const RAYS = 6000

function stretchOf(make: typeof makeKernel, scene: Scene, shape: TallyShape, options = OPTIONS) {
  const { size, windowLm } = tallyLayout(shape)
  const sums = new Float64Array(windowLm)
  const maps = new Float32Array(size - windowLm)
  const kernel = make(scene, shape, options)
  // In two pieces, of which the second begins in the middle of the sequence and of the recorded rays.
  const exits = [kernel.traceSplit(3, 0, 500, sums, maps), kernel.traceSplit(3, 500, RAYS, sums, maps)]
  return { sums, maps, exits }
}

function expectSameBits(lamp: Lamp): void {
  const scene = sceneOf(lamp)
  expectSameScene(scene, chooseShape(scene, lamp))
}

function expectSameScene(scene: Scene, shape: TallyShape): void {
  expectSameStretch(stretchOf(fastKernel, scene, shape), stretchOf(makeKernel, scene, shape))
  expectSameRecords(recordsOf(fastKernel, scene, shape), recordsOf(makeKernel, scene, shape))
}

/** In two pieces, the second from the middle of the sequence. */
function recordsOf(make: typeof makeKernel, scene: Scene, shape: TallyShape, rays = RAYS / 4): SparseTally[] {
  const kernel = make(scene, shape, OPTIONS)
  return [kernel.recordSparse(5, 0, 100), kernel.recordSparse(5, 100, rays)]
}

function expectSameRecords(a: SparseTally[], b: SparseTally[]): void {
  for (const [i, { sums, maps, cells, exits }] of a.entries()) {
    const other = b[i]!
    expect(sameBits(sums, other.sums), `sums ${i}`).toBe(true)
    expect(Array.from(cells), `cells ${i}`).toEqual(Array.from(other.cells))
    expect(sameBits(maps, other.maps), `maps ${i}`).toBe(true)
    expect(exits.length, `segments ${i}`).toBe(other.exits.length)
    expect(sameBits(exits, other.exits), `segments ${i}`).toBe(true)
  }
}

/** On the axis, close to it and far from it. */
const SUNS = [
  [0, 0],
  [3, 40],
  [35, 200],
] as const

function expectSameSuns(lamp: Lamp): void {
  const lit = { ...lamp, reading: { ...lamp.reading, sunWm2: 1000 } }
  const scene = sceneOf(lit)
  const shape = chooseShape(scene, lit)
  for (const [tiltDeg, azimuthDeg] of SUNS) {
    const sun = compileSun(scene, lit, tiltDeg, azimuthDeg)
    expectSameScene(sun, shape)
    if (!sun.assembly) expect(wasmInstance()?.params, 'it went through WebAssembly').toBe(sun.params)
  }
}

type Stretch = ReturnType<typeof stretchOf>

function expectSameStretch(a: Stretch, b: Stretch): void {
  expect(sameBits(a.sums, b.sums), 'sums').toBe(true)
  expect(sameBits(a.maps, b.maps), 'maps').toBe(true)
  expect(a.exits.length).toBe(b.exits.length)
  for (const [i, exits] of a.exits.entries()) expect(sameBits(exits, b.exits[i]!), `exits ${i}`).toBe(true)
}

test.each(Object.keys(DEMOS))('%s: the same bits', (id) => expectSameBits(DEMOS[id]!()))
test.each(Object.keys(DEMOS))('%s in the sun: the same bits', (id) => expectSameSuns(DEMOS[id]!()))

test.each(seeds(amount(24, 300)))('random lamp %i: the same bits', (seed) => expectSameBits(randomLamp(seed)))
test.each(seeds(amount(16, 200)))('random lamp %i in the sun: the same bits', (seed) =>
  expectSameSuns(randomLamp(seed)),
)

test('the random lamps go both ways: through WebAssembly and, with cups and maps, around it', () => {
  let around = 0
  for (let seed = 1; seed <= 60; seed++) {
    const { kinds } = sceneOf(randomLamp(seed))
    for (let at = 0; at < kinds.length; at += KIND.size)
      if (kinds[at + KIND.optic]! > 0 || kinds[at + KIND.profile]! > 1) around++
  }
  expect(around).toBeGreaterThan(3)
  expect(around).toBeLessThan(50)
})

test('two lamps in turn don’t mix their tables', () => {
  const lamps = [DEMOS['gannet-head']!(), DEMOS['ice-rink']!()]
  const made = lamps.map((lamp) => {
    const scene = sceneOf(lamp)
    const shape = chooseShape(scene, lamp)
    const { size, windowLm } = tallyLayout(shape)
    const room = () => ({ sums: new Float64Array(windowLm), maps: new Float32Array(size - windowLm) })
    return { fast: fastKernel(scene, shape, OPTIONS), reference: makeKernel(scene, shape, OPTIONS), room }
  })
  for (const batch of [0, 1, 2]) {
    for (const { fast, reference, room } of made) {
      const [a, b] = [room(), room()]
      fast.traceSplit(batch, 0, 300, a.sums, a.maps)
      reference.traceSplit(batch, 0, 300, b.sums, b.maps)
      expectSameStretch({ ...a, exits: [] }, { ...b, exits: [] })
    }
  }
})

test('plain random numbers are the reference’s own', () => {
  const lamp = DEMOS['gannet-head']!()
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const plain = { ...OPTIONS, plainRandom: true }
  expectSameStretch(stretchOf(fastKernel, scene, shape, plain), stretchOf(makeKernel, scene, shape, plain))
})

test.each([
  ['stops', { wedge: { tiltDeg: 15, axisDeg: 20 } }, false],
  ['is only raised and stops no', {}, true],
])('a board that %s light under the sun: the same bits, by the kernel that knows boards', (_, tilted, isCompiled) => {
  const demo = DEMOS['gannet-head']!()
  const [first, ...others] = demo.boards
  const lamp = { ...demo, boards: [{ ...first!, heightMm: 30, ...tilted }, ...others] }
  const scene = sceneOf(lamp)
  expect(scene.frames.length).toBeGreaterThan(0)
  const sun = compileSun(scene, lamp, 3)
  expectSameScene(sun, chooseShape(scene, lamp))
  expect(wasmInstance()?.params === sun.params).toBe(isCompiled)
})

test('segments find room that the memory has not', () => {
  const lamp = DEMOS['gannet-head']!()
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const sun = compileSun(scene, lamp, 5)
  const before = wasmInstance()!.memory.buffer.byteLength
  // More than five segments of 40 bytes each.
  const rays = Math.ceil(before / (5 * 40))
  expectSameRecords(recordsOf(fastKernel, sun, shape, rays), recordsOf(makeKernel, sun, shape, rays))
  expect(wasmInstance()!.memory.buffer.byteLength).toBeGreaterThan(before)
})

test('a lamp with large tables finds room', () => {
  const sites = Array.from({ length: 10_000 }, (_, i) => ({ xMm: (i % 100) / 10, yMm: i / 1000 }))
  expectSameBits(oneEmitter({ sites }))
})
