// Temperatures that heat and power reach, on screen, terminal and paper: in whole degrees, never under what was computed.
import { expect, test } from 'vitest'
import { gannetHead } from '../../src/library/demos.ts'
import { modeLines } from '../../src/report/heatRows.ts'
import { leftOnWords, modeWords } from '../../src/report/power.ts'
import { column, fakeRun } from '../kit/fakePower.ts'

const run = fakeRun()
const hot = { ...run.curves, junctionMaxC: column(20, 40, 80, 119.2), plateMaxC: column(20, 30, 60, 99.3) }
const steady = { junctionMaxC: 112.1, plateMaxC: 90, plateMeanC: 81.4, lm: 700, boardIndex: 0, bearable: true }

test('an empty pack, a steady state, and one that is left on', () => {
  const empty = fakeRun({ limit: { kind: 'empty', atS: 100, boardIndex: null }, curves: hot })
  expect(modeWords(empty)).toContain('hottest junction 120 °C')
  const settled = fakeRun({ limit: { kind: 'steady', atS: 100, boardIndex: null }, steady })
  expect(modeWords(settled)).toContain('settles at 113 °C')
  const [, line] = modeLines(gannetHead(), settled, null)
  expect(line).toMatch(/^Steady state as asked: junctions up to 113 °C \(board .+\), plate 82 °C on average\.$/)
  const leftOn = { ...run, limit: { kind: 'empty' as const, atS: 300, boardIndex: null }, curves: hot }
  expect(leftOnWords({ ...run, leftOn: leftOn as never, curves: hot })).toContain(
    'the plate gets to 100 °C, junctions to 120 °C;',
  )
})

test('a whole degree stays what it is, however it was computed', () => {
  const exact = { ...hot, junctionMaxC: column(20, 40, 80, 3 * 40.000_000_000_1) }
  const empty = fakeRun({ limit: { kind: 'empty', atS: 100, boardIndex: null }, curves: exact })
  expect(modeWords(empty)).toContain('hottest junction 120 °C')
})
