import { describe, expect, test } from 'vitest'
import type { Front } from '../../src/hazard/front.ts'
import { readHarmAt, readThing, USUAL_THINGS } from '../../src/hazard/inTheWay.ts'
import { MATERIAL_IDS } from '../../src/lamp/danger.ts'
import { lampSchema } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { ignitionMaterial, ignitionSeconds } from '../../src/library/ignition.ts'
import { MATERIALS, secondsToHarm, thresholds } from '../../src/library/thresholds.ts'
import { expectWithin } from '../kit/expect.ts'

const front = (factor = 1): Front => ({
  worst: null,
  curve: [
    { distanceMm: 1, kWm2: 20 * factor, se: 0, discMm: 10 },
    { distanceMm: 500, kWm2: 30 * factor, se: 0, discMm: 10 },
    { distanceMm: 2000, kWm2: 5 * factor, se: 0, discMm: 10 },
  ],
})

describe('thresholds', () => {
  test('every material has a source, and the published values of the ignition table where it is one', () => {
    const table = thresholds(undefined)
    expect(table.map((t) => t.id)).toEqual([...MATERIAL_IDS])
    for (const t of table) {
      expect(t.source.length, t.id).toBeGreaterThan(20)
      expect(t.changedFrom).toBeNull()
    }
    expect(MATERIALS.timber.kWm2).toBe(ignitionMaterial('wood-long').criticalKWm2)
    expectWithin(
      secondsToHarm(table.find((t) => t.id === 'paper')!, 20, 20)!,
      ignitionSeconds(ignitionMaterial('paper'), 20)!,
      { abs: 1e-9, because: 'the same formula' },
    )
  })
  test('a lamp’s own value is used, is marked, and names the published one', () => {
    const [skin] = thresholds({ thresholdsKWm2: { skin: 0.5 } })
    expect(skin).toMatchObject({ kWm2: 0.5, changedFrom: 1 })
    expect(skin!.source).toMatch(/^Set in this lamp’s document\. Published: 1 kW/)
    expect(thresholds({ thresholdsKWm2: { skin: 1 } })[0]!.changedFrom).toBeNull()
  })
  test('the document takes them, and refuses a material that isn’t in the table', () => {
    const lamp = { ...gannetHead(), danger: { thresholdsKWm2: { paper: 8 } } }
    expect(lampSchema.safeParse(lamp).success).toBe(true)
    expect(lampSchema.safeParse({ ...lamp, danger: { thresholdsKWm2: { butter: 8 } } }).success).toBe(false)
  })
})

describe('things in the way', () => {
  const table = thresholds(undefined)
  test('what falls on them is what the front has there; a hand is not given a temperature', () => {
    const [cover, bag, hotHand, wall] = USUAL_THINGS.map((t) => readThing(front(), t, table, 20))
    expect(cover!.kWm2).toBe(20)
    expect(cover!.settlesC).toBeGreaterThan(400)
    expect(cover!.secondsToHarm).toBeLessThan(10)
    expect(bag!.harm).toBe('catches fire')
    expect(hotHand).toMatchObject({ settlesC: null, secondsToIgnite: null })
    // (π/4) · 0.6 · ((300 − 20)/20)² for ABS that takes in 20 kW/m².
    expectWithin(cover!.secondsToIgnite!, 92.36, { abs: 0.01, because: 'with pencil' })
    expect(readThing(front(0.4), USUAL_THINGS[0]!, table, 20).secondsToIgnite).toBeNull()
    expect(wall!.secondsToIgnite!).toBeGreaterThan(wall!.secondsToHarm!)
    expect(wall!.kWm2).toBeGreaterThan(20)
    expect(wall!.secondsToHarm).not.toBeNull()
  })
  test('more light never makes anything safer', () => {
    for (const thing of USUAL_THINGS) {
      let last = readThing(front(0.01), thing, table, 20)
      for (let factor = 0.02; factor < 10; factor *= 1.5) {
        const now = readThing(front(factor), thing, table, 20)
        expect(now.settlesC ?? 0).toBeGreaterThanOrEqual(last.settlesC ?? 0)
        expect(now.secondsToHarm ?? 1e9).toBeLessThanOrEqual(last.secondsToHarm ?? 1e9)
        last = now
      }
    }
    for (const id of MATERIAL_IDS) {
      const t = table.find((row) => row.id === id)!
      let last = Number.POSITIVE_INFINITY
      for (let q = 0.1; q < 500; q *= 1.3) {
        const now = secondsToHarm(t, q, 20) ?? Number.POSITIVE_INFINITY
        expect(now, `${id} at ${q}`).toBeLessThanOrEqual(last)
        last = now
      }
    }
  })
  test('times at a distance', () => {
    const near = readHarmAt(front(), 500, table, 20)
    const far = readHarmAt(front(), 20_000, table, 20)
    expect(near.kWm2).toBe(30)
    expect(near.seconds.paper).toBeLessThan(1)
    expect(near.skinBurnSeconds).toBeLessThan(3)
    expect(far.kWm2).toBeCloseTo(0.05, 9)
    expect(Object.values(far.seconds).every((s) => s === null)).toBe(true)
  })
})
