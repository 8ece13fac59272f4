// Spreading of heat: Lee, Song, Au and Moran 1995, and a disc on a half space (Carslaw and Jaeger § 8.2; Yovanovich).
import { describe, test } from 'vitest'
import { discOnHalfSpace, spreadingResistance } from '../../src/heat/spreading.ts'
import { expectWithin } from '../kit/expect.ts'

describe('disc of 10 mm in a disc of 50 mm, 5 mm thick, 200 W/mK, 1000 W/m²K behind it', () => {
  const s = { sourceM: 0.01, plateM: 0.05, thicknessM: 0.005, conductivityWmK: 200, film: 1000 }
  test('the closed form as printed: 0.225881 and 0.179048 K/W', () => {
    const r = spreadingResistance(s)
    expectWithin(r.maxKW, 0.225881, { rel: 3e-6, because: 'as printed' })
    expectWithin(r.meanKW, 0.179048, { rel: 3e-6, because: 'as printed' })
  })
  test('within its 10 % of the exact series: 0.223397 and 0.184257 K/W', () => {
    const r = spreadingResistance(s)
    expectWithin(r.maxKW, 0.223397, { rel: 0.02, because: 'the authors’ claim, here better' })
    expectWithin(r.meanKW, 0.184257, { rel: 0.03, because: 'the authors’ claim, here better' })
  })
})

describe('a disc on a half space', () => {
  test.each([
    [200, 0.005, 0.25, 0.2701898, 0.3183099],
    [1, 1, 0.25, 0.2701898, 0.3183099],
  ])('k %d, a %d: %d, %d, %d K/W', (k, a, isothermal, mean, middle) => {
    const d = discOnHalfSpace(k, a)
    expectWithin(d.isothermalKW, isothermal, { rel: 1e-7, because: 'as printed' })
    expectWithin(d.meanKW, mean, { rel: 1e-6, because: 'as printed' })
    expectWithin(d.maxKW, middle, { rel: 1e-6, because: 'as printed' })
  })
  test('the closed form tends to it in a very large, thick block: within 7 %', () => {
    const s = spreadingResistance({ sourceM: 0.005, plateM: 5, thicknessM: 5, conductivityWmK: 200, film: 1e6 })
    expectWithin(s.maxKW, 0.3183099, { rel: 0.07, because: 'the authors fit the middle range' })
    expectWithin(s.meanKW, 0.2701898, { rel: 0.07, because: 'the authors fit the middle range' })
  })
})
