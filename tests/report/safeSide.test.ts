// What is stated as “at least” is never under the figure, what is stated as “at most” never over it, wherever it is written: on the page, on the
// terminal and on paper. Each case by hand.
import { expect, test } from 'vitest'
import { clearDistance, roundDown, roundUp } from '../../src/app/common/format.ts'
import { runWords, waitWords } from '../../src/app/common/timeScale.ts'
import { parseQuantity, rangeFault } from '../../src/app/common/units.ts'
import { amps, ampsAtMost, clear, mmAtLeast, mmAtMost, seconds } from '../../src/checks/words.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { inSystem } from '../../src/num/quantity.ts'
import { runTime } from '../../src/report/answers.ts'
import { upDistance } from '../../src/report/danger.ts'
import { clearRows } from '../../src/report/dangerRows.ts'
import { timeWords } from '../../src/report/power.ts'
import { riskRows } from '../../src/report/sheetRows.ts'
import { billCells } from '../../src/report/wiringCells.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { fakeSheet } from '../kit/fakeSheet.ts'

const metric = (text: string) => inSystem(text, 'metric')
const inch = (text: string) => inSystem(text, 'inch')

test('distances to keep, and sizes that are at least or at most so much', () => {
  expect(metric(upDistance(1040))).toBe('1.1 m')
  expect([metric(clear(1041)), clearDistance(1041)]).toEqual(['1.05 m', '1.05\u202fm'])
  expect([metric(mmAtLeast(20.04)), metric(mmAtLeast(1234.2)), metric(mmAtLeast(20))]).toEqual([
    '20.1 mm',
    '1235 mm',
    '20 mm',
  ])
  expect([metric(mmAtMost(20.09)), metric(mmAtMost(1234.9))]).toEqual(['20 mm', '1234 mm'])
  // 20.09 mm are 0.79094 in.
  expect([inch(mmAtLeast(20.09)), inch(mmAtMost(20.09))]).toEqual(['0.8 in', '0.79 in'])
})

test('currents that flow, and that are borne; times until harm', () => {
  expect([amps(3.001), ampsAtMost(3.009), amps(0.7), ampsAtMost(0.7)]).toEqual(['3.01 A', '3 A', '0.7 A', '0.7 A'])
  expect([seconds(4.179), seconds(179.9)]).toEqual(['4.17 s', '2.99 min'])
  expect([roundUp(1234), roundDown(1239)]).toEqual(['1240', '1230'])
})

test('a run is never said to last longer than it does, nor a wait to be shorter', () => {
  const run = (kind: 'long' | 'junction', atS: number) =>
    runTime({ limit: { kind, atS, boardIndex: 0 }, limits: [] } as unknown as Parameters<typeof runTime>[0])
  expect([run('long', 89.9 * 60), run('junction', 8.99 * 60)]).toEqual(['more than 89 min', '8.9 min'])
  expect([timeWords(8.91 * 60, 'up'), timeWords(0)]).toEqual(['9 min', '0 s'])
  expect([runWords(8.99 * 60), waitWords(8.91 * 60)]).toEqual(['8.9\u202fmin', '9\u202fmin'])
})

test('rows of the danger sheet, the beam sheet and the wiring', () => {
  const lamp = gannetHead()
  const d = fakeDanger(lamp)
  const [first] = d.clear
  const rows = clearRows({ ...d, clear: [{ ...first!, clearDistanceMm: 1040, secondsAtWorst: 4.179 }] })
  expect(rows[0]?.[1]).toBe('1.1 m')
  expect(rows[0]?.[3]).toBe('in 4.17 s at the worst place')
  const sheet = fakeSheet(lamp)
  const risk = { ...sheet.risks[0]!, clearDistanceMm: 1041, secondsAtWorst: 4.179 }
  expect(riskRows({ ...sheet, risks: [risk] })[0]?.slice(2)).toEqual(['4.17 s at the worst place', 'keep 1.05 m clear'])
  expect(billCells({ what: 'AWG 18 red', amount: 12.341, unit: 'm', remarks: [] })).toEqual(['AWG 18 red', '12.35 m'])
})

test('a limit that a field names is one that it takes', () => {
  const range = { min: 0.1, max: 10.15 }
  for (const value of [0.01, 100]) {
    const [, named = ''] = /at (?:least|most) (.+)\.$/.exec(rangeFault(value, range, 'mm', 'inch') ?? '') ?? []
    const taken = parseQuantity(named, 'mm', 'inch')
    expect(taken.ok && rangeFault(taken.value, range, 'mm', 'inch')).toBe(null)
  }
})
