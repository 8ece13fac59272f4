// Foci planted at random must all be found, where they are and as hot as they are.
import { describe, expect, test } from 'vitest'
import { type Focus, searchFoci } from '../../src/hazard/foci.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { rayColumns } from '../../src/run/exits.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { direction, drawnRun, gaussianTheta, onDisc } from '../kit/handRun.ts'

const RAD = Math.PI / 180
const FRONT = 1000
const WATTS = 100
const DISC = 10
const EVEN_RAYS = amount(40_000, 100_000)

interface Planted {
  x: number
  y: number
  d: number
  share: number
  /** Radius of the spot at its waist. */
  spotMm: number
  /** Part of the aperture that its light comes from. */
  from: (u: number, v: number) => [number, number]
}

/** Shares of the light aim at the foci; the rest is a beam of 5°. */
function plantedRun(seed: number, foci: readonly Planted[], rays: number) {
  return drawnRun({
    rays,
    seed,
    emittedLm: WATTS * 300,
    draw: (u) => {
      let left = u(4)
      for (const f of foci) {
        if (left < f.share) {
          const [x, y] = f.from(u(0), u(1))
          const [sx, sy] = onDisc(u(2), u(3), f.spotMm)
          return { fate: 'delivered', at: [x, y, FRONT], towards: [f.x + sx - x, f.y + sy - y, f.d] }
        }
        left -= f.share
      }
      const [x, y] = onDisc(u(0), u(1), 150)
      return {
        fate: 'delivered',
        at: [x, y, FRONT],
        towards: direction(gaussianTheta(u(2), 5 * RAD), 2 * Math.PI * u(3)),
      }
    },
  })
}

const wholeAperture = (u: number, v: number) => onDisc(u, v, 150)
const find = (run: ReturnType<typeof plantedRun>) => runToEnd(searchFoci(rayColumns(run, FRONT), { discMm: DISC }))
const nearest = (found: readonly Focus[], f: Planted) => [...found].sort((a, b) => away(a, f) - away(b, f))[0] ?? null
const away = (a: Focus, f: Planted) => Math.hypot(a.xMm - f.x, a.yMm - f.y, a.zMm - FRONT - f.d)

function expectFound(found: readonly Focus[], f: Planted, others: readonly Planted[]) {
  const hit = nearest(found, f)
  expect(hit, `nothing found near ${JSON.stringify(f)}`).not.toBeNull()
  expectWithin(away(hit!, f), 0, { abs: 2, because: 'the brief of the search: 2 mm in space' })
  // What the 5° beam adds on its axis, and the cones of the other foci: as a share of this one.
  const s2 = (5 * RAD) ** 2 / (8 * Math.LN2)
  const restW = WATTS * (1 - [f, ...others].reduce((sum, o) => sum + o.share, 0))
  const beam = (restW / (2 * Math.PI * (75 ** 2 / 2 + s2 * f.d ** 2))) * 1000
  const own = ((f.share * WATTS) / (Math.PI * 25)) * 1000
  const cones = others.map((o) => ((o.share * WATTS) / (Math.PI * (5 + (150 / o.d) * Math.abs(o.d - f.d)) ** 2)) * 1000)
  const added = beam + cones.reduce((a, b) => a + b, 0)
  expect(hit!.kWm2).toBeGreaterThan(0.95 * own)
  expect(hit!.kWm2).toBeLessThan(1.05 * (own + added))
}

/** Far enough apart to be two: three discs across. */
function scattered(seed: number, count: number): Planted[] {
  const random = seededRandom(seed * 7919)
  const out: Planted[] = []
  while (out.length < count) {
    const f = {
      x: 200 * (random() - 0.5),
      y: 200 * (random() - 0.5),
      d: 120 * (1700 / 120) ** random(),
      share: 0.05 + 0.1 * random(),
      spotMm: 1 + 3 * random(),
      from: wholeAperture,
    }
    if (out.every((o) => Math.hypot(o.x - f.x, o.y - f.y) > 3 * DISC)) out.push(f)
  }
  return out
}

describe('a planted focus', () => {
  test.each(seeds(amount(2, 12)))('alone, anywhere, seed %i', (seed) => {
    const [f] = scattered(seed, 1)
    const found = find(plantedRun(seed, [f!], 80_000))
    expectFound(found, f!, [])
    expect(found.length).toBe(1)
  })
  test.each(seeds(amount(1, 10)))('each of three in one beam, seed %i', (seed) => {
    const foci = scattered(seed + 100, 3)
    const found = find(plantedRun(seed, foci, 120_000))
    for (const f of foci)
      expectFound(
        found,
        f,
        foci.filter((o) => o !== f),
      )
    expect(found.length).toBe(3)
  })
})

test('the images of a row of seven emitters, each through a part of the aperture of its own, beyond the focal distance', () => {
  const row: Planted[] = Array.from({ length: 7 }, (_, k) => ({
    x: 28 * (k - 3),
    y: 12,
    d: 1400,
    share: 0.03,
    spotMm: 3,
    from: (u: number, v: number) => {
      const [x, y] = onDisc(u, v, 60)
      return [x - 22 * (k - 3), y]
    },
  }))
  const found = find(plantedRun(3, row, 200_000))
  expect(found.length).toBe(7)
  for (const f of row)
    expectWithin(away(nearest(found, f)!, f), 0, { abs: 8, because: 'a slender cone, 1 in 23: in depth less sure' })
  for (const f of row) {
    const hit = nearest(found, f)!
    expectWithin(Math.hypot(hit.xMm - f.x, hit.yMm - f.y), 0, { abs: 2, because: 'across' })
  }
})

test('a wide focus, of nine discs across, is found as one, with its hottest disc', () => {
  const wide: Planted = { x: 20, y: -30, d: 600, share: 0.7, spotMm: 38, from: wholeAperture }
  const found = find(plantedRun(5, [wide], amount(40_000, 100_000)))
  expect(found.length).toBe(1)
  const [hit] = found
  expectWithin(Math.hypot(hit!.xMm - wide.x, hit!.yMm - wide.y), 0, { abs: 38, because: 'anywhere on its flat top' })
  expectWithin(hit!.distanceMm, wide.d, { abs: 132, because: 'its middle stays as hot over ±(38 − 5)/0.25 mm' })
  expect(hit!.kWm2).toBeGreaterThan((0.9 * 70 * 1000) / (Math.PI * 38 ** 2))
})

test('an even beam has no focus, nor has light that is strongest at the front', () => {
  expect(find(plantedRun(9, [], EVEN_RAYS))).toEqual([])
  const spread = drawnRun({
    rays: EVEN_RAYS,
    emittedLm: WATTS * 300,
    draw: (u) => ({
      fate: 'delivered',
      at: [...onDisc(u(0), u(1), 20), FRONT],
      towards: direction(gaussianTheta(u(2), 40 * RAD), 2 * Math.PI * u(3)),
    }),
  })
  expect(runToEnd(searchFoci(rayColumns(spread, FRONT), { discMm: DISC }))).toEqual([])
})

test('no light, no focus', () => {
  expect(find(drawnRun({ rays: 160, draw: () => ({ fate: 'wall' }) }))).toEqual([])
})
