// The planted lamps themselves: documents that the program reads, places in the zones that they are meant for, truths that are current.
import { describe, expect, test } from 'vitest'
import { readLamp } from '../../src/lamp/read.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { type AirPlace, compare, DISC_MM, type Say, tableOf } from './compare.ts'
import { CLASSES, plant } from './lamps.ts'
import { makeTracer } from './tracer.ts'
import { measureAt, type Truth } from './truth.ts'
import { readTruths, textOfTruths } from './truths.ts'
import { placesOf } from './zones.ts'

const stored = readTruths()

describe('lamps', () => {
  test.each(CLASSES)('%s: every document is valid, the same every time, none like another', (name) => {
    const texts = new Set<string>()
    for (let seed = 1; seed <= amount(84, 400); seed++) {
      const { lamp, light } = plant(name, seed)
      const read = readLamp(JSON.parse(JSON.stringify(lamp)))
      expect(read.ok ? [] : read.why, `${name} ${seed}`).toEqual([])
      texts.add(JSON.stringify([lamp, light]))
      if (seed === 1) expect(JSON.stringify([lamp, light])).toBe([...texts][0])
    }
    expect(texts.size).toBe(amount(84, 400))
  })
})

describe('stored truths', () => {
  test('no doubt left: standard errors of 1.5 % at most, at least eight lamps a class', () => {
    for (const { name, seed, truth } of stored) expect(truth.se / truth.kWm2, `${name} ${seed}`).toBeLessThan(0.015)
    for (const name of CLASSES) expect(stored.filter((t) => t.name === name).length, name).toBeGreaterThanOrEqual(8)
  })
  test('each place lies where its class means it to', () => {
    for (const { name, seed, truth } of stored) {
      const { lamp, zone } = plant(name, seed)
      // Stored to 0.01 mm: a place at the very border may lie just outside of it.
      const counts = placesOf(lamp, zone)
      const [x, y, z] = truth.at
      const near = [1, 1 - 1e-3, 1 + 1e-3].flatMap((k) => [0, -0.02, 0.02].map((h) => counts(k * x, k * y, z + h)))
      expect(near, `${name} ${seed}`).toContain(true)
    }
  })
  test('the file is as the script writes it', () => {
    expect(readTruths(textOfTruths(stored))).toEqual(stored)
  })
  test.each(CLASSES)('%s: the stored place measured again with other rays', (name) => {
    for (const { seed, truth } of stored.filter((t) => t.name === name).slice(0, amount(1, 4))) {
      const { lamp, light } = plant(name, seed)
      const pilotRays = light.light === 'sun' ? 3000 : 30_000
      const options = { discMm: DISC_MM, seed: seed + 5000, pilotRays, mostRays: 100_000, wantedSe: 0.02 }
      const again = measureAt(makeTracer(lamp, light), truth.at, truth.along, options)!
      // Places are stored to 0.01 mm and directions to 1e-5.
      const se = Math.hypot(again.se, truth.se, 2e-4 * truth.kWm2)
      expectWithin(again.kWm2, truth.kWm2, { sigmas: 4, se })
    }
  })
})

describe('comparison', () => {
  const { name, seed, truth } = stored.find((t) => t.name === 'beside')!
  const { zone } = plant(name, seed)
  const place = (over: Partial<AirPlace>): AirPlace => {
    const [xMm, yMm, zMm] = truth.at
    return { kWm2: truth.kWm2, se: 0, xMm, yMm, zMm, discMm: 10, zone, ...over }
  }
  const saying =
    (...places: AirPlace[]): Say =>
    async () =>
      places
  const ratioOf = async (...places: AirPlace[]) => (await compare(saying(...places), name, seed, truth)).ratio
  const along = (mm: number): Partial<AirPlace> => ({
    xMm: truth.at[0] + mm * truth.along[0],
    yMm: truth.at[1] + mm * truth.along[1],
    zMm: truth.at[2] + mm * truth.along[2],
    zone: 'inside',
  })
  test('the upper end of ± counts', async () => {
    expect(await ratioOf(place({}))).toBe(1)
    const upper = await ratioOf(place({ kWm2: 0.8 * truth.kWm2, se: 0.1 * truth.kWm2 }))
    expectWithin(upper, 0.8 + 0.2131, { abs: 1e-9, because: 'Student’s t of 95 % for 16 batches is 2.131' })
  })
  test('a place of another zone counts within 15 mm, or within the depth of focus, not beyond', async () => {
    const deep = { ...truth, depthMm: 40 }
    const ratio = async (mm: number) => (await compare(saying(place(along(mm))), name, seed, deep)).ratio
    expect(await ratio(39)).toBe(1)
    expect(await ratio(41)).toBe(0)
    const off = Math.abs(truth.along[2]) < 0.9 ? { zMm: truth.at[2] } : {}
    expect(await ratioOf(place({ ...off, xMm: truth.at[0] + 500, zone: 'front' }))).toBe(0)
  })
  test('the hottest of its zone counts, wherever it is', async () => {
    expect(await ratioOf(place({ xMm: 900, kWm2: 3 * truth.kWm2 }))).toBe(3)
  })
  test('wider discs do not count, and nothing said is 0', async () => {
    expect(await ratioOf(place({ discMm: 20 }))).toBe(0)
    expect(await ratioOf()).toBe(0)
  })
  test('the table: least ratio, how many understated', async () => {
    const saidAt = async (factor: number, of: Truth = truth) =>
      compare(saying(place({ kWm2: factor * of.kWm2 })), name, seed, of)
    const rows = [await saidAt(1), await saidAt(0.94), await saidAt(0.1), await saidAt(1.2)]
    const [row, all] = tableOf(rows)
    expect(row).toEqual({ class: 'beside', lamps: 4, least: rows[2]!.ratio, median: 1, understated: 2, unseen: 1 })
    expect(all).toEqual({ ...row, class: 'all' })
  })
})
