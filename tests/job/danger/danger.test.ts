// The danger sheet, whole, of small lamps whose dangers are known.
import { describe, expect, test } from 'vitest'
import { dangerInNode } from '../../../src/job/danger/node.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { T95 } from '../../../src/num/stats.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin } from '../../kit/expect.ts'
import { atAngle, oneEmitter } from '../../kit/traceHere.ts'

const read = (lamp: Lamp, maxRays: number, onStage?: Parameters<typeof dangerInNode>[2]) =>
  dangerInNode(lamp, { seed: 1, maxRays, threads: 0, sunRays: 4096, tiltsDeg: [0, 5], rough: true }, onStage)

describe('a row of three emitters before an ideal lens: images beyond the focal distance', () => {
  // 1/150 + 1/300 = 1/100: images at 300 mm behind the lens, twice as large and twice as far apart, upside down.
  const lamp = oneEmitter({
    source: { shape: 'disc', diameterMm: 1 },
    profile: { kind: 'cosine', fwhmDeg: 40 },
    sites: [-20, 0, 20].map((xMm) => ({ xMm, yMm: 3 })),
    lens: { kind: 'ideal', zMm: 150, focalMm: 100, diameterMm: 60 },
    fluxLm: 3000,
  })
  test('all three are found, where the lens formula has them and as hot as their watts', async () => {
    const d = await read(lamp, amount(32_768, 260_000))
    expect(d.foci.length).toBe(3)
    const xs = d.foci.map((f) => f.xMm).sort((a, b) => a - b)
    for (const [k, x] of [-40, 0, 40].entries()) expectWithin(xs[k]!, x, { abs: 2, because: 'the brief of the search' })
    for (const f of d.foci) {
      expectWithin(f.yMm, -6, { abs: 2, because: 'the brief' })
      expectWithin(f.zMm, 450, { abs: 2, because: 'the brief' })
      // All that the lens takes from one emitter falls into an image of 2 mm, well inside the disc.
      const cosine = Math.log(0.5) / Math.log(Math.cos((20 * Math.PI) / 180))
      const inside = 1 - Math.cos(Math.atan(30 / 150)) ** (cosine + 1)
      const watts = (3000 / 683.002) * inside
      // Off the axis the lens is a little smaller and farther: the middle one tells.
      if (Math.abs(f.xMm) < 5)
        expectWithin(f.kWm2, (watts / (Math.PI * 25)) * 1000, {
          rel: 0.05,
          because: '3 mm off the axis, and V(555 nm)',
        })
    }
    // Nothing is safer than the foci say, and the curve has them.
    expect(d.worstKWm2).toBeGreaterThanOrEqual(Math.max(...d.foci.map((f) => f.kWm2 + T95 * f.se)) * (1 - 1e-9))
    const paper = d.clear.find((c) => c.id === 'paper')!
    expect(paper.clearDistanceMm).toBeGreaterThan(300)
  })
})

test('a narrow lamp without lens: no focus, a distance for skin by the inverse square', async () => {
  const lamp = oneEmitter({ profile: { kind: 'gaussian', fwhmDeg: 10 }, fluxLm: 2_000 })
  const heard = { beam: [] as number[], front: [] as number[], sun: [] as number[] }
  const d = await read(lamp, amount(65_000, 130_000), (stage, share) => heard[stage].push(share))
  // Every stage says how far it is, and never goes back.
  for (const shares of Object.values(heard)) {
    expect(shares.length).toBeGreaterThan(1)
    expect(shares).toEqual(shares.toSorted((a, b) => a - b))
    expect(Math.max(...shares)).toBeLessThanOrEqual(1)
  }
  expect(d.foci).toEqual([])
  const s2 = (10 * (Math.PI / 180)) ** 2 / (8 * Math.LN2)
  const perSr = 2_000 / 683.002 / (2 * Math.PI * s2)
  const skin = d.clear.find((c) => c.id === 'skin')!
  expectWithin(skin.clearDistanceMm, Math.sqrt(perSr / 1000) * 1000, {
    rel: 0.12,
    because: 'upper end of some hundred rays',
  })
  expect(skin.clearDistanceMm).toBeGreaterThan(Math.sqrt(perSr / 1000) * 1000 * 0.99)
  expect(d.bareLens).toBeNull()
  expect(d.parts).toMatchObject({ lens: null, wall: null })
})

test('a lamp in which nothing shines has no beam to fear, but still its sun', async () => {
  const dark = oneEmitter({ lens: { kind: 'ideal', zMm: 150, focalMm: 150, diameterMm: 60 } })
  const d = await read({ ...dark, boards: dark.boards.map((b) => ({ ...b, currentA: 0 })) }, 16_000)
  expect(d.worstKWm2).toBe(0)
  expect(d.foci).toEqual([])
  expect(d.eye).toBeNull()
  expect(d.clear.every((c) => c.clearDistanceMm === 0 && c.secondsAtWorst === null)).toBe(true)
  expect(d.sunMap.length).toBeGreaterThan(5)
  expect(d.sunMap[0]!.kWm2).toBeGreaterThan(10)
  expect(d.findings.some((f) => f.rule === 'bare-lens')).toBe(true)
})

test('twice the light: nothing keeps a shorter distance or a longer time', async () => {
  const lamp = (fluxLm: number) => oneEmitter({ profile: atAngle(4), fluxLm })
  const rays = amount(16_384, 66_000)
  const [one, two] = await Promise.all([read(lamp(600), rays), read(lamp(1200), rays)])
  for (const [k, c] of one.clear.entries()) {
    expect(two.clear[k]!.clearDistanceMm).toBeGreaterThanOrEqual(c.clearDistanceMm)
    expect(two.clear[k]!.secondsAtWorst ?? Infinity).toBeLessThanOrEqual(c.secondsAtWorst ?? Infinity)
  }
  for (const [k, e] of one.eye!.distances.entries())
    expect(two.eye!.distances[k]!.metres.tenSeconds).toBeGreaterThanOrEqual(e.metres.tenSeconds)
})
