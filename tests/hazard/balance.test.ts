import { describe, expect, test } from 'vitest'
import {
  absorbedBySheet,
  coveredC,
  coveredLimitKWm2,
  lensOverFaceC,
  lensUnderC,
  steadyTemperatureC,
} from '../../src/hazard/balance.ts'
import { expectWithin } from '../kit/expect.ts'

const SIGMA = 5.670374419e-8
const k4 = (c: number) => (c + 273.15) ** 4
/** Between two dull plates, 2/0.9 − 1 = 1.2222. */
const between = (a: number, b: number) => (SIGMA * (k4(a) - k4(b))) / 1.2222222 / 1000
const toRoom = (c: number, room: number) => (0.9 * SIGMA * (k4(c) - k4(room)) + 5 * (c - room)) / 1000

describe('what lies on the lens', () => {
  test('one layer loses heat on its outer side alone', () => {
    for (const q of [0.5, 2, 16]) expect(coveredC(q, 25)).toBe(steadyTemperatureC({ takenKWm2: q, ambientC: 25 }))
  })
  test('two layers: the inner one sends all that it takes in to the outer one by radiation', () => {
    for (const q of [0.5, 2, 16]) {
      const [inner, outer] = [coveredC(q, 25, 2), coveredC(q, 25, 1)]
      expectWithin(between(inner, outer), q, { rel: 1e-5, because: 'balance by hand' })
      expectWithin(toRoom(outer, 25), q, { rel: 1e-5, because: 'balance by hand' })
    }
  })
  test('2 kW/m² in a room of 20 °C: a cover 154 °C, cloth in a fold 240 °C', () => {
    // 0.9 σ (427.1⁴ − 293.15⁴) + 5 · 133.9 = 1992; then σ (T⁴ − 427.1⁴) = 1.2222 · 2000: T = 525.7 K... by hand.
    const outer = coveredC(2, 20)
    expectWithin(toRoom(outer, 20), 2, { rel: 1e-6, because: 'balance' })
    const byHand = ((1.2222222 * 2000) / SIGMA + k4(outer)) ** 0.25 - 273.15
    expectWithin(coveredC(2, 20, 2), byHand, { abs: 0.01, because: 'closed form' })
    expect(coveredC(2, 20, 2)).toBeGreaterThan(outer + 50)
  })
  test('without light it is as warm as the room', () => {
    expect([coveredC(0, 31, 1), coveredC(0, 31, 2), coveredC(-1, 31, 2), coveredC(Number.NaN, 31, 2)]).toEqual([
      31, 31, 31, 31,
    ])
  })
  test('the least light that reaches a limit is the same balance the other way round', () => {
    for (const layers of [1, 2] as const)
      for (const limit of [76, 105, 250])
        expectWithin(coveredC(coveredLimitKWm2(limit, 20, layers), 20, layers), limit, { abs: 1e-3, because: 'root' })
    expect(coveredLimitKWm2(250, 20, 2)).toBeLessThan(0.75 * coveredLimitKWm2(250, 20, 1))
    expect(coveredLimitKWm2(20, 20, 1)).toBe(0)
    expect(coveredLimitKWm2(60, 80, 2)).toBe(0)
    expect(coveredLimitKWm2(60, 80, 1)).toBe(0)
  })
})

describe('a lens over a hot face', () => {
  const near = { takenKWm2: 0, ambientC: 20, faceC: 121, gapMm: 8, faceRadiusMm: 100 }
  test('8 mm over a face of 121 °C and 200 mm: 73 °C without any light, by radiation and the air between', () => {
    // Seen: 100²/(100² + 8²) = 0.9936. At 73 °C: 0.9936 σ (394.15⁴ − 346.15⁴)/1.2222 + 0.03 · 48/0.008 = 450 + 180 = 630;
    // lost: 0.9 σ (346.15⁴ − 293.15⁴) + 5 · 53 = 356 + 265 = 621.
    const c = lensOverFaceC(near)
    expectWithin(c, 73.3, { abs: 0.2, because: 'with pencil' })
    expectWithin((1e4 / 10_064) * between(121, c) + (0.03e-3 * (121 - c)) / 0.008, toRoom(c, 20), {
      rel: 1e-5,
      because: 'balance by hand',
    })
  })
  test('light comes on top; far away only it counts; no heat flows to a cooler face', () => {
    const lit = lensOverFaceC({ ...near, takenKWm2: 0.4 })
    expectWithin((1e4 / 10_064) * between(121, lit) + (0.03e-3 * (121 - lit)) / 0.008 + 0.4, toRoom(lit, 20), {
      rel: 1e-5,
      because: 'balance by hand',
    })
    const far = lensOverFaceC({ ...near, takenKWm2: 0.4, gapMm: 1e6 })
    expectWithin(far, steadyTemperatureC({ takenKWm2: 0.4, ambientC: 20 }), {
      abs: 1e-3,
      because: 'the face is a point',
    })
    expect(lensOverFaceC({ ...near, takenKWm2: 2, faceC: 25 })).toBeCloseTo(
      steadyTemperatureC({ takenKWm2: 2, ambientC: 20 }),
      9,
    )
    expect(lensOverFaceC({ ...near, faceC: 10 })).toBe(20)
  })
})

describe('the lens under it', () => {
  test('takes in its radiation and gives it to the inside of the lamp', () => {
    for (const cover of [100, 300, 600]) {
      const lens = lensUnderC(cover, 20)
      expect(lens).toBeGreaterThan(20)
      expect(lens).toBeLessThan(cover)
      expectWithin(between(cover, lens), toRoom(lens, 20), { rel: 1e-5, because: 'balance by hand' })
    }
  })
  test('nothing to give where the cover is no warmer than the air', () => {
    expect([lensUnderC(20, 20), lensUnderC(10, 20)]).toEqual([20, 20])
  })
})

describe('light that a sheet takes in', () => {
  test('0.1 per mm, 2 mm, n 1.5: the longest way is 2/√(1 − 1/2.25) = 2.68328 mm, 1 − e^−0.268328 = 0.235343', () => {
    expectWithin(absorbedBySheet(0.1, 2, 1.5), 0.235343, { abs: 1e-6, because: 'printed digits' })
  })
  test('clear or infinitely thin: none; thick: all', () => {
    expect([absorbedBySheet(0, 2, 1.5), absorbedBySheet(0.1, 0, 1.5)]).toEqual([0, 0])
    expect(absorbedBySheet(1000, 10, 1.5)).toBe(1)
  })
})
