import { describe, expect, test } from 'vitest'
import { clearDistanceMm, FIRST_SHEET_OPTIONS, irradianceAt, readFront } from '../../src/hazard/front.ts'
import { readRisks } from '../../src/hazard/risks.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { mean, standardError, T95 } from '../../src/num/stats.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { direction, drawnRun, gaussianTheta, HAND_LM_PER_W, onDisc } from '../kit/handRun.ts'

const RAD = Math.PI / 180
const FRONT = 1000

/** A share of the light from a disc of 300 mm aims at a disc of radius `spotMm` about the focus; the rest is a 5° beam. */
function planted(seed: number, share: number, spotMm: number, rays = amount(60_000, 120_000)) {
  const random = seededRandom(seed * 977)
  const focus = { x: 160 * (random() - 0.5), y: 160 * (random() - 0.5), d: 150 + 1500 * random() }
  const run = drawnRun({
    rays,
    seed,
    emittedLm: 30_000,
    draw: (u) => {
      const [x, y] = onDisc(u(0), u(1), 150)
      const at: [number, number, number] = [x, y, FRONT]
      if (u(4) < share) {
        const [sx, sy] = onDisc(u(2), u(3), spotMm)
        return { fate: 'delivered', at, towards: [focus.x + sx - x, focus.y + sy - y, focus.d] }
      }
      return { fate: 'delivered', at, towards: direction(gaussianTheta(u(2), 5 * RAD), 2 * Math.PI * u(3)) }
    },
  })
  return { run, focus }
}

describe('a planted focus', () => {
  test.each(seeds(amount(2, 6)))('is found where it is and as hot as it is, seed %i', (seed) => {
    const { run, focus } = planted(seed, 0.25, 4)
    const { worst } = readFront(run, FRONT, { discMm: 10 })
    expect(worst).not.toBeNull()
    expectWithin(Math.hypot(worst!.xMm - focus.x, worst!.yMm - focus.y), 0, {
      abs: 2,
      because: 'the brief of the search',
    })
    // The cone holds its spot inside the disc over a depth of some (5 − 4)/150 of its length.
    expectWithin(worst!.zMm - FRONT, focus.d, { rel: 0.03, because: 'few % of the cone depth' })
    // 25 W of 100 in a disc of 10 mm, and what the rest of the beam adds there.
    expectWithin(worst!.kWm2, (25 / (Math.PI * 25)) * 1000, { rel: 0.05, because: 'the rest adds little' })
    expect(worst!.se).toBeLessThan(0.03 * worst!.kWm2)
  })
  test('is found with few rays and a weak share, within the stated error', () => {
    const { run, focus } = planted(21, 0.06, 4, 30_000)
    const { worst } = readFront(run, FRONT, { discMm: 10 })
    expectWithin(Math.hypot(worst!.xMm - focus.x, worst!.yMm - focus.y), 0, { abs: 3, because: 'fewer rays' })
    expectWithin(worst!.kWm2, (6 / (Math.PI * 25)) * 1000, { sigmas: 4, se: worst!.se + 1 })
  })
  test('a spot of exactly known size is averaged over the wanted disc', () => {
    const { run } = planted(5, 0.5, 10)
    const { worst } = readFront(run, FRONT, { discMm: 20 })
    expectWithin(worst!.kWm2, (50 / (Math.PI * 100)) * 1000, { rel: 0.05, because: 'spot and disc alike' })
  })
})

describe('the first sheet, on few rays', () => {
  const TRUE_KWM2 = (25 / (Math.PI * 25)) * 1000
  test.each(seeds(amount(3, 8)))('sees a planted focus and says no less than it is, seed %i', (seed) => {
    const { run, focus } = planted(seed, 0.25, 4)
    const { worst, curve } = readFront(run, FRONT, { discMm: 10, ...FIRST_SHEET_OPTIONS })
    expectWithin(worst!.zMm - FRONT, focus.d, { rel: 0.06, because: 'fewer planes about the best one' })
    // What decides is the upper end of ±.
    expect(worst!.kWm2 + T95 * worst!.se).toBeGreaterThan(0.95 * TRUE_KWM2)
    expectWithin(worst!.kWm2, TRUE_KWM2, { sigmas: 4, se: worst!.se })
    const whole = readFront(run, FRONT, { discMm: 10 })
    expect(worst!.se).toBeGreaterThan(whole.worst!.se)
    expect(curve.length).toBeGreaterThan(20)
  })
})

describe('even light', () => {
  const even = drawnRun({
    rays: 100_000,
    emittedLm: 30_000,
    draw: (u) => ({
      fate: 'delivered',
      at: [...onDisc(u(0), u(1), 150), FRONT],
      towards: direction(gaussianTheta(u(2), 5 * RAD), 2 * Math.PI * u(3)),
    }),
  })
  const front = readFront(even, FRONT, { discMm: 10 })
  test('is not made hotter by noise', () => {
    const true_ = (100 / (Math.PI * 150 * 150)) * 1000
    expect(front.worst!.kWm2).toBeGreaterThan(true_ * 0.9)
    expect(front.worst!.kWm2 - 3 * front.worst!.se).toBeLessThan(true_)
    // The hottest disc of noise alone would be near twice as hot.
    expect(front.worst!.kWm2).toBeLessThan(true_ * 1.6)
  })
  test('falls off with distance as the far field does', () => {
    // Radiant intensity on the axis: Φ / (2π s²).
    const s2 = (5 * RAD) ** 2 / (8 * Math.LN2)
    const intensity = 100 / (2 * Math.PI * s2)
    const far = front.curve.at(-1)!
    expectWithin(far.kWm2, (intensity / far.distanceMm ** 2) * 1000, { sigmas: 4, se: far.se + 0.001 })
    expect(irradianceAt(front, 2 * far.distanceMm)).toBeCloseTo((far.kWm2 + T95 * far.se) / 4, 6)
  })
  test('clear distance: the threshold holds beyond it and not before', () => {
    const d = clearDistanceMm(front, 0.5)
    expect(d).toBeGreaterThan(500)
    expect(irradianceAt(front, d * 1.001)).toBeLessThanOrEqual(0.5001)
    expect(clearDistanceMm(front, 1000)).toBe(0)
    expectWithin(
      clearDistanceMm(front, 1e-4),
      Math.sqrt((100 / (2 * Math.PI * ((5 * RAD) ** 2 / (8 * Math.LN2)))) * 1e7),
      {
        rel: 0.35,
        because: 'beyond the last plane the upper end goes on as 1/d²',
      },
    )
  })
})

test('no light, no spot and no risk', () => {
  const front = readFront(drawnRun({ rays: 160, draw: () => ({ fate: 'wall' }) }), FRONT, { discMm: 10 })
  expect(front.worst).toBeNull()
  expect(readRisks(front).every((r) => r.secondsAtWorst === null && r.clearDistanceMm === 0)).toBe(true)
})

test('risks: what stays below its critical irradiance never lights, the rest has seconds and a distance', () => {
  const { run } = planted(3, 0.5, 4)
  const front = readFront(run, FRONT, { discMm: 10 })
  const risks = readRisks(front)
  expect(risks[0]!.material).toMatch(/skin/)
  const of = (name: RegExp) => risks.find((r) => name.test(r.material))!
  expect(of(/Newspaper/).secondsAtWorst).toBeLessThan(1)
  expect(of(/Newspaper/).clearDistanceMm).toBeGreaterThan(of(/Polystyrene/).clearDistanceMm)
  const mild = { ...front, curve: front.curve.map((p) => ({ ...p, kWm2: p.kWm2 / 50, se: 0 })) }
  expect(readRisks(mild).find((r) => /Polystyrene/.test(r.material))!.secondsAtWorst).toBeNull()
})

test('a limit of 0, where the air alone is too warm for a material: as far as was searched, not without an end', () => {
  const at = (distanceMm: number, kWm2: number) => ({ distanceMm, kWm2, se: 0, discMm: 10 })
  const front = { worst: null, curve: [at(1, 8), at(1000, 2), at(60_000, 0.1)] }
  expect(clearDistanceMm(front, 0)).toBe(60_000)
  expectWithin(clearDistanceMm(front, 0.025), 120_000, { rel: 1e-12, because: 'inverse-square law' })
})

test('even light is no hotter for all the places that it has', () => {
  // A parallel beam, spread by 1° about its axis: just before the front 3.33 W on a disc of 300 mm, further on less. A disc of 10 mm takes 16 of
  // 15,000 rays, so that of the 900 discs there some hold half as many again.
  const even = (1000 / HAND_LM_PER_W / (Math.PI * 150 ** 2)) * 1e3
  const found = seeds(12).map((seed) => {
    const run = drawnRun({
      rays: 15_000,
      seed,
      shape: { fineHalfRad: 8 * RAD },
      draw: (u) => ({
        fate: 'delivered',
        at: [...onDisc(u(2), u(3), 150), FRONT],
        towards: direction(gaussianTheta(u(0), 1 * RAD), 2 * Math.PI * u(1)),
      }),
    })
    return readFront(run, FRONT, { discMm: 10, ...FIRST_SHEET_OPTIONS }).worst!
  })
  const values = found.map(({ kWm2 }) => kWm2 / even)
  expectWithin(mean(values), 1, { sigmas: 3, se: standardError(values) })
  expect(found.filter(({ kWm2, se }) => Math.abs(kWm2 - even) <= T95 * se).length).toBeGreaterThanOrEqual(11)
})
