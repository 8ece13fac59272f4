// Facets that collimate a point at the focus, f = 400, thickness neglected. Grooves away from the source: tan a = sin w/(√(n² − sin² w) − 1)
// (form in print), grooves to the source: tan a = sin w/(n − cos w); both follow from Snell's law, values derived.
import { describe, expect, test } from 'vitest'
import { fresnelMean } from '../../src/optics/interface.ts'
import { LEAVES_FLAT, LEAVES_WORKED } from '../../src/optics/records.ts'
import { slopeToSource, slopeToTarget } from '../../src/optics/slopes.ts'
import { expectWithin } from '../kit/expect.ts'
import { type Grooves, grooveTables, type LensTables, pass, passClean, rayAt } from '../kit/lensBench.ts'

const RAD = Math.PI / 180
const F = 400
const PITCH = 1

interface Row {
  n: number
  r: number
  w: number
  out: [number, number, number]
  in: [number, number, number]
}
const row = (n: number, r: number, w: number, out: Row['out'], into: Row['in']): Row => ({ n, r, w, out, in: into })
/** Slope, incidence on the facet, transmittance of two faces in a single pass. */
const ROWS: Row[] = [
  row(1.49, 50, 7.125, [14.3503, 9.5752, 0.92398], [13.9934, 21.1184, 0.92373]),
  row(1.49, 100, 14.0362, [27.2889, 17.9208, 0.92304], [25.0111, 39.0473, 0.9192]),
  row(1.49, 150, 20.556, [38.0855, 24.4554, 0.91946], [32.3818, 52.9378, 0.90117]),
  row(1.49, 250, 32.0054, [53.4739, 32.6373, 0.89798], [39.5411, 71.5465, 0.77827]),
  row(1.49, 300, 36.8699, [58.7663, 35.0202, 0.87906], [41.0091, 77.879, 0.65326]),
  row(1.49, 400, 45, [66.2234, 37.8922, 0.82853], [42.0883, 87.0883, 0.2422]),
  row(1.585, 100, 14.0362, [23.1833, 14.3814, 0.89961], [21.5272, 35.5634, 0.89678]),
  row(1.585, 250, 32.0054, [47.0272, 27.4921, 0.885], [35.721, 67.7264, 0.79732]),
]
const degrees = { abs: 6e-5, because: 'four printed decimals' }
const shares = { abs: 6e-6, because: 'five printed decimals' }

/** Rings of pitch 1 whose ring k has its middle at r: the ring that matters, its neighbours alike. */
function lensFor(r: number, slopeOf: (r: number) => number, over: Partial<Grooves> = {}): LensTables {
  const first = 0.5
  const rings = Math.round(r / PITCH - first) + 4
  return grooveTables({
    halfMm: rings * PITCH,
    thicknessMm: 0,
    pitchMm: PITCH,
    slopes: Array.from({ length: rings }, (_, k) => slopeOf((k + 0.5) * PITCH)),
    ...over,
  })
}

describe.each(ROWS)('n $n, r $r', ({ n, r, w, out, in: into }) => {
  const theta = Math.atan(r / F)
  test('angle at the source', () => expectWithin(theta / RAD, w, degrees))

  test('grooves to the target: slope, incidence, transmittance by Fresnel’s formulae', () => {
    const slope = slopeToTarget(r, F, 0, n)
    expectWithin(slope / RAD, out[0], degrees)
    const inside = Math.asin(Math.sin(theta) / n)
    expectWithin((slope - inside) / RAD, out[1], degrees)
    const t = (1 - fresnelMean(Math.cos(theta), 1, n)) * (1 - fresnelMean(Math.cos(slope - inside), n, 1))
    expectWithin(t, out[2], shares)
  })

  test('grooves to the source: the same', () => {
    const slope = slopeToSource(r, F, n)
    expectWithin(slope / RAD, into[0], degrees)
    expectWithin((slope + theta) / RAD, into[1], degrees)
    const t = (1 - fresnelMean(Math.cos(theta + slope), 1, n)) * (1 - fresnelMean(1, n, 1))
    expectWithin(t, into[2], shares)
  })

  // The traced ray meets the middle of a facet, half a pitch off a whole number: the ring at r − ½ or so.
  const middle = Math.floor(r) + 0.5
  const wAt = Math.atan(middle / F)

  test('traced, grooves to the target: leaves parallel to the axis, the share let through as in the table', () => {
    const lens = lensFor(middle, (at) => slopeToTarget(at, F, 0, n))
    const make = () => rayAt([middle, 0, 0], [middle, 0, F], n)
    const clean = passClean(lens, make, false, LEAVES_WORKED)
    expectWithin(Math.hypot(clean.towards[0], clean.towards[1]), 0, { abs: 1e-9, because: 'exact but for rounding' })
    const slope = slopeToTarget(middle, F, 0, n)
    const inside = Math.asin(Math.sin(wAt) / n)
    const t = (1 - fresnelMean(Math.cos(wAt), 1, n)) * (1 - fresnelMean(Math.cos(slope - inside), n, 1))
    expectDraws(lens, make, false, LEAVES_WORKED, t)
  })

  test('traced, grooves to the source: the same', () => {
    const lens = lensFor(middle, (at) => slopeToSource(at, F, n))
    // Just above the facet's middle: farther back on its way a steep ray has a riser before it.
    const slope = slopeToSource(middle, F, n)
    const z = 0.5 * PITCH * Math.tan(slope) + 1e-6
    const make = () => rayAt([middle, 0, z], [middle, 0, -F], n)
    const clean = passClean(lens, make, true, LEAVES_FLAT)
    expectWithin(Math.hypot(clean.towards[0], clean.towards[1]), 0, { abs: 1e-9, because: 'exact but for rounding' })
    const t = (1 - fresnelMean(Math.cos(wAt + slope), 1, n)) * (1 - fresnelMean(1, n, 1))
    expectDraws(lens, make, true, LEAVES_FLAT, t)
  })
})

/** Share of many draws that goes straight through. */
function expectDraws(lens: LensTables, make: () => Float64Array, worked: boolean, through: number, share: number) {
  const draws = 20_000
  let count = 0
  for (let i = 0; i < draws; i++) {
    const p = pass(lens, make(), worked, 7, i)
    if (p.outcome === through && !p.riser && Math.hypot(p.towards[0], p.towards[1]) < 1e-9) count++
  }
  expectWithin(count / draws, share, { sigmas: 3.5, se: Math.sqrt((share * (1 - share)) / draws) })
}

test('a lens with thickness: the ray through the middle of its facet leaves parallel to the axis', () => {
  const n = 1.49
  const t = 6
  const lens = lensFor(150.5, (at) => slopeToTarget(at, F, t, n), { thicknessMm: t })
  // Back from the valley plane: f tanθ + t tanθ' = r, by bisection.
  let [low, high] = [0, 1]
  for (let i = 0; i < 80; i++) {
    const mid = (low + high) / 2
    const reach = F * Math.tan(mid) + t * Math.tan(Math.asin(Math.sin(mid) / n))
    if (reach < 150.5) low = mid
    else high = mid
  }
  const clean = passClean(
    lens,
    () => rayAt([F * Math.tan(low), 0, -t], [Math.sin(low), 0, Math.cos(low)], n),
    false,
    LEAVES_WORKED,
  )
  expectWithin(Math.hypot(clean.towards[0], clean.towards[1]), 0, { abs: 1e-9, because: 'exact but for rounding' })
})

test('ring tables of single precision turn the ray by less than a microradian', () => {
  // sinα and cosα are each within 2⁻²⁴ relative: the normal is off by at most 6e-8 rad, the ray by (n cos i/cos e − 1) times that.
  const lens = lensFor(250.5, (at) => slopeToTarget(at, F, 0, 1.49))
  const single = { p: Float32Array.from(lens.p), rings: Float32Array.from(lens.rings) }
  const { towards } = passClean(single, () => rayAt([250.5, 0, 0], [250.5, 0, F], 1.49), false, LEAVES_WORKED)
  const off = Math.hypot(towards[0], towards[1])
  expect(off).toBeLessThan(5e-7)
})
