import { describe, expect, test } from 'vitest'
import { RAMP, RAMP_SIZE } from '../../../../src/app/common/ramp.ts'
import {
  bestWords,
  countCells,
  drawCurve,
  mapNumbers,
  mildestBest,
  rampAt,
  shareOf,
  spanOf,
  stateWords,
  wantsBlackInk,
} from '../../../../src/app/sweep/model/plot.ts'
import { bestOf } from '../../../../src/job/sweep/best.ts'
import type { SweepCell } from '../../../../src/job/sweep/run.ts'

const severe = { rule: 'front-hot', severity: 'severe', title: 'It burns.' } as const

const cell = (index: number, cd: number | null, findings: (typeof severe)[] = []): SweepCell => ({
  index,
  values: [1000 + 10 * index],
  reading:
    cd === null ? null : { rays: 1, figures: { axialIntensityCd: { value: cd, se: 1000 } }, absent: {}, findings },
  why: cd === null ? 'It can’t stand.' : null,
})

const CELLS = [
  cell(0, 3e6),
  cell(1, 7.144e6, [severe, severe]),
  cell(2, null),
  cell(3, 5e6),
  undefined,
  cell(5, 4e6, [severe]),
]
const BOX = { widthPx: 600, heightPx: 300, left: 50, right: 10, top: 10, bottom: 30 }
const VALUES = [1000, 1010, 1020, 1030, 1040, 1050]

test('span, colour and numbers are common to the whole map', () => {
  const span = spanOf(CELLS, 'axialIntensityCd')!
  expect(span).toEqual([3e6, 7.144e6])
  expect([shareOf(3e6, span), shareOf(7.144e6, span), shareOf(5, [5, 5])]).toEqual([0, 1, 0.5])
  const numbers = mapNumbers(span, 'axialIntensityCd')
  expect([numbers.text(3e6), numbers.text(7.144e6), numbers.unit]).toEqual(['3.00', '7.14', 'Mcd'])
  expect(spanOf([undefined, cell(2, null)], 'axialIntensityCd')).toBeNull()
})

// WCAG 2.2, success criterion 1.4.3: contrast (L1 + 0.05) / (L2 + 0.05) of at least 4.5.
test('ink is read on every colour of the ramp', () => {
  for (let share = 0; share <= 1; share += 1 / 64) {
    const i = Math.round(rampAt(share) * (RAMP_SIZE - 1)) * 3
    const linear = (c: number) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
    const light =
      0.2126 * linear(RAMP[i]! / 255) + 0.7152 * linear(RAMP[i + 1]! / 255) + 0.0722 * linear(RAMP[i + 2]! / 255)
    const contrast = wantsBlackInk(share) ? (light + 0.05) / 0.05 : 1.05 / (light + 0.05)
    expect(contrast, String(share)).toBeGreaterThanOrEqual(4.5)
  }
})

test('the curve parts where a lamp can’t be built, and goes on over cells that are still to come', () => {
  const curve = drawCurve(VALUES, CELLS, 'axialIntensityCd', BOX)
  expect(curve.points.map((p) => p.index)).toEqual([0, 1, 3, 5])
  expect(curve.lines).toHaveLength(2)
  expect(curve.x(1000)).toBe(50)
  expect(curve.x(1050)).toBe(590)
  expect(curve.valueAt(320)).toBeCloseTo(1025, 9)
  for (const p of curve.points) {
    expect(p.y).toBeGreaterThanOrEqual(10)
    expect(p.y).toBeLessThanOrEqual(270)
  }
  expect(drawCurve(VALUES, [], 'axialIntensityCd', BOX).lines).toEqual([])
})

describe('words', () => {
  test('the best with its ±, and how many can’t be told apart from it', () => {
    const best = bestOf(CELLS, 'axialIntensityCd', 'highest')!
    expect(bestWords(best, 'axialIntensityCd', 'highest', ['1010 mm'])).toBe(
      'Highest: 7.1440 ± 0.0021\u202fMcd at 1010 mm.',
    )
    expect(bestWords({ ...best, alike: [CELLS[0]!] }, 'axialIntensityCd', 'highest', ['1010 mm', '6°'])).toMatch(
      /at 1010 mm and 6°\. 1 more cell can’t be told apart from it by its ±\.$/,
    )
  })

  test('a best with more severe findings than others is set beside the best of the mildest', () => {
    const best = bestOf(CELLS, 'axialIntensityCd', 'highest')!
    expect(mildestBest(CELLS, best, 'axialIntensityCd', 'highest')).toMatchObject({
      severe: 0,
      best: { cell: { index: 3 } },
    })
    expect(mildestBest(CELLS, bestOf(CELLS, 'axialIntensityCd', 'lowest')!, 'axialIntensityCd', 'lowest')).toBeNull()
  })

  test('how far it is', () => {
    expect(countCells(CELLS)).toEqual({ come: 5, all: 6, severe: 2, empty: 1 })
    expect(stateWords('running', CELLS, '')).toBe('5 of 6 lamps traced')
    expect(stateWords('done', CELLS, '')).toBe('6 lamps traced')
    expect(stateWords('failed', CELLS, 'out of memory')).toBe('Failed: out of memory')
    expect(stateWords('idle', [], 'Both ends are the same.')).toBe('Both ends are the same.')
  })
})
