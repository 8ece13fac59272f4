import { describe, expect, test } from 'vitest'
import {
  asTable,
  curvePicture,
  halfAngleDeg,
  rowAdded,
  rowAt,
  type SampledProfile,
  widthWords,
} from '../../../../src/app/parts/model/emitterCurve.ts'
import { readLamp } from '../../../../src/lamp/read.ts'
import type { Profile } from '../../../../src/lamp/schema.ts'
import { linear } from '../../../../src/num/interpolate.ts'
import { expectWithin } from '../../../kit/expect.ts'
import { oneEmitter } from '../../../kit/traceHere.ts'

const table = (thetaDeg: number[], intensity: number[]): SampledProfile => ({ kind: 'table', thetaDeg, intensity })
const map: SampledProfile = {
  kind: 'map',
  thetaDeg: [0, 60, 90],
  phiDeg: [10, 100, 190, 280],
  intensity: [
    [4, 4, 0],
    [4, 2, 0],
    [4, 4, 0],
    [4, 0, 0],
  ],
}

test('between planes it is linear, over the seam as well', () => {
  expect(rowAt(map, 55)).toEqual([4, 3, 0])
  expect(rowAt(map, 10)).toEqual([4, 4, 0])
  expect(rowAt(map, 325)).toEqual([4, 2, 0])
  expect(rowAt(map, 370)).toEqual([4, 4, 0])
  expect(rowAt(map, 0)[1]).toBeCloseTo(4 * (80 / 90), 12)
  const one: SampledProfile = { kind: 'map', thetaDeg: [0, 90], phiDeg: [30], intensity: [[1, 0.5]] }
  expect(rowAt(one, 200)).toEqual([1, 0.5])
})

test('half of the peak: the outermost crossing', () => {
  expect(halfAngleDeg([0, 10, 20, 30], [1, 0.2, 0.8, 0], 1)).toBeCloseTo(20 + (0.3 / 0.8) * 10, 12)
  expect(halfAngleDeg([0, 60], [1, 0.6], 1)).toBeNull()
  expect(halfAngleDeg([0, 90], [1, 0.6], 1)).toBe(90)
  expect(halfAngleDeg([0, 90], [0.1, 0.1], 1)).toBe(0)
})

test('width in words', () => {
  expect(widthWords(table([0, 60, 90], [1, 0.5, 0]))).toBe(
    'Viewing angle 120°, full: half of the peak at 60° from the axis.',
  )
  expect(widthWords(table([0, 30, 60], [0, 1, 0]))).toBe(
    'Viewing angle 90°, full: half of the peak at 45° from the axis. Brightest 30° off the axis.',
  )
  expect(widthWords(table([0, 20], [1, 0.9]))).toBe(
    'Viewing angle 40°, full: half of the peak at 20° from the axis. It ends at 20° with over half of its peak; no light beyond.',
  )
  expect(widthWords(map)).toMatch(/^Viewing angle, full: 14\d(\.\d)?° along x, \d+(\.\d)?° along y\.$/)
})

test('the picture runs from −90° to 90° and ends in nothing where the table does', () => {
  const box = { widthPx: 200, heightPx: 100 }
  const picture = curvePicture(table([0, 30], [1, 1]), box)
  expect(picture.curves).toHaveLength(1)
  expect(picture.ticks.map((t) => t.deg)).toEqual([-90, -60, -30, 0, 30, 60, 90])
  expect(picture.curves[0]!.d.startsWith(`M${picture.ticks[0]!.xPx},${picture.footPx}`)).toBe(true)
  expect(curvePicture(map, box).curves.map((c) => c.along)).toEqual(['x', 'y'])
})

describe('any profile as a table', () => {
  test.each<Profile>([
    { kind: 'cosine', fwhmDeg: 120 },
    { kind: 'cosine', fwhmDeg: 178 },
    { kind: 'cosine', fwhmDeg: 1 },
    { kind: 'gaussian', fwhmDeg: 0.5 },
    { kind: 'gaussian', fwhmDeg: 178 },
    { kind: 'gaussian', fwhmDeg: 33 },
  ])('%o keeps its width and can stand in a lamp', (profile) => {
    const t = asTable(profile)
    expect(readLamp(oneEmitter({ profile: t }))).toMatchObject({ ok: true })
    if (!('fwhmDeg' in profile)) return
    const half = halfAngleDeg(t.thetaDeg, t.intensity, 1)!
    expectWithin(2 * half, profile.fwhmDeg, {
      rel: 1e-3,
      because: 'angles to a thousandth of a degree, values to five decimals',
    })
  })
  test('a map is averaged all round', () => {
    expect(asTable(map as Profile)).toEqual({ kind: 'table', thetaDeg: [0, 60, 90], intensity: [1, 0.625, 0] })
    expect(asTable(table([0, 9], [1, 0]))).toEqual(table([0, 9], [1, 0]))
  })
})

test('another row carries on to 90°, then halves the widest gap', () => {
  const rows = (thetaDeg: number[]) => thetaDeg.map((t) => ({ thetaDeg: t, intensity: 1 - t / 90 }))
  expect(rowAdded(rows([0, 30])).at(-1)).toEqual({ thetaDeg: 60, intensity: 1 - 30 / 90 })
  expect(rowAdded(rows([0, 70])).at(-1)!.thetaDeg).toBe(90)
  expect(rowAdded(rows([0, 20, 90])).map((r) => r.thetaDeg)).toEqual([0, 20, 55, 90])
  expect(rowAdded(rows([0, 20, 90]))[2]!.intensity).toBeCloseTo(linear([20, 90], [1 - 20 / 90, 0], 55), 5)
  expect(rowAdded(rows([90])).map((r) => r.thetaDeg)).toEqual([0, 90])
  let many = rows([0, 90])
  for (let i = 0; i < 50; i++) many = rowAdded(many)
  expect(many.every((r, i) => i === 0 || r.thetaDeg > many[i - 1]!.thetaDeg)).toBe(true)
})
