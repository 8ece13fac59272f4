// Structure as fine as the window's cells: even light, a slope, an edge and a pattern, each with the noise of counts.
import { expect, test } from 'vitest'
import { grainOf, isGrained } from '../../src/beam/grain.ts'
import { findRivals, type Peak } from '../../src/beam/peak.ts'
import type { Profile } from '../../src/beam/profile.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { fold } from '../../src/run/batches.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const N = 48
const CELL = 0.01
const shape = { ...smallShape(), windowN: N, fineHalfRad: (N * CELL) / 2 }
/** Rays that fall into a cell of the mean light, of all batches: few, as in a first sheet. */
const RAYS = 10

/** Light of cells by column and row, 1 on average, with counts drawn for each batch (binomial of many small chances, nearly Poisson's). */
function grainIn(light: (column: number, row: number) => number, seed: number) {
  const random = seededRandom(seed)
  const folded = fold(
    filledRun(shape, (t, l) => {
      for (let at = 0; at < N * N; at++) {
        const chance = (RAYS * light(at % N, Math.floor(at / N))) / 16 / 20
        for (let k = 0; k < 20; k++) if (random() < chance) t[l.windowLm + at]! += 1e-4
      }
    }),
  )
  // A unit of a batch is 16 lm, and each of 16 batches is a sixteenth of the light.
  return grainOf(folded, (RAYS * 1e-4) / CELL ** 2)
}
const seeds = [1, 2, 3, 4, 5, 6, 7, 8]
const inside = (column: number, row: number) => Math.hypot(column - 23.5, row - 23.5) < 17

test('even light, a slope and an edge are none: sums of noise, mean 0 and error 1', () => {
  for (const light of [
    () => 1,
    (column: number) => 0.5 + column / N,
    (column: number, row: number) => (inside(column, row) ? 1 : 0),
  ]) {
    const sigmas = seeds.map((seed) => grainIn(light, seed).sigmas)
    const mean = sigmas.reduce((a, b) => a + b, 0) / seeds.length
    // Four standard errors of a mean of eight.
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(8))
    expect(Math.max(...sigmas.map(Math.abs))).toBeLessThan(4)
  }
})

test('cells that differ by a half of their mean are, of ten rays each', () => {
  // d is ± 0.7 of light 1 on the squares of a board whose fields are one cell: Σ d² over some 1200 cells against noise of √1.25 · √20 of ten.
  const board = (column: number, row: number) => (inside(column, row) ? 1 + 0.35 * ((column + row) % 2 ? 1 : -1) : 0)
  for (const seed of seeds) {
    const { sigmas, share } = grainIn(board, seed)
    expect(sigmas).toBeGreaterThan(4)
    // 0.7 of a mean of 1, to a fifth: some 900 cells, each half with noise of half as much again.
    expect(Math.abs(share - 0.7)).toBeLessThan(0.14)
  }
})

test('rings that fall and rise again are, where their errors leave no other way', () => {
  const dark = fold(filledRun(shape, () => {}))
  const rings = (cd: number[], se: number): Profile => ({
    thetaRad: Float64Array.from(cd, (_, j) => 0.1 * j),
    cd: Float64Array.from(cd),
    seCd: new Float64Array(cd.length).fill(se),
    without: [],
  })
  expect(isGrained(dark, rings([100, 40, 95, 10], 1), 100)).toBe(true)
  // 2 (40 + 2 · 4) < 95 … but not less than 95 − 2 · 4.
  expect(isGrained(dark, rings([100, 40, 95, 10], 4), 100)).toBe(false)
  // A faint ring beyond is no part of the beam.
  expect(isGrained(dark, rings([100, 5, 45, 10], 1), 100)).toBe(false)
  expect(isGrained(dark, rings([100, 80, 40, 10], 1), 100)).toBe(false)
})

test('in a grained beam any bright place is a rival, with what its cell leaves open', () => {
  const cell = { rad: 0.02, dropCd: 60, alone: false }
  const at = (value: number, thetaRad: number, more: Partial<Peak> = {}): Peak => ({
    ...{ value, se: 3, thetaRad, azimuthRad: 0, around: false, without: [] },
    ...more,
  })
  const [axis, spot] = [at(100, 0), at(90, 0.2, { cell })]
  const of = (grained: boolean) => findRivals({ axis, ring: axis, spot, coneRad: 0.004, grained, wide: () => [] }, axis)
  expect(of(true)).toEqual([spot])
  expect(of(false)).toEqual([])
})

test('light that is even but for a ripple of 2 % is even, however sure the ripple is', () => {
  const flat: Profile = {
    thetaRad: Float64Array.of(0, 0.1),
    cd: Float64Array.of(1, 1),
    seCd: Float64Array.of(0, 0),
    without: [],
  }
  const of = (ripple: number) =>
    isGrained(
      fold(
        filledRun(shape, (t, l) => {
          for (let at = 0; at < N * N; at++)
            t[l.windowLm + at] = 1e-4 * (1 + ripple * ((at + Math.floor(at / N)) % 2 ? 1 : -1))
        }),
      ),
      flat,
      1,
    )
  // Twice the ripple sets a cell apart from its neighbours.
  expect(of(0.02)).toBe(false)
  expect(of(0.03)).toBe(true)
})
