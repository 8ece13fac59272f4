// Columns of segments: cut, chosen, joined, and carried to a plane.
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import {
  addToColumns,
  clipRecords,
  clipToBall,
  joinSegments,
  makeSegmentsRoom,
  SEGMENT_STRIDE,
  segmentsOfColumns,
  segmentsOfRecords,
  selectSegments,
} from '../../src/run/segments.ts'
import { expectWithin } from '../kit/expect.ts'

const along = (x: number, length: number, weight = 1, flags = 0) => [x, 2, 3, 1, 0, 0, length, weight, 550, flags]
const records = (...rows: number[][]) => Float32Array.from(rows.flat())

test('records become columns, in watts, with the batch they came from', () => {
  const p = segmentsOfRecords([records(along(1, 10)), records(along(5, Infinity, 0.5, 3))], 0.25)
  expect(SEGMENT_STRIDE).toBe(10)
  expect(p.count).toBe(2)
  expect([...p.xMm, ...p.yMm, ...p.zMm]).toEqual([1, 5, 2, 2, 3, 3])
  expect([...p.dx, ...p.dy, ...p.dz]).toEqual([1, 1, 0, 0, 0, 0])
  expect([...p.lengthMm]).toEqual([10, Infinity])
  expect([...p.watts]).toEqual([0.25, 0.125])
  expect([...p.wavelengthNm]).toEqual([550, 550])
  expect([...p.flags]).toEqual([0, 3])
  expect([...p.batch]).toEqual([0, 1])
  expect(p.wattsOfOne).toBe(0.25)
})

describe('a ball of 10 mm about (0, 2, 3)', () => {
  const clip = (...rows: number[][]) => clipToBall(segmentsOfRecords([records(...rows)], 1), [0, 2, 3], 10)
  test('cuts what runs through it on both sides', () => {
    const p = clip(along(-30, Infinity))
    expect(p.count).toBe(1)
    expectWithin(p.xMm[0]!, -10, { abs: 1e-5, because: 'enters there' })
    expectWithin(p.lengthMm[0]!, 20, { abs: 1e-5, because: 'its diameter' })
  })
  test('leaves what lies inside, and starts or ends of segments inside', () => {
    expect(clip(along(-3, 5)).lengthMm[0]).toBe(5)
    expectWithin(clip(along(3, 50)).lengthMm[0]!, 7, { abs: 1e-5, because: 'to the border' })
    const p = clip(along(-30, 25))
    expectWithin(p.lengthMm[0]!, 5, { abs: 1e-5, because: 'from the border' })
  })
  test('leaves out what misses it, ends before it or runs away from it', () => {
    expect(clip(along(-30, 5)).count).toBe(0)
    expect(clip(along(20, 50)).count).toBe(0)
    expect(clip([-30, 20, 3, 1, 0, 0, 100, 1, 550, 0]).count).toBe(0)
  })
})

test('records clipped to one ball, then to another, in one pass: the same to the last bit, in columns that are used again', () => {
  const random = seededRandom(7)
  const between = (low: number, high: number) => low + (high - low) * random()
  const ray = () => {
    const [dx, dy] = [between(-0.7, 0.7), between(-0.7, 0.7)]
    const length = random() < 0.2 ? Infinity : between(1, 60)
    const start = [between(-30, 30), between(-30, 30), between(-30, 30)]
    return [
      ...start,
      dx,
      dy,
      Math.sqrt(1 - dx * dx - dy * dy),
      length,
      random(),
      between(400, 700),
      Math.floor(between(0, 4)),
    ]
  }
  const room = makeSegmentsRoom()
  const [wide, narrow] = [
    { centre: [3, 1, -2] as const, radiusMm: 20 },
    { centre: [0, 2, 3] as const, radiusMm: 11.3 },
  ]
  for (const each of [40, 10]) {
    const batches = Array.from({ length: 18 }, () => records(...Array.from({ length: each }, ray)))
    const first = clipToBall(segmentsOfRecords(batches, 0.3), wide.centre, wide.radiusMm)
    const { segments, inFirst } = clipRecords(batches, 0.3, [wide, narrow], room)
    expect(segments).toEqual(clipToBall(first, narrow.centre, narrow.radiusMm))
    expect(inFirst).toBe(first.count)
    expect(segments.count).toBeGreaterThan(each / 2)
    expect(segments.xMm.buffer).toBe(room.columns.xMm.buffer)
    expect(clipRecords(batches, 0.3, [wide], room).segments).toEqual(first)
  }
  expect(room.columns.count).toBe(18 * 40)
})

test('chosen segments are copies; joined ones keep the larger unit', () => {
  const p = segmentsOfRecords([records(along(1, 10), along(2, 20), along(3, 30))], 0.5)
  const two = selectSegments(p, (i) => i !== 1)
  expect([...two.xMm]).toEqual([1, 3])
  two.xMm[0] = 99
  expect(p.xMm[0]).toBe(1)
  const all = joinSegments(p, segmentsOfRecords([records(along(7, 70))], 2))
  expect([...all.lengthMm]).toEqual([10, 20, 30, 70])
  expect(all.wattsOfOne).toBe(2)
  expect(all.count).toBe(4)
})

describe('columns of a plane', () => {
  const none = {
    ...{ count: 0, zMm: 100, xMm: new Float32Array(), yMm: new Float32Array() },
    ...{ slopeX: new Float32Array(), slopeY: new Float32Array(), watts: new Float32Array() },
    ...{ lumens: new Float32Array(), batch: new Uint8Array(), wattsOfOne: 0 },
  }
  test('segments that run forward without an end are carried to the plane; others are left out', () => {
    const p = segmentsOfRecords(
      [
        records(
          [10, 0, 20, 0.6, 0, 0.8, Infinity, 1, 550, 2],
          [10, 0, 20, 0.6, 0, 0.8, 50, 1, 550, 0],
          [10, 0, 20, 0.6, 0, -0.8, Infinity, 1, 550, 2],
        ),
      ],
      3,
    )
    const columns = addToColumns(none, p)
    expect(columns.count).toBe(1)
    // 80 mm up, 60 across.
    expectWithin(columns.xMm[0]!, 70, { abs: 1e-4, because: '10 + 80 · 0.75' })
    expectWithin(columns.slopeX[0]!, 0.75, { abs: 1e-6, because: '0.6/0.8' })
    expect(columns.watts[0]).toBe(3)
    expect(columns.wattsOfOne).toBe(3)
    const back = segmentsOfColumns(columns)
    expectWithin(back.dx[0]!, 0.6, { abs: 1e-6, because: 'the same direction' })
    expectWithin(back.dz[0]!, 0.8, { abs: 1e-6, because: 'the same direction' })
    expect([back.xMm[0], back.zMm[0], back.watts[0]]).toEqual([columns.xMm[0], 100, 3])
    expect(
      addToColumns(
        columns,
        selectSegments(p, () => false),
      ),
    ).toBe(columns)
  })
})
