// Whole danger sheets of lamps small enough for a pencil. Derived: geometry, Lambert's law, radiance conserved by a lens; CODATA and CIE constants.

import { describe, expect, test, vi } from 'vitest'
import { coveredC, steadyTemperatureC } from '../../src/hazard/balance.ts'
import { layersOf } from '../../src/hazard/inTheWay.ts'
import { VERY_CLEAR_WM2 } from '../../src/hazard/solar.ts'
import { dangerInNode } from '../../src/job/danger/node.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { MATERIALS } from '../../src/library/thresholds.ts'
import { T95 } from '../../src/num/stats.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter } from '../kit/traceHere.ts'

// A machine with other work takes its time.
vi.setConfig({ testTimeout: 240_000 })

const read = (lamp: Lamp, maxRays: number, tiltsDeg: number[] = [0]) =>
  dangerInNode(lamp, { seed: 2, maxRays, threads: 0, sunRays: 16_384, tiltsDeg, rough: true })
const upper = (s: { kWm2: number; se: number }) => s.kWm2 + T95 * s.se
const LM_PER_W = 683.002

test('a disc at twice the focal distance: its image as far behind the lens, as large, with πL sin²u', async () => {
  // 1/200 + 1/200 = 1/100. 30,000 lm of 555 nm from a disc of 20 mm; the lens of 80 mm is seen under tan u = 40/200 from object and image.
  const lens = { kind: 'ideal', zMm: 200, focalMm: 100, diameterMm: 80 } as const
  const d = await read(
    oneEmitter({ source: { shape: 'disc', diameterMm: 20 }, fluxLm: 30_000, lens }),
    amount(65_536, 600_000),
  )
  const lit = (tan: number) => ((30_000 / LM_PER_W) * (tan * tan)) / (1 + tan * tan) / (Math.PI * 0.01 ** 2) / 1000
  const byHand = lit(40 / 200)
  expectWithin(byHand, 5.377, { abs: 0.001, because: 'with pencil' })
  const [focus, ...others] = d.foci
  expect(others).toEqual([])
  // Up to 10 · 200/(40 + 10) = 40 mm before the image every ray through a point of the axis still ends on the image: there the lens is seen
  // under 40/160 and it is hotter than the image itself. Somewhere between is the hottest disc of 10 mm.
  expect(focus!.zMm).toBeGreaterThan(360 - 5)
  expect(focus!.zMm).toBeLessThan(400)
  expectWithin(Math.hypot(focus!.xMm, focus!.yMm), 0, { abs: 5, because: 'anywhere on its flat top' })
  expect(upper(focus!)).toBeGreaterThan(byHand)
  expect(upper(focus!)).toBeLessThan(lit(40 / 160))
  // More than 50 mm past the image a point of the axis sees all of it: E = πL r²/(p² + r²), L = Φ/(π² r²), is 1 kW/m² at p = 117.8 mm.
  const piL = 30_000 / LM_PER_W / (Math.PI * 0.01 ** 2)
  const past = Math.sqrt((piL * 10 ** 2) / 1000 - 10 ** 2)
  expectWithin(past, 117.8, { abs: 0.1, because: 'with pencil' })
  const skin = d.clear.find((c) => c.id === 'skin')!
  expect(skin.clearDistanceMm).toBeGreaterThan(200 + 0.99 * past)
  expectWithin(skin.clearDistanceMm, 200 + past, { rel: 0.08, because: 'upper end, and the curve’s next plane' })
  // Nothing there is cooler than its balance by hand.
  for (const t of d.things)
    if (t.settlesC !== null) {
      const free = steadyTemperatureC({ takenKWm2: t.kWm2, ambientC: 20 })
      expect(t.settlesC).toBeCloseTo(layersOf(t) === 2 ? coveredC(t.kWm2, 20, 2) : free, 6)
      expect(t.settlesC).toBeGreaterThan(free - 1e-6)
    }
})

test('the sun through an ideal lens of 80 mm and 200 mm: 5.53 W on a spot of 1.86 mm, off by f tan of the tilt', async () => {
  const lens = { kind: 'ideal', zMm: 200, focalMm: 200, diameterMm: 80 } as const
  // Lamp off: its own light is not searched.
  const lamp = oneEmitter({ lens, faceSizeMm: 90 })
  const d = await read({ ...lamp, boards: lamp.boards.map((b) => ({ ...b, currentA: 0 })) }, 16_000, [0, 5])
  const watts = VERY_CLEAR_WM2 * Math.PI * 0.04 ** 2
  const byHand = watts / (Math.PI * 0.005 ** 2) / 1000
  expectWithin(byHand, 70.4, { abs: 1e-9, because: '(80/10)² times the sun of a very clear day, 1.1 kW/m²' })
  const at = (tiltDeg: number) => d.sunMap.filter((p) => p.tiltDeg === tiltDeg)
  expectWithin(upper(at(0)[0]!), byHand, { rel: 0.05, because: 'cells of the face’s map, upper end' })
  expect(upper(at(0)[0]!)).toBeGreaterThan(0.99 * byHand)
  for (const p of at(5)) {
    expectWithin(Math.hypot(p.xMm, p.yMm), 200 * Math.tan((5 * Math.PI) / 180), { abs: 2, because: 'cells' })
    expectWithin(upper(p), byHand * Math.cos((5 * Math.PI) / 180), { rel: 0.06, because: 'cells, upper end' })
  }
  expectWithin(d.bareLens!.focusMm, 200, { abs: 12, because: 'the disc of 10 mm holds it over ±(10 − 1.9)/2/0.4 mm' })
  expectWithin(d.bareLens!.kWm2, byHand, { rel: 0.05, because: 'upper end' })
  // Row 2.58: 1.860980 mm for a half angle of 0.266564°; here 0.2666°.
  expectWithin(d.bareLens!.sunImageMm, 1.86098, { rel: 2e-4, because: 'the half angle’s rounding' })
  expectWithin(d.bareLens!.mmPerMinute, (200 * Math.PI) / 720, { rel: 0.06, because: 'from the found focus' })
})

test('cos^m of 10°: axial W/sr over distance squared', async () => {
  // Row 1.25: m = 181.8062; I = Φ (m + 1)/(2π).
  const d = await read(oneEmitter({ profile: { kind: 'cosine', fwhmDeg: 10 }, fluxLm: 3_000 }), amount(32_768, 260_000))
  const wPerSr = ((3_000 / LM_PER_W) * 182.8062) / (2 * Math.PI)
  for (const mm of [1000, 3000]) {
    const got = d.harm.find((h) => h.distanceMm === mm)!.kWm2
    const byHand = wPerSr / (mm / 1000) ** 2 / 1000
    expect(got).toBeGreaterThan(0.99 * byHand)
    expectWithin(got, byHand, { rel: 0.4, because: 'upper end of a hundred rays in a disc of 10 mm' })
  }
})

describe('blue light of known radiance', () => {
  test('450 nm, 400,000 W/m²sr weighted, a disc of 10 mm: 10 s at 1.82 m, 100 s at 5.75 m', async () => {
    // B(450) = 0.94 (row 4.56). Over 11 mrad the disc is diluted beyond 10/0.011 mm, as (0.909 m/r)²; 10⁶ J/m²sr is reached after
    // t = 10⁶/(4·10⁵ (0.909/r)²).
    const watts = (4e5 / 0.94) * Math.PI * Math.PI * 0.005 ** 2
    const d = await read(
      oneEmitter({
        source: { shape: 'disc', diameterMm: 10 },
        spectrum: { kind: 'mono', wavelengthNm: 450 },
        fluxLm: watts * 25.954,
      }),
      amount(16_384, 130_000),
    )
    expectWithin(d.eye!.source.blueWm2sr, 4e5, { rel: 0.01, because: 'V(450) and B(450) as printed' })
    const { metres } = d.eye!.distances[0]!
    for (const [got, byHand] of [
      [metres.tenSeconds, (0.01 / 0.011) * Math.sqrt(4)],
      [metres.hundredSeconds, (0.01 / 0.011) * Math.sqrt(40)],
    ] as const) {
      expect(got).toBeGreaterThan(0.98 * byHand)
      // A step of 1.3 farther at the most; by few rays 15 pass the pupil at 7.9 m, for which Garwood's limit (1936) is 24.7: √1.65 = 1.28 of the distance more, and the place is the fullest of many.
      expect(got, `by hand ${byHand}`).toBeLessThan(amount(1.9, 1.6) * byHand)
    }
  })
})

test('black plastic softens from where a black surface settles at 76 °C: 0.66 kW/m² by hand', () => {
  const byHand = (0.9 * 5.670374419e-8 * (349.15 ** 4 - 293.15 ** 4) + 5 * 56) / 1000
  expectWithin(byHand, 0.6615, { abs: 1e-4, because: 'with pencil' })
  expect(MATERIALS['black-plastic'].kWm2).toBeLessThanOrEqual(byHand)
  expect(MATERIALS['black-plastic'].kWm2).toBeGreaterThan(0.99 * byHand)
})
