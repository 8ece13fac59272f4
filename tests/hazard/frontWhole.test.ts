// What no reading of the front may ever say: that more light is safer, or that it gets worse again beyond the last focus.
import { describe, expect, test } from 'vitest'
import type { Focus } from '../../src/hazard/foci.ts'
import { clearDistanceMm, type Front, irradianceAt } from '../../src/hazard/front.ts'
import { addFoci, makeTailMonotone } from '../../src/hazard/frontWhole.ts'
import { readHarmAt } from '../../src/hazard/inTheWay.ts'
import { MATERIAL_IDS } from '../../src/lamp/danger.ts'
import { thresholds } from '../../src/library/thresholds.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { T95 } from '../../src/num/stats.ts'
import { amount } from '../kit/amount.ts'
import { seeds } from '../kit/expect.ts'

/** A curve with noise that grows with the distance, as few rays make it; and foci somewhere. */
function noisy(seed: number): { front: Front; foci: Focus[] } {
  const random = seededRandom(seed * 131)
  const curve = Array.from({ length: 40 }, (_, k) => {
    const distanceMm = 10 * 1.22 ** k
    const kWm2 = (30 / (1 + (distanceMm / 800) ** 2)) * (1 + 0.6 * (random() - 0.5))
    return { distanceMm, kWm2, se: 0.05 * kWm2 * (1 + 4 * random()), discMm: 10 }
  })
  const foci = Array.from({ length: 3 }, (): Focus => {
    const distanceMm = 100 + 2000 * random()
    const kWm2 = 5 + 60 * random()
    return { distanceMm, kWm2, se: 0.5, xMm: 0, yMm: 0, zMm: 1000 + distanceMm, discMm: 10, coneHalfRad: 0.1 }
  }).sort((a, b) => b.kWm2 - a.kWm2)
  return { front: { worst: null, curve }, foci }
}

const brighter = (front: Front, factor: number): Front => ({
  ...front,
  curve: front.curve.map((p) => ({ ...p, kWm2: p.kWm2 * factor, se: p.se * factor })),
})

describe.each(seeds(amount(4, 12)))('seed %i', (seed) => {
  const { front, foci } = noisy(seed)
  const whole = makeTailMonotone(addFoci(front, foci), foci)
  const last = Math.max(...foci.map((f) => f.distanceMm))
  const table = thresholds(undefined)

  test('beyond the last focus it never gets worse with the distance', () => {
    const hottest = whole.curve.reduce((a, b) => (b.kWm2 + T95 * b.se > a.kWm2 + T95 * a.se ? b : a))
    let before = Number.POSITIVE_INFINITY
    const sooner = new Map(MATERIAL_IDS.map((id) => [id, 0]))
    for (let d = Math.max(last, hottest.distanceMm) + 1; d < 100_000; d *= 1.07) {
      const { kWm2, seconds } = readHarmAt(whole, d, table, 20)
      expect(kWm2).toBeLessThanOrEqual(before * (1 + 1e-12))
      before = kWm2
      for (const id of MATERIAL_IDS) {
        const now = seconds[id] ?? Number.POSITIVE_INFINITY
        expect(now).toBeGreaterThanOrEqual(sooner.get(id)! * (1 - 1e-9))
        sooner.set(id, now)
      }
    }
  })
  test('every focus is on the curve, as hot as it is', () => {
    for (const f of foci)
      expect(irradianceAt(whole, f.distanceMm)).toBeGreaterThanOrEqual((f.kWm2 + T95 * f.se) * (1 - 1e-9))
  })
  test('no figure is below what was read', () => {
    for (const p of front.curve) {
      const here = whole.curve.find((q) => q.distanceMm === p.distanceMm)!
      expect(here.kWm2 + T95 * here.se).toBeGreaterThanOrEqual(p.kWm2 + T95 * p.se - 1e-12)
    }
  })
  test('more light never makes a clear distance shorter nor a time longer', () => {
    for (const { id, kWm2 } of table) {
      let distance = 0
      let time = Number.POSITIVE_INFINITY
      for (let factor = 0.05; factor < 30; factor *= 1.4) {
        const bright = brighter(whole, factor)
        const clear = clearDistanceMm(bright, kWm2)
        expect(clear, `${id} × ${factor}`).toBeGreaterThanOrEqual(distance * (1 - 1e-12))
        distance = clear
        const seconds = readHarmAt(bright, 300, table, 20).seconds[id] ?? Number.POSITIVE_INFINITY
        expect(seconds).toBeLessThanOrEqual(time)
        time = seconds
      }
    }
  })
  test('beyond the clear distance the light stays below the threshold', () => {
    for (const { kWm2 } of table) {
      const clear = clearDistanceMm(whole, kWm2)
      for (let d = Math.max(1, clear * 1.0001); d < 200_000; d *= 1.3)
        expect(irradianceAt(whole, d)).toBeLessThanOrEqual(kWm2 * (1 + 1e-9))
    }
  })
})
