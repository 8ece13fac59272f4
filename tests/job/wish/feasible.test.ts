// Bounds of physics, each worked by hand. The class small-die-5: 600 lm at 2 A and 85 °C from 0.9 × 0.9 mm; at 4 A 1.66 times, at 25 °C 1.15 times.
import { expect, test } from 'vitest'
import { forbiddenBy, LENS_PASSES, mostEfficacy, mostLm, mostLuminance } from '../../../src/job/wish/feasible.ts'
import { readWish, type Wish, wantedCd } from '../../../src/job/wish/wish.ts'
import { emitterById } from '../../../src/library/emitters.ts'

const small = emitterById('small-die-5')

test('the brightest class: 600 · 1.66 · 1.15 = 1145.4 lm, over π · 0.81 mm² = 450.1 cd/mm²', () => {
  expect(mostLm(small)).toBeCloseTo(1145.4, 6)
  expect(mostLuminance(small)).toBeCloseTo(450.1, 1)
})

// R = (0.49 / 2.49)² = 0.03873; (1 − R)² = 0.92405.
test('two faces of acrylic pass 92.4 % (Fresnel, normal incidence)', () => {
  expect(LENS_PASSES).toBeCloseTo(0.92405, 5)
})

// 0.2 A: 600 · 0.118 · 1.15 = 81.42 lm; 2.6 V · 1.04 · 0.2 A = 0.5408 W: 150.6 lm/W, of its rows the most.
test('lumens per watt at their best', () => {
  expect(mostEfficacy(small)).toBeCloseTo(150.6, 0)
})

// Opening of 100 mm: 7854 mm² · 450.12 · 0.92405 = 3.267 Mcd. 10 Mcd needs √(10 / 3.267) · 100 = 175.0 mm.
test('luminance times opening: 10 million cd through 100 mm, which take 175 mm', () => {
  const [found, ...more] = forbiddenBy({ candela: 1e7, widthMm: 100 })
  expect(more).toEqual([])
  expect(found).toMatchObject({ by: 'luminance', wanted: 1e7 })
  expect(found?.most).toBeCloseTo(3.267e6, -4)
  const [wider, less] = found?.changes ?? []
  expect(wider).toMatchObject({ what: 'widthMm' })
  expect(wider && 'atLeast' in wider ? wider.atLeast : 0).toBeCloseTo(175, 0)
  expect(less).toMatchObject({ what: 'candela', atMost: found?.most })
  expect(forbiddenBy({ candela: 1e7, widthMm: 175.1 })).toEqual([])
  expect(forbiddenBy({ candela: 1e7, widthMm: 174.8 })).toHaveLength(1)
})

test('a class at hand that is too dim: the brighter one is named', () => {
  const [found] = forbiddenBy({ candela: 1e6, widthMm: 100, emitter: 'four-die-7' })
  expect(found?.changes).toContainEqual({ what: 'emitter', id: 'small-die-5' })
})

// 500 lx on 10 × 10 m: 50 000 lm, at the most 4 · 1145.4 = 4582 lm of small-die-5; 50 000 / 1145.4 = 43.65.
test('lumens: 500 lx on 100 m² from four emitters takes 44', () => {
  const [found] = forbiddenBy({ lux: 500, distanceM: 20, sizeM: 10, emitters: 4, emitter: 'small-die-5' })
  expect(found).toMatchObject({
    by: 'flux',
    wanted: 50_000,
    changes: [{ what: 'emitters', atLeast: 44 }, { what: 'lux' }],
  })
})

// 50 000 lm / 150.6 lm/W = 332 W, 166 Wh in half an hour. 4 · 2 cells of 10.8 Wh: 86.4 Wh, which last 15.6 min; 4 in parallel hold 172.8 Wh.
test('energy: half an hour from eight cells is refused, with minutes and cells that do', () => {
  const wish: Wish = {
    lux: 500,
    distanceM: 20,
    sizeM: 10,
    minutes: 30,
    emitter: 'small-die-5',
    pack: { series: 4, parallel: 2 },
  }
  const [found] = forbiddenBy(wish)
  expect(found).toMatchObject({ by: 'energy', most: 86.4 })
  expect(found?.wanted).toBeCloseTo(166, 0)
  const [minutes, cells] = found?.changes ?? []
  expect(minutes && 'atMost' in minutes ? minutes.atMost : 0).toBeCloseTo(15.6, 1)
  expect(cells).toEqual({ what: 'cellsInParallel', atLeast: 4 })
  expect(forbiddenBy({ ...wish, minutes: 15.5 })).toEqual([])
})

test('a wish is read or refused in a sentence', () => {
  expect(readWish({ lux: 2, distanceM: 100 })).toMatchObject({ ok: true })
  expect(wantedCd({ lux: 2, distanceM: 100 })).toBe(20_000)
  for (const wrong of [
    {},
    { lux: 2 },
    { lux: 2, candela: 3, distanceM: 1 },
    { candela: 1, sizeM: 2 },
    { candela: -1 },
    { candle: 1 },
  ])
    expect(readWish(wrong)).toMatchObject({ ok: false, why: expect.stringMatching(/\.$/) })
})
