import { describe, expect, test } from 'vitest'
import {
  axesFrom,
  axisTitle,
  axisValue,
  choicesOf,
  firstPath,
  placeAlong,
  rangeAbout,
  rangeFaultOf,
  sameButFor,
  secondPath,
} from '../../../../src/app/sweep/model/axes.ts'
import { parametersOf } from '../../../../src/job/sweep/parameters.ts'
import { evenly } from '../../../../src/job/sweep/plan.ts'
import { benchCheck, DEMOS, gannetHead, stileLamp } from '../../../../src/library/demos.ts'

const of = (path: string, lamp = gannetHead()) => parametersOf(lamp).find((p) => p.path === path)!

describe('the range a number begins with', () => {
  test('round steps, the lamp as it stands in the middle', () => {
    expect(rangeAbout(of('lens.zMm'), 11)).toEqual({ path: 'lens.zMm', from: 950, to: 1150, count: 11 })
    expect(rangeAbout(of('optics.collimator-12.fwhmDeg'), 7)).toMatchObject({ from: 6, to: 18, count: 7 })
    expect(rangeAbout(of('lens.tipShare'), 11)).toMatchObject({ from: 0 })
  })

  test('of every number of every example it fits, and holds the value itself', () => {
    for (const make of Object.values(DEMOS)) {
      for (const p of choicesOf(make(), [])) {
        for (const count of [7, 11]) {
          const range = rangeAbout(p, count)
          expect(rangeFaultOf(p, range), `${p.path} ${JSON.stringify(range)}`).toBeNull()
          const values = evenly(range.from, range.to, range.count)
          if (p.value !== null && p.value >= p.min)
            expect(Math.min(...values.map((v) => Math.abs(v - p.value!))), p.path).toBeLessThan(
              1e-9 * Math.max(1, p.value),
            )
        }
      }
    }
  })
})

test('what is offered first: lens with tunnel, lens, or the optic on every emitter; single boards only when chosen', () => {
  expect(firstPath(gannetHead())).toBe('lens.zMm+tunnel.zOutMm')
  expect(firstPath(benchCheck())).toBe('lens.zMm')
  expect(firstPath(stileLamp())).toBe('optics.collimator-20.fwhmDeg')
  expect(secondPath(gannetHead(), 'lens.zMm')).toBe('optics.collimator-12.fwhmDeg')
  expect(secondPath(stileLamp(), 'optics.collimator-20.fwhmDeg')).toMatch(/currentA$/)
  const boards = (chosen: string[]) =>
    choicesOf(gannetHead(), chosen).flatMap((p) => (p.path.startsWith('boards.') ? p.path : []))
  expect(boards([])).toEqual([])
  expect(boards(['B1'])).toContain('boards.B1.xMm')
  expect(boards(['B1']).some((path) => path.startsWith('boards.B10.'))).toBe(false)
})

test.each([
  [{ from: 0.5, to: 9, count: 3 }, '0.5 does not fit; expected at least 1.'],
  [{ from: 5, to: 5, count: 3 }, 'Both ends are the same.'],
])('%j can’t be tried', (range, why) => {
  expect(rangeFaultOf(of('lens.zMm'), { path: 'lens.zMm', ...range })).toBe(why)
})

test('a number that has gone, and numbers that must be whole', () => {
  expect(rangeFaultOf(undefined, { path: 'x', from: 1, to: 2, count: 2 })).toMatch(/no such number/)
  expect(rangeFaultOf(of('tunnel.sides'), { path: 'tunnel.sides', from: 3, to: 6, count: 3 })).toMatch(/whole numbers/)
})

test('a lamp is still the one that was swept when only its swept numbers or its words differ', () => {
  const lamp = gannetHead()
  const axes = axesFrom([{ path: 'lens.zMm', from: 1045, to: 1100, count: 3 }])
  const moved = { ...lamp, name: 'Other', lens: { ...lamp.lens!, zMm: 1090 } }
  expect(sameButFor(moved, lamp, axes)).toBe(true)
  expect(sameButFor({ ...moved, tunnel: null }, lamp, axes)).toBe(false)
})

test('places along an axis, and values with their units', () => {
  expect([1000, 1050, 1100, 990, 900].map((v) => placeAlong([1000, 1050, 1100], v))).toEqual([0, 1, 2, -0.2, null])
  expect(placeAlong([1000, 1050], null)).toBeNull()
  expect([axisValue(1066.66667, 'mm'), axisValue(12, 'deg'), axisValue(0.88, 'share')]).toEqual([
    '1066.67 mm',
    '12°',
    '0.88',
  ])
  expect(axisTitle(of('optics.collimator-12.fwhmDeg'))).toBe('Optic, Collimator 12°, 10 mm: full width at half, °')
})
