import { describe, expect, test } from 'vitest'
import { bySet } from '../../../src/app/readings/model/plot.ts'
import type { Shot } from '../../../src/app/readings/photo/pictureStore.ts'
import { curveWords, maskedWords, timeText } from '../../../src/app/readings/photo/words.ts'
import type { FittedPoint } from '../../../src/job/fit/result.ts'
import { joinShots, shadingOf, wallOf } from '../../../src/readings/photo/evaluate.ts'
import { readExposureTime } from '../../../src/readings/photo/exif.ts'
import { makeBinner } from '../../../src/readings/photo/pixels.ts'

test('times as cameras write them', () => {
  expect(['1/250', '0.004', '1/250 s', '0,004s', ' 2 '].map(readExposureTime)).toEqual([0.004, 0.004, 0.004, 0.004, 2])
  expect(['', 'fast', '0', '1/0', '-1', '1/2/3'].map(readExposureTime)).toEqual([null, null, null, null, null, null])
  expect([0.004, 1 / 60, 2, null].map(timeText)).toEqual(['1/250', '1/60', '2', ''])
})

function shot(key: number, grey: number, timeS: number | null, [width, height] = [64, 64]): Shot {
  const binner = makeBinner(width ?? 64, height ?? 64)
  binner.add(new Uint8ClampedArray(4 * (width ?? 64) * (height ?? 64)).fill(grey))
  return {
    key,
    name: `${key}.png`,
    picture: binner.finish(),
    exposure: { timeS, iso: null, fNumber: null, focal35Mm: null },
  }
}

describe('what is missing is said', () => {
  const why = (shots: readonly Shot[]) => {
    const joined = joinShots(shots)
    return joined.ok ? '' : joined.why
  }
  test('of the exposures', () => {
    expect(why([shot(1, 90, null)])).toBe('')
    expect(why([shot(1, 90, null), shot(2, 150, 1)])).toBe('Of several exposures each needs its time: 1.png.')
    expect(why([shot(1, 90, 1), shot(2, 91, 1)])).toMatch(/^Two pictures were exposed alike/)
    expect(why([shot(1, 90, 1), shot(2, 150, 4, [64, 70])])).toMatch(/^The pictures differ in size/)
  })
  test('of the even field and the reading', () => {
    const shots = [shot(1, 90, null)]
    const joined = joinShots(shots)
    expect(shadingOf(shots, shot(2, 120, null, [64, 96]), joined)).toMatchObject({ ok: false, why: /same camera/ })
    expect(shadingOf(shots, shot(2, 255, null), joined)).toMatchObject({ ok: false, why: /burnt out/ })
    const fields = { marks: [], meterAt: [0.5, 0.5], widthMm: 1, heightMm: 1, distanceM: 1, cells: 9 } as const
    expect(wallOf(joined, shadingOf(shots, null, joined), { ...fields, readLx: null })).toBeNull()
  })
})

test('masked shares and the curve, in words', () => {
  expect(maskedWords(shot(1, 255, null).picture)).toBe('100 % burnt out')
  expect(maskedWords(shot(1, 90, null).picture)).toBe('nothing burnt out or black')
  const joined = joinShots([shot(1, 90, null)])
  if (!joined.ok) throw new Error(joined.why)
  // 2 · 0.16 in the exponent over a factor of ten: 10^0.32.
  expect(curveWords(joined.merged)).toMatch(/^One exposure: .* known to a factor of 2.1\./)
})

test('a grid is drawn as two lines, across and up through its zero', () => {
  const point = (xMm: number, yMm: number) => ({ setId: 'picture', xMm, yMm }) as FittedPoint
  const grid = [-20, 0, 20].flatMap((y) => [-30, -10, 10, 30].map((x) => point(x - 1, y)))
  const lines = bySet([...grid, { ...point(0, 0), setId: 'axis' }])
  expect(lines.map((line) => line.points.map((p) => [p.xMm, p.yMm]))).toEqual([
    [-31, -11, 9, 29].map((x) => [x, 0]),
    [-20, 0, 20].map((y) => [0, y]),
    [[0, 0]],
  ])
})
