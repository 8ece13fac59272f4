// A source of single rays draws each by its weight, and each batch from rays of its own.
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import * as KIND from '../../src/optics/kindRow.ts'
import { BY_RAYS, GROUPS, leaveByRay, takeWavelength } from '../../src/optics/rayTable.ts'
import { DX, DY, DZ, INDEX, LUM, RAY_SIZE, WAVELENGTH, X, Y, Z } from '../../src/optics/records.ts'
import { BATCHES } from '../../src/run/types.ts'
import type { Scene } from '../../src/scene/scene.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'
import { documentRays, type TestRay } from '../kit/rayFile.ts'
import { oneEmitter, sceneOf } from '../kit/traceHere.ts'

function emit(scene: Scene, draws: number, take: (ray: Float64Array, batch: number) => void): void {
  const random = seededRandom(9)
  const ray = new Float64Array(RAY_SIZE)
  const first = new Float64Array(6)
  for (let i = 0; i < draws; i++) {
    first.fill(0).set([0, random()])
    leaveByRay(ray, scene.emitters, 0, scene.kinds, 0, scene.profiles, first, i % BATCHES)
    take(ray, i % BATCHES)
  }
}

/** Rays known by their height. */
const ladder = (weights: readonly number[]): TestRay[] =>
  weights.map((watts, i) => ({ place: [0, 0, i / (weights.length - 1 || 1)], watts }))

const rayAt = (z: number, count: number) => Math.round(z * (count - 1))

test('a group for each batch', () => expect(GROUPS).toBe(BATCHES))

describe('by weight: χ² against the weights as they were given', () => {
  test.each([
    ['a few very unequal ones', [1, 2, 3, 4, 5, 100]],
    ['one alone', [7]],
    ['one that outweighs all', [1000, 1, 1, 1, 1, 1]],
    ['many', Array.from({ length: 500 }, (_, i) => 1 + (i % 7))],
    ['some without light', [1, 0, 2, 0, 3]],
  ])('%s', (_, weights) => {
    const scene = sceneOf(oneEmitter({ rays: documentRays(ladder(weights)) }))
    expect(scene.kinds[KIND.profile]).toBe(BY_RAYS)
    const counts = new Float64Array(weights.length)
    emit(scene, 400_000, (ray) => counts[rayAt(ray[Z]!, weights.length)]!++)
    const all = weights.reduce((a, b) => a + b, 0)
    const lit = weights.flatMap((w, i) => (w > 0 ? [i] : []))
    expect(counts.filter((_, i) => weights[i] === 0).every((n) => n === 0)).toBe(true)
    if (lit.length > 1)
      expectShares(
        lit.map((i) => counts[i]!),
        lit.map((i) => weights[i]! / all),
      )
  })
})

test('batches share no ray but those at the ends of their parts', () => {
  const weights = Array.from({ length: 800 }, () => 1)
  const scene = sceneOf(oneEmitter({ rays: documentRays(ladder(weights)) }))
  const users = weights.map(() => new Set<number>())
  emit(scene, 200_000, (ray, batch) => users[rayAt(ray[Z]!, weights.length)]!.add(batch))
  expect(users.every((set) => set.size > 0)).toBe(true)
  expect(users.filter((set) => set.size > 1).length).toBeLessThan(BATCHES)
  const perBatch = new Array<number>(BATCHES).fill(0)
  for (const set of users) for (const batch of set) perBatch[batch]!++
  for (const n of perBatch) expect(n).toBeGreaterThanOrEqual(50)
})

test('place and direction turn with the board and stand on the emitting surface; the wavelength comes along', () => {
  const lamp = oneEmitter({
    heightMm: 2,
    rays: documentRays([{ place: [1, 0.5, 0.25], direction: [0.6, 0, 0.8], nm: 620 }]),
    sites: [{ xMm: 10, yMm: 0 }],
  })
  lamp.boards[0]!.turnDeg = 90
  emit(sceneOf(lamp), 1, (ray) => {
    for (const [slot, value] of [
      [X, -0.5],
      [Y, 11],
      [Z, 2.25],
      [DX, 0],
      [DY, 0.6],
      [DZ, 0.8],
      [WAVELENGTH, 620],
    ] as const)
      expectWithin(ray[slot]!, value, { abs: 0.004, because: 'numbers of the document, half a step' })
    expectWithin(Math.hypot(ray[DX]!, ray[DY]!, ray[DZ]!), 1, { abs: 1e-12, because: 'double precision' })
  })
})

test('index and luminous weight are looked up at that wavelength', () => {
  const ray = new Float64Array(RAY_SIZE)
  const grid = Float32Array.from({ length: 81 }, (_, i) => 380 + 5 * i)
  ray[WAVELENGTH] = 612.5
  takeWavelength(
    ray,
    grid,
    grid.map((nm) => 2 * nm),
  )
  expect([ray[INDEX], ray[LUM]]).toEqual([612.5, 1225])
})

test('without wavelengths the emitter’s spectrum counts', () => {
  const rays = documentRays([{ nm: 400 }], { ownWavelengths: false })
  emit(sceneOf(oneEmitter({ rays })), 1, (ray) => expect(ray[WAVELENGTH]).toBe(0))
})
