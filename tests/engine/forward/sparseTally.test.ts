// Chunks of few rays keep the cells that they have met: the same numbers as whole maps hold, by either kernel.
import { expect, test } from 'vitest'
import { makeKernel } from '../../../src/engine/forward/kernel.ts'
import { takeSparse, wordsFor } from '../../../src/engine/forward/sparseTally.ts'
import { fastKernel } from '../../../src/engine/forward/wasm/fastKernel.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { sameBits } from '../../kit/sameRun.ts'
import { sceneOf } from '../../kit/traceHere.ts'

const OPTIONS = { seed: 5, plainRandom: false, exitsBelow: 4000 }

/** Their bits set, as a kernel sets them. */
function touchedOf(length: number, cells: Iterable<number>): Uint32Array {
  const touched = new Uint32Array(wordsFor(length))
  for (const at of cells) touched[Math.floor(at / 32)]! |= 2 ** (at % 32)
  return touched
}

test('every cell that is not zero is taken, and zeros are left', () => {
  // The least of single precision beside a zero, a negative, the first and last bit of a word, the last of an odd number; −0 is a zero.
  const cells = new Map([
    [0, 1],
    [3, 2 ** -149],
    [6, -2.5],
    [31, 7],
    [32, 8],
    [9000, 3],
    [9006, 0.125],
  ])
  const maps = new Float32Array(9007)
  for (const [at, value] of cells) maps[at] = value
  maps[40] = -0
  const sums = Float64Array.of(1, 2, 3)
  const exits = Float32Array.of(4, 5)
  const touched = touchedOf(maps.length, [...cells.keys(), 40])
  const taken = takeSparse({ sums, maps, touched }, exits)
  expect([...taken.cells]).toEqual([...cells.keys()])
  expect([...taken.maps]).toEqual([...cells.values()])
  expect([...taken.sums]).toEqual([1, 2, 3])
  expect([...taken.exits]).toEqual([4, 5])
  expect(maps.every((value) => value === 0)).toBe(true)
  expect(touched.every((word) => word === 0)).toBe(true)
  expect(new Set([taken.sums.buffer, taken.maps.buffer, taken.cells.buffer, taken.exits.buffer]).size).toBe(1)
})

test('more cells than any chunk before', () => {
  const maps = Float32Array.from({ length: 20_000 }, (_, i) => i + 1)
  const touched = touchedOf(maps.length, maps.keys())
  const { cells, maps: values } = takeSparse({ sums: new Float64Array(0), maps, touched }, new Float32Array(0))
  expect(cells.every((at, n) => at === n)).toBe(true)
  expect(values.every((value, n) => value === n + 1)).toBe(true)
})

test('a buffer given back is used again where it has room, whatever is left in it', () => {
  const take = (cells: number, room?: ArrayBuffer) => {
    const maps = new Float32Array(60_000).fill(3, 0, cells)
    const touched = touchedOf(maps.length, Array(cells).keys())
    return takeSparse({ sums: Float64Array.of(1, 2), maps, touched }, Float32Array.of(4, 5), room)
  }
  const room = take(900).maps.buffer as ArrayBuffer
  const again = take(1000, room)
  expect(again.maps.buffer).toBe(room)
  expect([again.sums, again.maps, again.cells, again.exits].map((array) => [...array])).toEqual([
    [1, 2],
    Array(1000).fill(3),
    [...Array(1000).keys()],
    [4, 5],
  ])
  const tooMany = take(50_000, room)
  expect(tooMany.maps.buffer).not.toBe(room)
  expect(tooMany.cells.length).toBe(50_000)
})

test.each(['gannet-head', 'ice-rink'])('%s: chunk after chunk, whole and sparse in turn, the same bits', (id) => {
  const lamp = DEMOS[id]!()
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const { size, windowLm } = tallyLayout(shape)
  const reference = makeKernel(scene, shape, OPTIONS)
  for (const kernel of [fastKernel(scene, shape, OPTIONS), makeKernel(scene, shape, OPTIONS)]) {
    for (const batch of [2, 7]) {
      const sums = new Float64Array(windowLm)
      const maps = new Float32Array(size - windowLm)
      const exits = reference.traceSplit(batch, 0, 300, sums, maps)
      const sparse = kernel.traceSparse(batch, 0, 300)
      const spread = new Float32Array(size - windowLm)
      for (const [n, at] of sparse.cells.entries()) spread[at] = sparse.maps[n]!
      expect(sameBits(sparse.sums, sums)).toBe(true)
      expect(sameBits(spread, maps)).toBe(true)
      expect(sameBits(sparse.exits, exits)).toBe(true)
      // What a whole chunk leaves behind is in none that comes after it.
      kernel.traceSplit(batch, 300, 500, sums, maps)
    }
  }
})

test('scenes of more sizes than buffers are kept, in turn: each has the numbers that it has by itself', () => {
  const lamp = DEMOS['gannet-head']!()
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const shapes = [20, 60, 100, 140, 180, 220].map((windowN) => ({ ...shape, windowN }))
  const kernels = shapes.map((of) => makeKernel(scene, of, OPTIONS))
  // In a memory of its own.
  const alone = shapes.map((of) => fastKernel(scene, of, OPTIONS).recordSparse(3, 0, 50))
  for (let round = 0; round < 2; round++) {
    for (const [i, kernel] of kernels.entries()) {
      const { sums, maps, cells } = kernel.recordSparse(3, 0, 50)
      expect(sameBits(sums, alone[i]!.sums)).toBe(true)
      expect([...cells]).toEqual([...alone[i]!.cells])
      expect(sameBits(maps, alone[i]!.maps)).toBe(true)
    }
  }
})
