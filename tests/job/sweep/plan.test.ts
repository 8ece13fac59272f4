import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { axesFault, coarseFirst, evenly, lampAt, valuesAt } from '../../../src/job/sweep/plan.ts'
import { gannetHead } from '../../../src/library/demos.ts'

describe('the order of cells', () => {
  test('every cell once: corners, the middle, then what is farthest from all of them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 12 }), (across, up) => {
        const order = coarseFirst(across, up)
        expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: across * up }, (_, i) => i))
        const corners = new Set([0, across - 1, (up - 1) * across, across * up - 1])
        expect(new Set(order.slice(0, corners.size))).toEqual(corners)
      }),
    )
    expect(coarseFirst(5, 1)).toEqual([0, 4, 2, 1, 3])
    expect(coarseFirst(3, 3).slice(0, 5)).toEqual([0, 2, 6, 8, 4])
  })
})

test('values: ends included, first axis fastest', () => {
  expect(evenly(900, 1150, 6)).toEqual([900, 950, 1000, 1050, 1100, 1150])
  expect(evenly(0.1, 0.3, 3)).toEqual([0.1, 0.2, 0.3])
  expect(evenly(5, 9, 1)).toEqual([5])
  const axes = [
    { path: 'a', values: [1, 2, 3] },
    { path: 'b', values: [10, 20] },
  ] as const
  expect([0, 1, 3, 5].map((i) => valuesAt(axes, i))).toEqual([
    [1, 10],
    [2, 10],
    [1, 20],
    [3, 20],
  ])
})

test.each([
  [[], 'One or two parameters can be tried together.'],
  [[{ path: 'lens.q', values: [1] }], 'lens.q: this lamp has no such number.'],
  [[{ path: 'lens.zMm', values: [] }], 'lens.zMm: no value to try.'],
  [[{ path: 'lens.zMm', values: [0, 5] }], 'lens.zMm: 0 does not fit; expected at least 1.'],
  [[{ path: 'tunnel.sides', values: [3.5] }], 'tunnel.sides: 3.5 does not fit; expected a whole number.'],
  [[{ path: 'lens.zMm', values: [5, 5] }], 'lens.zMm: a value stands twice.'],
  [[{ path: 'lens.zMm', values: [Number.NaN] }], 'lens.zMm: NaN is no number.'],
  [[{ path: 'lens.zMm', values: evenly(1, 5000, 5000) }], '5000 cells are too many; at most 4096.'],
  [
    [
      { path: 'lens.zMm', values: [1050] },
      { path: 'lens.zMm', values: [1060] },
    ],
    'lens.zMm: the same parameter stands twice.',
  ],
])('refused, number %#', (axes, why) => {
  expect(axesFault(gannetHead(), axes)).toBe(why)
})

test('a lamp that can’t stand says why; what fits one cell alone is no fault of the axes', () => {
  const axes = [{ path: 'lens.zMm', values: [900, 1100] }] as const
  expect(axesFault(gannetHead(), axes)).toBeNull()
  expect(lampAt(gannetHead(), axes, [900])).toEqual({
    ok: false,
    why: 'lens.zMm: the lens reaches back to 900 mm, into the tunnel that ends at 1040 mm.',
  })
  const fine = lampAt(gannetHead(), axes, [1100])
  expect(fine.ok && fine.lamp.lens?.zMm).toBe(1100)
})
