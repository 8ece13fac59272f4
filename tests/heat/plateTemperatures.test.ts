// Steps of time against Alexander's rule worked out for two stores, and the closed forms that it tends to.
import { describe, expect, test } from 'vitest'
import { makePlate } from '../../src/heat/plate.ts'
import {
  type ArealConductances,
  advancePlate,
  makeEvenTemperatures,
  type PlateTemperatures,
  secondsFor,
  shiftOf,
  solveSteady,
} from '../../src/heat/plateTemperatures.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-9, because: 'rounding' }
const GAMMA = 1 - 1 / Math.sqrt(2)
/** 20 × 20 mm in four cells; 2 mm · 2500 · 1000 store 5000 J/m²K. */
const plateHere = () =>
  makePlate(
    {
      face: { shape: 'square', sizeMm: 20 },
      ...{ thicknessM: 0.002, conductivityWmK: 250, densityKgM3: 2500, heatJkgK: 1000 },
    },
    [],
    10,
  )
const STORED = 5000
const AREA = 4e-4
const bare: ArealConductances = { base: 40, link: 0, fin: 0, finStored: 0 }
const finned: ArealConductances = { base: 10, link: 300, fin: 60, finStored: 2000 }

/** One step of the even plate, `watts` in all. */
const step = (s: ArealConductances, from: PlateTemperatures, watts: number, ambientC: number, seconds: number) => {
  const heatW = new Float64Array(4).fill(watts / 4)
  return advancePlate(plateHere(), s, from, heatW, ambientC, seconds, shiftOf(STORED, s, seconds))
}
const even = (plateC: number, finC: number): PlateTemperatures => ({
  plateC: new Float64Array(4).fill(plateC),
  finC: new Float64Array(4).fill(finC),
})

type Pair = [number, number]
/** What two stores gain, K/s, at temperatures over the air: plate and fins, by the areal conductances. */
const rates = (s: ArealConductances, [plate, fin]: Pair, wm2: number): Pair => [
  (wm2 - s.base * plate - s.link * (plate - fin)) / STORED,
  (s.link * (plate - fin) - s.fin * fin) / s.finStored,
]
/** x of x = from + γ Δt f(x), two equations by Cramer's rule. */
function implicit(s: ArealConductances, [p, f]: Pair, wm2: number, seconds: number): Pair {
  const [cp, cf] = [STORED / (GAMMA * seconds), s.finStored / (GAMMA * seconds)]
  const [a, b, c, d] = [cp + s.base + s.link, -s.link, -s.link, cf + s.link + s.fin]
  const [u, v] = [cp * p + wm2, cf * f]
  const det = a * d - b * c
  return [(u * d - b * v) / det, (a * v - c * u) / det]
}
/** Alexander's two stages, written with their slopes: k₁ = f(T + γ Δt k₁), k₂ = f(T + (1 − γ) Δt k₁ + γ Δt k₂). */
function twoStages(s: ArealConductances, from: Pair, wm2: number, seconds: number): { one: Pair; two: Pair } {
  const one = implicit(s, from, wm2, seconds)
  const k = rates(s, one, wm2)
  const between: Pair = [from[0] + (1 - GAMMA) * seconds * k[0], from[1] + (1 - GAMMA) * seconds * k[1]]
  return { one, two: implicit(s, between, wm2, seconds) }
}

describe('a bare plate of 4 cm²', () => {
  test('one step shrinks the distance to the steady state by (1 + (1 − 2γ) z)/(1 − γ z)², z = −40 · 50/5000', () => {
    // 0.8 W over 4 cm² at 40 W/m²K: 50 K over 25 °C in the end.
    const { temperatures } = step(bare, even(30, 30), 0.8, 25, 50)
    const z = -0.4
    const rest = (1 + (1 - 2 * GAMMA) * z) / (1 - GAMMA * z) ** 2
    for (const c of temperatures.plateC) expectWithin(c, 75 - 45 * rest, rounding)
  })
  test('short steps follow 1 − exp(−t/125 s): after 100 s of a hundred steps', () => {
    let now = even(25, 25)
    for (let i = 0; i < 100; i++) now = step(bare, now, 0.8, 25, 1).temperatures
    expectWithin(now.plateC[0] ?? 0, 75 - 50 * Math.exp(-0.8), { abs: 1e-4, because: 'second order: (1/125)² of 50 K' })
  })
  test('without fins their temperature is the plate’s', () => {
    const { temperatures } = step(bare, even(30, 30), 0.8, 25, 50)
    expect(temperatures.finC).toEqual(temperatures.plateC)
    expect(temperatures.finC[0]).toBeGreaterThan(31)
  })
  test('nothing lost to the air: all of 0.8 W is stored, 0.4 K/s', () => {
    const closed = { ...bare, base: 0 }
    const { temperatures, storedJ, lostJ } = step(closed, even(30, 30), 0.8, 25, 10)
    expectWithin(temperatures.plateC[3] ?? 0, 34, rounding)
    expectWithin(storedJ, 8, rounding)
    expect(lostJ).toBe(0)
  })
})

describe('a plate with fins', () => {
  test.each([3, 40, 1000])('a step of %i s: both stores by hand, and the heat that they take and lose', (seconds) => {
    const from: Pair = [22, 9]
    const { temperatures, storedJ, lostJ } = step(finned, even(47, 34), 0.8, 25, seconds)
    const { one, two } = twoStages(finned, from, 0.8 / AREA, seconds)
    for (const c of temperatures.plateC) expectWithin(c, 25 + two[0], rounding)
    for (const c of temperatures.finC) expectWithin(c, 25 + two[1], rounding)
    const loss = ([p, f]: Pair) => AREA * (10 * p + 60 * f)
    expectWithin(storedJ, AREA * (5000 * (two[0] - 22) + 2000 * (two[1] - 9)), rounding)
    expectWithin(lostJ, seconds * ((1 - GAMMA) * loss(one) + GAMMA * loss(two)), rounding)
    expectWithin(storedJ + lostJ, 0.8 * seconds, rounding)
  })
  test('heat in one corner stays in the balance, and the corner is warmest', () => {
    const heatW = Float64Array.of(0.8, 0, 0, 0)
    const { temperatures, storedJ, lostJ } = advancePlate(
      ...([plateHere(), finned, even(47, 34), heatW, 25, 20] as const),
      shiftOf(STORED, finned, 20),
    )
    expectWithin(storedJ + lostJ, 16, rounding)
    const [a = 0, b = 0, c = 0, d = 0] = temperatures.plateC
    expect(a).toBeGreaterThan(b)
    expectWithin(b, c, rounding)
    expect(c).toBeGreaterThan(d)
  })
  test('fins that hold nothing stand between plate and air at once: link/(link + fin) of the rise', () => {
    const light = { ...finned, finStored: 0 }
    const { temperatures } = step(light, even(47, 34), 0.8, 25, 5)
    expectWithin((temperatures.finC[0] ?? 0) - 25, (300 / 360) * ((temperatures.plateC[0] ?? 0) - 25), rounding)
  })
  test('an endless step ends in the steady state', () => {
    const { temperatures } = step(finned, even(47, 34), 0.8, 25, 1e9)
    const steady = solveSteady(plateHere(), finned, new Float64Array(4).fill(0.2), 25)
    expectWithin(temperatures.plateC[0] ?? 0, steady.plateC[0] ?? 0, { rel: 1e-5, because: 'a finite step' })
    expectWithin(temperatures.finC[0] ?? 0, steady.finC[0] ?? 0, { rel: 1e-5, because: 'a finite step' })
  })
})

describe('the steady state of 0.8 W over 4 cm², 2000 W/m², air of 25 °C', () => {
  const steady = (s: ArealConductances) => solveSteady(plateHere(), s, new Float64Array(4).fill(0.2), 25)
  test('bare, 40 W/m²K: 50 K', () => {
    const { plateC, finC } = steady(bare)
    for (const c of plateC) expectWithin(c, 75, rounding)
    for (const c of finC) expect(c).toBe(25)
  })
  test('fins: 10 beside 300 and 60 in series, which are 50; the fins at 300/360 of the plate’s rise', () => {
    const { plateC, finC } = steady(finned)
    for (const c of plateC) expectWithin(c, 25 + 2000 / 60, rounding)
    for (const c of finC) expectWithin(c, 25 + (300 / 360) * (2000 / 60), rounding)
  })
  test('a link weaker than the fins: 60 and 300 in series are 50 too, the fins at 60/360', () => {
    const { plateC, finC } = steady({ ...finned, link: 60, fin: 300 })
    expectWithin(plateC[0] ?? 0, 25 + 2000 / 60, rounding)
    expectWithin(finC[0] ?? 0, 25 + (60 / 360) * (2000 / 60), rounding)
  })
  test('the heat that it is given stays as it is', () => {
    const heatW = new Float64Array(4).fill(0.2)
    solveSteady(plateHere(), bare, heatW, 25)
    expect([...heatW]).toEqual([0.2, 0.2, 0.2, 0.2])
  })
  test('all by the fins: 50 W/m²K', () => {
    expectWithin(steady({ ...finned, base: 0 }).plateC[0] ?? 0, 65, rounding)
  })
  test('without a way to the air there is none', () => {
    expect(() => steady({ base: 0, link: 0, fin: 0, finStored: 0 })).toThrow(/positive definite/)
  })
})

describe('the shift of a step', () => {
  test('bare: what is stored over γ Δt, and the film; fins in closed form', () => {
    expectWithin(shiftOf(STORED, bare, 10), 5000 / (GAMMA * 10) + 40, rounding)
    const rate = 1 / (GAMMA * 10)
    expectWithin(shiftOf(STORED, finned, 10), 5000 * rate + 10 + 300 - 300 ** 2 / (2000 * rate + 360), rounding)
  })
  test.each([0.01, 1, 3600, 1e6])('a step of %f s is found again from its shift', (seconds) => {
    for (const s of [bare, finned]) {
      const found = secondsFor(STORED, s, shiftOf(STORED, s, seconds))
      expectWithin(found ?? 0, seconds, { rel: 1e-5, because: 'a shift’s last bits at 1e6 s, of 0.017 in 40' })
    }
  })
  test('a shift that an endless step needs, or a lesser one, has no step', () => {
    const endless = shiftOf(STORED, bare, 1e12)
    expect(secondsFor(STORED, bare, endless)).toBe(null)
    expect(secondsFor(STORED, bare, 39)).toBe(null)
    expect(secondsFor(STORED, bare, 40.001)).toBeGreaterThan(1e6)
  })
})

test('an even start: each cell and its fins at one temperature', () => {
  const { plateC, finC } = makeEvenTemperatures(plateHere(), 21)
  expect([...plateC, ...finC]).toEqual([21, 21, 21, 21, 21, 21, 21, 21])
})
