// Each sampler: drawing follows the density, the density integrates to 1, and the inverse undoes the drawing.
import { describe, expect, test } from 'vitest'
import type { Profile } from '../../src/lamp/schema.ts'
import { gaussLegendre, integrate } from '../../src/num/quadrature.ts'
import { seededRandom } from '../../src/num/rng.ts'
import {
  cFromTable,
  cosFromPower,
  densityOfPower,
  densityOfTable,
  powerFromFwhm,
  tableFromProfile,
  uFromPower,
  uFromTable,
} from '../../src/optics/profiles.ts'
import { profileTable } from '../../src/scene/profileRows.ts'
import { amount } from '../kit/amount.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'

const RAD = Math.PI / 180
const STEPS = amount(400, 2000)
const DRAWS = amount(250_000, 1_000_000)

interface Sampler {
  thetaOf: (u: number) => number
  density: (theta: number) => number
  uOf: (theta: number) => number
  last: number
  /** How close drawing and undoing lie. */
  undo: number
}

function power(fwhmDeg: number): Sampler {
  const m = powerFromFwhm(fwhmDeg * RAD)
  return {
    thetaOf: (u) => Math.acos(cosFromPower(u, 1 / (m + 1))),
    density: (t) => densityOfPower(t, m),
    uOf: (t) => uFromPower(t, m),
    last: Math.PI / 2,
    undo: 1e-9 * (m + 1),
  }
}

function table(profile: Extract<Profile, { kind: 'gaussian' | 'table' }>): Sampler {
  const t = profileTable(profile)
  return {
    thetaOf: (u) => {
      const c = cFromTable(u, t.packed, 0)
      return 2 * Math.asin(Math.sqrt(c / 2))
    },
    density: (theta) => densityOfTable(theta, t),
    uOf: (theta) => uFromTable(theta, t),
    last: 2 * Math.asin(Math.sqrt(t.c[t.c.length - 1]! / 2)),
    undo: 2e-6, // single precision of the shares
  }
}

const SAMPLERS: [string, Sampler][] = [
  ['cosine power, 120°', power(120)],
  ['cosine power, 15°', power(15)],
  ['cosine power, 160°', power(160)],
  ['Gaussian, 12°', table({ kind: 'gaussian', fwhmDeg: 12 })],
  ['Gaussian, 90°', table({ kind: 'gaussian', fwhmDeg: 90 })],
  [
    'table with a corner and a dark ring',
    table({ kind: 'table', thetaDeg: [0, 10, 11, 20, 40, 60], intensity: [1, 2, 0, 0, 3, 0] }),
  ],
  ['table of a single hump off the axis', table({ kind: 'table', thetaDeg: [20, 22, 24], intensity: [0, 1, 0] })],
]

describe.each(SAMPLERS)('%s', (_, { thetaOf, density, uOf, last, undo }) => {
  test('the density integrates to 1', () => {
    const rule = gaussLegendre(8)
    let sum = 0
    const parts = 4000
    for (let i = 0; i < parts; i++) {
      sum += integrate(
        (t) => 2 * Math.PI * Math.sin(t) * density(t),
        (i * last) / parts,
        ((i + 1) * last) / parts,
        rule,
      )
    }
    expectWithin(sum, 1, { abs: 1e-6, because: 'corners inside the parts' })
  })

  test('undo(draw(u)) = u', () => {
    for (let i = 1; i < STEPS; i++) {
      const u = i / STEPS
      expectWithin(uOf(thetaOf(u)), u, { abs: undo, because: 'rounding; single precision in tables' })
    }
  })

  test('draws follow the density: χ² at 1 %', () => {
    // Cells of equal chance would follow from the inverse: take equal steps of θ, joined where little falls.
    const cells = 60
    const edges: number[] = [0]
    const shares: number[] = []
    const shareTo = (theta: number) => {
      const u = uOf(Math.min(theta, last))
      return thetaOf(0.1) < thetaOf(0.9) ? u : 1 - u
    }
    let below = 0
    for (let i = 1; i <= cells; i++) {
      const edge = i === cells ? last + 1e-9 : (i * last) / cells
      const to = i === cells ? 1 : shareTo(edge)
      if ((to - below) * DRAWS < 50 && i < cells) continue
      edges.push(edge)
      shares.push(to - below)
      below = to
    }
    if (shares[shares.length - 1]! * DRAWS < 50) {
      const tail = shares.pop()!
      shares[shares.length - 1]! += tail
      edges.splice(edges.length - 2, 1)
    }
    const counts = new Float64Array(shares.length)
    const random = seededRandom(11)
    const cosEdges = edges.map(Math.cos)
    for (let i = 0; i < DRAWS; i++) {
      const cos = Math.cos(thetaOf(random()))
      let [low, high] = [0, shares.length - 1]
      while (low < high) {
        const mid = (low + high + 1) >> 1
        if (cosEdges[mid]! >= cos) low = mid
        else high = mid - 1
      }
      counts[low]!++
    }
    expectShares(counts, shares)
  })
})

test('a table’s inverse is in order and ends at its ends', () => {
  const t = tableFromProfile((x) => Math.cos(x) ** 3, Math.PI / 2)
  let last = -1
  for (let i = 0; i < 4096; i++) {
    const c = cFromTable((i + 0.5) / 4096, t.packed, 0)
    expect(c).toBeGreaterThanOrEqual(last)
    last = c
  }
  expect(cFromTable(2 ** -25, t.packed, 0)).toBeLessThan(1e-6)
  expectWithin(cFromTable(1 - 2 ** -25, t.packed, 0), 1, {
    abs: 0.03,
    because: 'cos⁴ of the last 3e-8 is 0.013 of a right angle',
  })
})
