// Tables whose shares are worked out by hand, in numbers that single precision holds; and integrals of straight lines for any other.
import { describe, expect, test } from 'vitest'
import {
  cFromTable,
  cosFromPower,
  densityOfPower,
  densityOfTable,
  GUIDE,
  packTable,
  powerFromFwhm,
  tableFromProfile,
  uFromPower,
  uFromTable,
} from '../../../src/optics/profiles.ts'
import { expectWithin } from '../../kit/expect.ts'

const rounding = { abs: 1e-13, because: 'rounding' }
const thetaOf = (c: number) => Math.acos(1 - c)

describe('cosine powers', () => {
  test('m = 1, Lambert; m = 3', () => {
    expect(cosFromPower(0.25, 0.5)).toBe(0.5)
    expectWithin(cosFromPower(0.0625, 0.25), 0.5, rounding)
    expectWithin(cosFromPower(0.3, 1), 0.3, rounding) // m = 0: the same all round
    expectWithin(densityOfPower(Math.PI / 3, 1), 0.5 / Math.PI, rounding)
    expectWithin(densityOfPower(Math.PI / 3, 3), 0.25 / Math.PI, rounding)
    expectWithin(uFromPower(Math.PI / 3, 3), 0.0625, rounding)
  })
  test('width at half maximum: 120° is Lambert; cosᵐ(FWHM/2) = ½', () => {
    expectWithin(powerFromFwhm((2 * Math.PI) / 3), 1, rounding)
    for (const width of [0.2, 1, 2.5]) expectWithin(Math.cos(width / 2) ** powerFromFwhm(width), 0.5, rounding)
  })
})

// c:      0  ¼  ½  1
// I:      4  4  0  2, twice the table of weight 1: ∫ = 1 + ½ + ½ = 2
const C = Float64Array.of(0, 0.25, 0.5, 1)
const I = Float64Array.of(4, 4, 0, 2)

describe('packing', () => {
  test('layout: counts, c, I/∫, shares below, 2 dI/dc', () => {
    const { c, intensity, weight, packed } = packTable(C, I)
    expect([weight, c, intensity]).toEqual([2, C, I])
    expect(packed.length).toBe(2 + 16 + GUIDE)
    expect([...packed.subarray(0, 18)]).toEqual([4, 2048, 0, 0.25, 0.5, 1, 2, 2, 0, 1, 0, 0.5, 0.75, 1, 0, -16, 4, 0])
  })
  test('the last share is 1 whatever rounding made of it', () => {
    const odd = packTable(Float64Array.of(0, 0.1, 0.3), Float64Array.of(1, 3, 0.7)).packed
    expect(odd[2 + 3 * 2 + 2]).toBe(1)
  })
  test('guide: the last cell that begins at or below the share', () => {
    const { packed } = packTable(C, I)
    for (let g = 0; g < GUIDE; g++) expect(packed[18 + g]).toBe(g < GUIDE / 2 ? 0 : g < (3 * GUIDE) / 4 ? 1 : 2)
    // The last node begins no cell, though no light lies beyond the one before.
    const dark = packTable(Float64Array.of(0, 0.5, 1), Float64Array.of(1, 0, 0)).packed
    expect(dark[2 + 4 * 3 + GUIDE - 1]).toBe(0)
    const early = packTable(Float64Array.of(0, 0.5, 1), Float64Array.of(0, 0, 1)).packed
    for (const g of [0, 1, GUIDE - 1]) expect(early[2 + 4 * 3 + g]).toBe(1)
  })
})

describe('drawing', () => {
  const drawn = (u: number) => {
    const { packed } = packTable(C, I)
    const shifted = new Float32Array(packed.length + 5)
    shifted.set(packed, 5)
    return cFromTable(u, shifted, 5)
  }
  test('even cell: c = u/2', () => {
    for (const u of [0.001, 0.2, 0.4999]) expectWithin(drawn(u), u / 2, rounding)
  })
  test('falling cell: ½ + 2t − 4t² of the light below ¼ + t', () => {
    for (const u of [0.5, 0.51, 0.6, 0.74, 0.7499]) {
      const t = drawn(u) - 0.25
      expectWithin(0.5 + 2 * t - 4 * t * t, u, rounding)
      expect(t).toBeLessThanOrEqual(0.25)
    }
  })
  test('rising cell: ¾ + t² below ½ + t', () => {
    for (const u of [0.7501, 0.8, 0.9999]) expectWithin(drawn(u), 0.5 + Math.sqrt(u - 0.75), rounding)
    expect(drawn(1 - 2 ** -25)).toBeLessThanOrEqual(1)
  })
  test('many cells under one of the guide', () => {
    // Sixteen cells within c < 2⁻¹², then the rest: I = 1 throughout, so c = u.
    const c = Float64Array.from({ length: 18 }, (_, i) => (i < 17 ? i * 2 ** -16 : 1))
    const even = packTable(c, new Float64Array(18).fill(1)).packed
    for (const u of [2 ** -17, 3 * 2 ** -17, 5 * 2 ** -16, 15.5 * 2 ** -16, 16.5 * 2 ** -16, 0.5])
      expectWithin(cFromTable(u, even, 0), u, rounding)
  })
  test('a dark cell holds nothing: light begins at its end', () => {
    const dark = packTable(Float64Array.of(0, 0.5, 1), Float64Array.of(0, 0, 4)).packed
    for (const u of [2 ** -25, 0.01, 0.64]) expectWithin(cFromTable(u, dark, 0), 0.5 + Math.sqrt(u) / 2, rounding)
  })
  test('beyond the light, where all is dark: the end of the cell', () => {
    const spot = packTable(Float64Array.of(0, 0.5, 1), Float64Array.of(2, 2, 0)).packed
    expect(cFromTable(1 - 2 ** -25, spot, 0)).toBeLessThanOrEqual(1)
    // A cell of its own that holds no light at all, met at its share exactly.
    const none = Float32Array.from([2, GUIDE, 0.25, 0.75, 0, 0, 0, 1, 0, 0, ...new Array<number>(GUIDE).fill(0)])
    expect(cFromTable(0.5, none, 0)).toBe(0.75)
    none[2 + 2 * 2] = 0.5
    expect(cFromTable(0.5, none, 0)).toBe(0.75)
  })
  test('a share that rounding has put above the draw: the cell’s begin', () => {
    const late = packTable(C, I).packed
    late[2 + 2 * 4] = 0.01 // the first share, 0 by rights
    expect(cFromTable(0.005, late, 0)).toBe(0)
  })
})

describe('density and share of a table', () => {
  test('I/(2π ∫ I dc), straight between nodes, 0 beyond', () => {
    const table = packTable(C, I)
    for (const [c, i] of [
      [0, 4],
      [0.1, 4],
      [0.25, 4],
      [0.375, 2],
      [0.4375, 1],
      [0.75, 1],
      [0.9, 1.6],
    ] as const)
      expectWithin(densityOfTable(thetaOf(c), table), i / (4 * Math.PI), rounding)
    expect(densityOfTable(1.6, table)).toBe(0)
    // θ whose c is 1 in doubles is hard to meet: a table that ends at θ = 0.5's own c.
    const end = 2 * Math.sin(0.25) ** 2
    const short = packTable(Float64Array.of(0, end), Float64Array.of(1, 3))
    expectWithin(densityOfTable(0.5, short), 3 / (2 * Math.PI * 2 * end), rounding)
    expect(densityOfTable(0.5000001, short)).toBe(0)
  })
  test('light inside θ', () => {
    const table = packTable(C, I)
    for (const [c, u] of [
      [0, 0],
      [0.125, 0.25],
      [0.25, 0.5],
      [0.375, 0.6875],
      [0.5, 0.75],
      [0.75, 0.8125],
      [1, 1],
      [1.5, 1],
    ] as const)
      expectWithin(uFromTable(thetaOf(c), table), u, rounding)
  })
})

describe('a table from a profile', () => {
  test('equal steps of θ, corners between, in order; negative light is none', () => {
    const made = tableFromProfile((t) => 1 - t, 1.2, [-0.1, 0, 0.45, 1.2, 2, 0.1], 3)
    const thetas = [0, 0.1, 0.4, 0.45, 0.8, 1.2]
    expect(made.c.length).toBe(thetas.length)
    for (const [i, theta] of thetas.entries()) {
      expectWithin(made.c[i]!, 1 - Math.cos(theta), rounding)
      expectWithin(made.intensity[i]!, theta > 1 ? 0 : 1 - theta, rounding)
    }
    let weight = 0
    for (let i = 1; i < 6; i++)
      weight += ((made.intensity[i]! + made.intensity[i - 1]!) / 2) * (made.c[i]! - made.c[i - 1]!)
    expectWithin(made.weight, weight, rounding)
    expect(tableFromProfile(() => 1, 1).c.length).toBe(769)
    // Corners so close to another node that 1 − cosθ is the same at both: one node, no slope of 0/0.
    const close = tableFromProfile((t) => (t > 0 ? 1e6 : 1), 1, [1e-300, 0.5 + 1e-15, 1 - 1e-16], 4)
    expect(close.c.length).toBe(5)
    expect(close.packed.every(Number.isFinite)).toBe(true)
  })
})
