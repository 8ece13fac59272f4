import { expect, test } from 'vitest'
import { hottestAt, levelsOf, levelWords, outlineOf } from '../../../src/app/common/dangerLevels.ts'
import { keepAway, staysFor, temperatureText, untilHarm, upTo } from '../../../src/app/danger/model/words.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { fakeDanger } from '../../kit/fakeDanger.ts'

const reading = fakeDanger(gannetHead())

test('one level for each distinct threshold that is reached, the farthest first, no two lines alike', () => {
  const levels = levelsOf(reading.clear)
  const reached = new Set(reading.clear.filter((c) => c.clearDistanceMm > 0).map((c) => c.kWm2))
  expect(new Set(levels.map((l) => l.kWm2))).toEqual(reached)
  for (let i = 1; i < levels.length; i++) expect(levels[i]!.reachMm).toBeLessThanOrEqual(levels[i - 1]!.reachMm)
  expect(new Set(levels.map((l) => l.dash.join())).size).toBe(levels.length)
  expect(levelWords(levels.find((l) => l.names.includes('Bare skin'))!)).toBe('Bare skin, car paint')
  expect(levelWords(levels.find((l) => l.names.includes('Black plastic'))!)).toBe('Black plastic')
  expect(levels.find((l) => l.names.includes('Paper'))!.burns).toBe(true)
  expect(levels.find((l) => l.names.includes('Bare skin'))!.burns).toBe(false)
})

test('inside an outline the map is over its threshold, outside below it', () => {
  const { volume } = reading
  const at = hottestAt(volume)
  const r = (line: Float32Array) => Math.max(...line.filter((_, i) => i % 2 === 1))
  const widest = Math.max(...outlineOf(volume, 5).map(r))
  expect(at(500, widest * 0.5)).toBeGreaterThan(5)
  expect(at(500, widest * 1.8)).toBeLessThan(5)
  expect(at(20_000, 0)).toBe(0)
})

test('a lamp that isn’t round: the hottest cell at each distance from the axis, and the farthest cell as outline', () => {
  const planes = reading.volume.planes.map((p) => {
    const kWm2 = new Float32Array(16)
    kWm2[5] = 9
    return { ...p, kWm2 }
  })
  const odd = { ...reading.volume, planes, round: false }
  const { halfMm } = planes[1]!
  // Cell 5 of 4 × 4 lies from −half/2 to 0 on both axes.
  expect(hottestAt(odd)(500, 0.3 * halfMm)).toBe(9)
  expect(hottestAt(odd)(500, 0.95 * halfMm)).toBe(0)
  const [line] = outlineOf(odd, 5)
  expect(line![3]).toBeCloseTo((halfMm / 2) * Math.SQRT2, 3)
})

test('figures round towards danger', () => {
  expect(untilHarm(null)).toBe('stays below')
  expect(untilHarm(0.4)).toBe('under 1\u202fs')
  expect(untilHarm(19.96)).toBe('19\u202fs')
  expect(untilHarm(299)).toBe('4\u202fmin')
  expect(untilHarm(7300)).toBe('2\u202fh')
  expect(upTo(3.7201)).toBe('3.73\u202fkW/m²')
  // The longer a spot stays, the worse.
  expect([19.2, 299, 7201].map(staysFor)).toEqual(['20\u202fs', '5\u202fmin', '3\u202fh'])
  expect(temperatureText(70.1)).toBe('71\u202f°C')
  expect(keepAway(0)).toBe('not reached')
  expect(keepAway(4721)).toBe('4.73\u202fm')
})
