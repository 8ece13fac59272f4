// The plate in time and at rest against closed forms.
import { describe, test } from 'vitest'
import { makePlate, type Plate, type PlateBoard } from '../../src/heat/plate.ts'
import {
  type ArealConductances,
  advancePlate,
  makeEvenTemperatures,
  type PlateTemperatures,
  shiftOf,
  solveSteady,
} from '../../src/heat/plateTemperatures.ts'
import { expectWithin } from '../kit/expect.ts'
import { once } from '../kit/once.ts'

const ALUMINIUM = { thicknessM: 0.006, conductivityWmK: 200, densityKgM3: 2700, heatJkgK: 900 }
const NO_SINK: ArealConductances = { base: 0, link: 0, fin: 0, finStored: 0 }

const evenHeat = (plate: Plate, watts: number) => plate.areaM2.map((a) => (watts * a) / plate.totalM2)

/** To `end` in `steps` equal steps. */
function warmed(
  plate: Plate,
  sheet: ArealConductances,
  heatW: Float64Array,
  end: number,
  steps: number,
  ambientC = 20,
) {
  let temperatures: PlateTemperatures = makeEvenTemperatures(plate, ambientC)
  const dt = end / steps
  const shift = shiftOf(plate.storedJm2K, sheet, dt)
  let [storedJ, lostJ] = [0, 0]
  for (let i = 0; i < steps; i++) {
    const s = advancePlate(plate, sheet, temperatures, heatW, ambientC, dt, shift)
    temperatures = s.temperatures
    storedJ += s.storedJ
    lostJ += s.lostJ
  }
  return { ...temperatures, storedJ, lostJ }
}

describe('all of one temperature', () => {
  // 300 W into 5 kg of aluminium of 897 J/kgK (derived): 0.0668896 K/s.
  const face = { shape: 'square' as const, sizeMm: 1000 }
  const thicknessM = 5 / 2700
  const plate = makePlate({ ...ALUMINIUM, face, thicknessM, heatJkgK: 897 }, [], 50)

  test('adiabatic: 40 K in 598 s', () => {
    const at = warmed(plate, NO_SINK, evenHeat(plate, 300), 598, 7)
    for (const c of [at.plateC[0]!, at.plateC[200]!])
      expectWithin(c - 20, 0.0668896 * 598, {
        rel: 2e-6,
        because: 'six printed digits; a straight line is stepped exactly',
      })
  })

  test('losing 3 W/K: 33.0576 K after 600 s, 40 K at 763.684 s, 100 K in the end', () => {
    const sheet = { ...NO_SINK, base: 3 }
    const heat = evenHeat(plate, 300)
    expectWithin(warmed(plate, sheet, heat, 600, 100).plateC[7]! - 20, 33.0576, { rel: 1e-5, because: 'second order' })
    expectWithin(warmed(plate, sheet, heat, 763.684, 100).plateC[7]! - 20, 40, { rel: 1e-5, because: 'second order' })
    expectWithin(solveSteady(plate, sheet, heat, 20).plateC[7]! - 20, 100, { rel: 1e-9, because: 'P/(hA)' })
  })

  test('twice the steps, a quarter of the error', () => {
    const exact = 100 * (1 - Math.exp((-600 * 3) / (5 * 897)))
    const off = (n: number) =>
      warmed(plate, { ...NO_SINK, base: 3 }, evenHeat(plate, 300), 600, n).plateC[0]! - 20 - exact
    expectWithin(off(4) / off(8), 4, { abs: 0.5, because: 'second order' })
  })
})

test('fins behind a link: two stores of heat, the closed form of their sum and difference', () => {
  const plate = makePlate({ ...ALUMINIUM, face: { shape: 'square', sizeMm: 100 }, thicknessM: 0.01 }, [], 10)
  const stored = plate.storedJm2K
  // Equal stores, no loss: the mean rises as P/2C; the difference settles at P/(2 link).
  const sheet = { base: 0, link: 2000, fin: 0, finStored: stored }
  const q = 10_000
  const at = warmed(plate, sheet, evenHeat(plate, q * plate.totalM2), 20, 200)
  const tau = stored / (2 * sheet.link)
  const apart = (q / (2 * sheet.link)) * (1 - Math.exp(-20 / tau))
  expectWithin((at.plateC[3]! + at.finC[3]!) / 2 - 20, (q * 20) / (2 * stored), {
    rel: 1e-9,
    because: 'nothing is lost',
  })
  expectWithin(at.plateC[3]! - at.finC[3]!, apart, { rel: 1e-4, because: 'second order' })
})

describe('semi-infinite solid, even flux at its face: 2 q √(αt/π)/k (Carslaw and Jaeger § 2.9)', () => {
  // Heat goes into the first column of a long plate; at 40 s it has come some 60 mm.
  const sizeM = 0.3
  const cellMm = 4
  const face = { shape: 'square' as const, sizeMm: sizeM * 1000 }
  const alpha = 200 / (2700 * 900)
  const after40s = once(() => {
    const plate = makePlate({ ...ALUMINIUM, face }, [], cellMm)
    const heat = new Float64Array(plate.areaM2.length)
    for (let row = 0; row < plate.rows; row++) heat[plate.cellAt[row * plate.columns]!] = 1000 / plate.rows
    return { plate, at: warmed(plate, NO_SINK, heat, 40, 80) }
  })
  const rise = (depthM: number) => {
    const { plate, at } = after40s()
    const column = Math.round((depthM * 1000) / cellMm - 0.5)
    return { rise: at.plateC[plate.cellAt[5 * plate.columns + column]!]! - 20, x: ((column + 0.5) * cellMm) / 1000 }
  }
  const flux = 1000 / (sizeM * 0.006)
  const closed = (x: number) => {
    const root = Math.sqrt(alpha * 40)
    const z = x / (2 * root)
    return ((flux * 2) / 200) * (root / Math.sqrt(Math.PI)) * Math.exp(-z * z) - ((flux * x) / 200) * erfc(z)
  }
  test.each([0, 0.02, 0.05])('%d m deep', (depth) => {
    const { rise: got, x } = rise(depth)
    expectWithin(got, closed(x), { abs: 0.004 * closed(0), because: 'cells of 4 mm, half-second steps' })
  })
})

/** Abramowitz and Stegun 7.1.26, ±1.5e-7. */
function erfc(z: number): number {
  const t = 1 / (1 + 0.3275911 * z)
  const poly = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t
  return poly * Math.exp(-z * z)
}

describe('a disc of even flux on a thin round plate, film behind it (modified Bessel functions; Incropera and DeWitt § 3.6.4)', () => {
  // θ = q/h (1 − m R_s I₀(mr) · F), inside the source; here checked through Lee et al. 1995 for a plate so thin that they agree.
  const [source, radius] = [0.02, 0.1]
  const sheet: ArealConductances = { ...NO_SINK, base: 100 }
  const board: PlateBoard = {
    outline: { shape: 'disc', diameterMm: 2000 * source },
    xMm: 0,
    yMm: 0,
    turnDeg: 0,
    sites: [{ xMm: 0, yMm: 0 }],
  }
  const m = Math.sqrt(sheet.base / (ALUMINIUM.conductivityWmK * ALUMINIUM.thicknessM))
  /** Rise at the middle for 100 W, from the radial equation solved by hand: inside A + B I₀, outside C I₀ + D K₀, insulated rim. */
  const middle = () => {
    const q = 100 / (Math.PI * source ** 2)
    const [i0, i1, k0, k1] = [
      bessel.i0(m * source),
      bessel.i1(m * source),
      bessel.k0(m * source),
      bessel.k1(m * source),
    ]
    const rim = bessel.i1(m * radius) / bessel.k1(m * radius)
    // θ_in = q/h + B I₀(mr); θ_out = C (I₀(mr) + rim K₀(mr)); equal values and slopes at the source's edge.
    const [p, s] = [i0 + rim * k0, i1 - rim * k1]
    const c = (q / sheet.base) * (i1 / (p * i1 - s * i0))
    return q / sheet.base + (c * s) / i1
  }
  const computed = (cellMm: number) => {
    const plate = makePlate({ ...ALUMINIUM, face: { shape: 'round', sizeMm: 2000 * radius } }, [board], cellMm)
    const heat = new Float64Array(plate.areaM2.length)
    const { cells, shares } = plate.boards[0]!
    for (let i = 0; i < cells.length; i++) heat[cells[i]!] = 100 * shares[i]!
    const at = solveSteady(plate, sheet, heat, 20)
    const site = plate.sites[0]![0]!
    let sum = 0
    for (let i = 0; i < site.cells.length; i++) sum += site.shares[i]! * at.plateC[site.cells[i]!]!
    return sum - 20
  }
  test('cells of 4 mm: within 1 %; of 2 mm: closer', () => {
    expectWithin(computed(4), middle(), { rel: 0.01, because: 'ten cells across the source' })
    expectWithin(computed(2), middle(), { rel: 0.004, because: 'twenty cells across the source' })
  })
})

/** Ascending series (Abramowitz and Stegun 9.6.10 to 9.6.13); good for small arguments. */
const bessel = {
  i0: (x: number) => series(x, 0),
  i1: (x: number) => series(x, 1),
  k0(x: number) {
    let sum = 0
    let term = 1
    let harmonic = 0
    for (let k = 1; k < 40; k++) {
      term *= (x * x) / 4 / (k * k)
      harmonic += 1 / k
      sum += term * harmonic
    }
    return -(Math.log(x / 2) + 0.5772156649015329) * series(x, 0) + sum
  },
  /** By the Wronskian I₀ K₁ + I₁ K₀ = 1/x. */
  k1: (x: number) => (1 / x - series(x, 1) * bessel.k0(x)) / series(x, 0),
}
function series(x: number, order: number): number {
  let term = (x / 2) ** order
  let sum = term
  for (let k = 1; k < 40; k++) {
    term *= (x * x) / 4 / (k * (k + order))
    sum += term
  }
  return sum
}
