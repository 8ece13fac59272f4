import { expect, test } from 'vitest'
import { floorWords } from '../../src/report/floor.ts'

test('what is read off single rays says when more rays help no longer; all others go on', () => {
  const of = (rays: number) => ({ rays, exitsFrom: 524_288 })
  const words = 'Read off the first 524,288 rays: more make its ± no smaller.'
  expect([floorWords('front', of(2e6)), floorWords('inverseSquareFromM', of(524_289))]).toEqual([words, words])
  expect(floorWords('front', of(524_288))).toBeNull()
  expect([floorWords('targetMinLx', of(2e6)), floorWords('lens', of(2e6))]).toEqual([null, null])
})

test('what is a mean over a cell of the map wider than the cone says so: the peak where it is one, and what is read from the map', () => {
  const of = (peak: boolean) => ({ rays: 1e6, exitsFrom: 524_288, wideCells: { deg: 1.1234, peak } })
  const cell = 'cell of the map over direction, 1.1° wide, which is wider than the axial cone'
  const words = `By the mean over a ${cell}: ± holds what the cells beside it leave open.`
  expect([floorWords('peakIntensityCd', of(true)), floorWords('beamDistanceM', of(true))]).toEqual([words, words])
  expect([floorWords('peakIntensityCd', of(false)), floorWords('axialIntensityCd', of(true))]).toEqual([null, null])
  expect(floorWords('patternContrast', of(false))).toBe(`By means over a ${cell}.`)
})
