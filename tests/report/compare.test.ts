// Danger sheets, findings and parts lists side by side, by hand-made readings.
import { expect, test } from 'vitest'
import type { Column } from '../../src/job/compare/result.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { dangerGroups } from '../../src/report/compareDanger.ts'
import { findingRows, foundWords } from '../../src/report/compareFindings.ts'
import { partRows } from '../../src/report/compareParts.ts'
import { fakeColumn } from '../kit/fakeColumn.ts'
import { lampWith } from '../kit/lampWith.ts'

const lamp = gannetHead()
const column = fakeColumn(lamp)
const rowOf = (columns: (Column | null)[], name: string) =>
  dangerGroups(columns)
    .flatMap(({ rows }) => rows)
    .find((r) => r.name === name)

/** The worst place in front replaced. */
const withWorst = (kWm2: number, se: number): Column => {
  const { reading } = column.danger
  const worst = reading.front.worst && { ...reading.front.worst, kWm2, se }
  return { ...column, danger: { ...column.danger, reading: { ...reading, front: { ...reading.front, worst } } } }
}

// √(0.3² + 0.4²) = 0.5; ± = 2.131 × 0.5 = 1.0655 (Student's t of 15 degrees of freedom, two-sided 95 %, standard table).
test('the upper end is shown; values within the joined ± are not marked', () => {
  const a = withWorst(20, 0.3)
  expect(rowOf([a, withWorst(21, 0.4)], 'Worst in front')).toEqual({
    name: 'Worst in front',
    // 20 + 2.131 × 0.3 = 20.64 and 21 + 2.131 × 0.4 = 21.85, rounded up to three digits.
    cells: ['20.7 kW/m²', '21.9 kW/m²'],
    marks: [null, 'within ±'],
  })
  expect(rowOf([a, withWorst(21.1, 0.4)], 'Worst in front')?.marks).toEqual([null, 'worse'])
  expect(rowOf([withWorst(21.1, 0.4), a], 'Worst in front')?.marks).toEqual([null, 'better'])
})

test('a lamp alike has no mark; one that isn’t read yet has neither; no dangers, no rows', () => {
  const groups = dangerGroups([column, column, null])
  expect(groups.map((g) => g.title)).toContain('The sun backwards')
  for (const { rows } of groups)
    for (const { name, cells, marks } of rows) {
      expect(marks, name).toEqual([null, null, null])
      expect([cells[1], cells[2]], name).toEqual([cells[0], null])
    }
  expect(dangerGroups([null, null])).toEqual([])
})

test('without a lens there is no bare lens', () =>
  expect(rowOf([column, fakeColumn(lampWith({ lens: null }))], 'The bare lens')?.marks).toEqual([null, 'not here']))

test('distances of eyes: ± from the value to the upper end, joined', () => {
  // Blink, m: upper end, and the value without ±; the other distances are alike.
  const withBlink = (upper: number, value: number): Column => {
    const { reading } = column.danger
    const [all, ...rest] = reading.eye!.distances
    const blink = (m: number) => ({ ...all, metres: { ...all.metres, blink: m } })
    const means = { ...reading.eye!.means, distances: [blink(value)] }
    const eye = { ...reading.eye!, distances: [blink(upper), ...rest] as const, means }
    return { ...column, danger: { ...column.danger, reading: { ...reading, eye } } }
  }
  const mark = (a: Column, b: Column) => rowOf([a, b], 'Worst place')?.marks[1]
  // 30 ± 10 and 44 ± 10: apart by 14, ± 14.1. 30 ± 10 and 50 ± 10: by 20.
  expect(mark(withBlink(40, 30), withBlink(54, 44))).toBe('within ±')
  expect(mark(withBlink(40, 30), withBlink(60, 50))).toBe('worse')
  expect(mark(withBlink(60, 50), withBlink(40, 30))).toBe('better')
  // Of those nearer than 200 mm nothing is known but that.
  expect(mark(withBlink(0, 0), withBlink(0.15, 0.01))).toBe('within ±')
})

test('findings by rule: how severe in each, what is new, what is gone', () => {
  const found = (...findings: { rule: string; severity: 'severe' | 'warning' | 'note'; title: string }[]): Column => ({
    ...column,
    light: { ...column.light, findings },
    danger: { ...column.danger, reading: { ...column.danger.reading, findings: [] } },
  })
  const a = found({ rule: 'hot', severity: 'warning', title: 'Warm' }, { rule: 'old', severity: 'note', title: 'Old' })
  const b = found(
    { rule: 'hot', severity: 'severe', title: 'Hot' },
    { rule: 'hot', severity: 'severe', title: 'Hotter' },
  )
  const rows = findingRows([a, b])
  expect(rows.map((r) => [r.rule, r.title, r.marks[1]])).toEqual([
    ['hot', 'Warm', 'worse'],
    ['old', 'Old', 'not here'],
  ])
  expect(rows[0]?.lamps.map(foundWords)).toEqual(['warning', '2 × severe'])
})

test('parts: rows of the same name and size are counted against one another', () => {
  const fewer = lampWith({ boards: lamp.boards.slice(0, 12) })
  const { rows, alike } = partRows([column, fakeColumn(fewer)])
  const emitters = rows.find((r) => r.name.startsWith('Emitter'))
  // 19 boards of seven, then twelve.
  expect(emitters).toMatchObject({ cells: ['133', '84'], marks: [null, '49 less'] })
  expect(alike).toBeGreaterThan(5)
  expect(partRows([column, column]).rows).toEqual([])
})
