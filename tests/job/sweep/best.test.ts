import { expect, test } from 'vitest'
import { bestOf } from '../../../src/job/sweep/best.ts'
import { SWEPT_NAMES, type SweptFigures } from '../../../src/job/sweep/figures.ts'
import type { SweepCell } from '../../../src/job/sweep/run.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { sweptWords } from '../../../src/report/sweep.ts'
import { sweepTable } from '../../../src/report/sweepTable.ts'

const cell = (index: number, figures: SweptFigures | null): SweepCell => ({
  index,
  values: [1000 + index],
  reading: figures && { rays: 65_536, figures, absent: {}, findings: [] },
  why: figures ? null : 'It can’t stand.',
})

test('the best of a figure, and those that can’t be told apart from it', () => {
  const of = (value: number, se: number) => ({ axialIntensityCd: { value, se } })
  const cells = [cell(0, of(100, 1)), cell(1, of(110, 1)), undefined, cell(3, of(109, 1)), cell(4, null), cell(5, {})]
  const best = bestOf(cells, 'axialIntensityCd', 'highest')!
  expect(best.cell.index).toBe(1)
  expect(best.alike.map((c) => c.index)).toEqual([3])
  expect(bestOf(cells, 'axialIntensityCd', 'lowest')!.cell.index).toBe(0)
  expect(bestOf(cells, 'fluxOutLm', 'highest')).toBeNull()
})

test('of hot spots the upper end of ± decides', () => {
  const cells = [cell(0, { 'hot.front': { value: 3, se: 1 } }), cell(1, { 'hot.front': { value: 4, se: 0.1 } })]
  expect(bestOf(cells, 'hot.front', 'lowest')!.cell.index).toBe(1)
})

test('every figure has words, a unit and an end that is usually wanted', () => {
  for (const name of SWEPT_NAMES) {
    const words = sweptWords(name)
    expect(words.name.length, name).toBeGreaterThan(3)
    expect(['highest', 'lowest']).toContain(words.wanted)
  }
  expect(sweptWords('hot.front')).toEqual({ name: 'Hot spot, in front', unit: 'kW/m²', wanted: 'lowest' })
})

test('as a table: axes with their units, a value and an error for every figure, reasons for what is missing', () => {
  const axes = [{ path: 'lens.zMm', values: [1000, 1004] }] as const
  const findings = [{ rule: 'front-hot', severity: 'severe', title: 'It burns.' } as const]
  const lit = cell(0, { axialIntensityCd: { value: 5e6, se: 1e4 } })
  const [head, first, second] = sweepTable(
    gannetHead(),
    axes,
    [{ ...lit, reading: { ...lit.reading!, findings } }, cell(4, null)],
    7,
  )
  expect(head!.slice(0, 5)).toEqual(['lens.zMm (mm)', 'rays', 'seed', 'emittedLm (lm)', 'emittedLm se (lm)'])
  expect(head).toContain('hot.front se (kW/m²)')
  expect(head).toContain('efficiency (1)')
  expect([first!.length, second!.length]).toEqual([head!.length, head!.length])
  const at = (row: typeof head, name: string) => row![head!.indexOf(name)]
  expect(at(first, 'axialIntensityCd (cd)')).toBe(5e6)
  expect(at(first, 'axialIntensityCd se (cd)')).toBe(1e4)
  expect(at(first, 'fluxOutLm (lm)')).toBeNull()
  expect([at(first, 'severe findings'), at(first, 'worst finding')]).toEqual([1, 'It burns.'])
  expect(second!.slice(0, 3)).toEqual([1004, 0, 7])
  expect(at(second, 'why there is no lamp')).toBe('It can’t stand.')
})
