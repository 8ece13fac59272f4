// The search for the sun's worst direction, over strengths that are known: hills over tilt and azimuth.
import { describe, expect, test } from 'vitest'
import { climbDirections, type Direction, type Seen, strongOf } from '../../../src/job/beam/sunDirections.ts'
import { makeScheduler } from '../../../src/num/scheduler.ts'
import { expectWithin } from '../../kit/expect.ts'

interface Hill extends Direction {
  kWm2: number
  widthDeg: number
}

const apart = (a: number, b: number) => Math.abs(((((a - b) % 360) + 540) % 360) - 180)
const at = (hills: readonly Hill[], { tiltDeg, azimuthDeg }: Direction): number =>
  hills.reduce((most, h) => {
    const round = tiltDeg === 0 ? 0 : apart(azimuthDeg, h.azimuthDeg)
    return Math.max(most, h.kWm2 * Math.exp(-0.5 * (((tiltDeg - h.tiltDeg) / 8) ** 2 + (round / h.widthDeg) ** 2)))
  }, 0)
const seenAt = (of: Direction, kWm2: number, se: number): Seen => ({
  ...of,
  places: [],
  spots: [{ kWm2, se, xMm: 0, yMm: 0, zMm: 0, discMm: 10, tiltDeg: of.tiltDeg, lands: 'face' }],
})
const TILTS = [0, 5, 10, 15, 20, 30, 45]
const AZIMUTHS = Array.from({ length: 12 }, (_, k) => 30 * k)
const GRID = TILTS.flatMap((tiltDeg) => (tiltDeg === 0 ? [0] : AZIMUTHS).map((azimuthDeg) => ({ tiltDeg, azimuthDeg })))

/** Half way between two azimuths of the grid, where it shows less than half of itself. */
const TRUE: Hill = { tiltDeg: 23, azimuthDeg: 105, kWm2: 10, widthDeg: 12 }
/** On the grid, and there the stronger of the two. */
const DECOY: Hill = { tiltDeg: 20, azimuthDeg: 240, kWm2: 6, widthDeg: 20 }

const climb = (hills: readonly Hill[]) => {
  const read: Direction[] = []
  const tries = {
    record: (of: Direction) => of,
    read: async (of: Direction) => {
      read.push(of)
      return seenAt(of, at(hills, of), 0)
    },
    scheduler: makeScheduler(),
  }
  const seen = GRID.map((of) => seenAt(of, at(hills, of), 0))
  return climbDirections('inside', seen, 15, tries).then((top) => ({
    top: top!,
    read,
  }))
}

describe('the climb', () => {
  test.each([105, 100, 112, 345, 359])(
    'a hill at %i° between azimuths of the grid is found to a hundredth',
    async (deg) => {
      const hills = [{ ...TRUE, azimuthDeg: deg }]
      const { top, read } = await climb(hills)
      expectWithin(at(hills, top), 10, {
        rel: 0.01,
        because: 'steps of 0.2° in tilt, and as fine a share of 15° in azimuth',
      })
      expect(read.length).toBeLessThan(60)
    },
  )
  test('also where another, as strong on the grid as nothing else at any tilt, is less at its top', async () => {
    const { top } = await climb([TRUE, DECOY])
    expectWithin(at([TRUE, DECOY], top), 10, { rel: 0.01, because: 'as above' })
    expectWithin(top.azimuthDeg, 105, { abs: 2, because: 'an eighth of its width' })
  })
  test('across the whole turn: 350° is next to 0°', async () => {
    const { top } = await climb([
      { ...TRUE, azimuthDeg: 350 },
      { ...DECOY, azimuthDeg: 120, kWm2: 4 },
    ])
    expect(apart(top.azimuthDeg, 350)).toBeLessThan(2)
  })
})

describe('what of a coarse grid is read again', () => {
  const keys = (list: readonly Direction[]) => list.map((d) => `${d.tiltDeg} ${d.azimuthDeg}`)
  test('what could be half as strong as the strongest, by the upper end, and of each tilt the strongest; each once', () => {
    const kWm2 = (of: Direction) => at([TRUE], of)
    // Known to a fifth.
    const coarse = GRID.map((of) => seenAt(of, kWm2(of), 0.2 * kWm2(of)))
    const strong = strongOf(coarse, ['inside', 'outside'])
    const most = Math.max(...GRID.map(kWm2))
    const near = GRID.filter((of) => kWm2(of) * (1 + 0.2 * 2.131) >= 0.5 * most)
    expect(keys(strong)).toEqual(expect.arrayContaining(keys(near)))
    expect(new Set(strong.map((d) => d.tiltDeg))).toEqual(new Set(TILTS))
    expect(new Set(keys(strong)).size).toBe(strong.length)
    expect(strong.length).toBeLessThan(GRID.length / 3)
  })
  test('of many as strong, eight a zone', () => {
    const flat = GRID.map((of) => seenAt(of, 5, 0.1))
    const strong = strongOf(flat, ['inside'])
    expect(strong.length).toBeGreaterThanOrEqual(8)
    expect(strong.length).toBeLessThanOrEqual(8 + TILTS.length)
  })
})
