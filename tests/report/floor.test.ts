import { expect, test } from 'vitest'
import { floorWords } from '../../src/report/floor.ts'

test('what is read off single rays says when more rays help no longer; all others go on', () => {
  const of = (rays: number) => ({ rays, exitsFrom: 524_288 })
  const words = 'Read off the first 524\u202f288 rays: more make its ± no smaller.'
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

test('what the bins leave open, where it is most of ±', () => {
  const of = (floor: number) => ({
    rays: 1e6,
    exitsFrom: 524_288,
    figures: { beamAngleDeg: { value: 10, se: 0.1 }, efficiency: { value: 0.5, se: 0 } },
    floors: { beamAngleDeg: floor, efficiency: 0, fieldAngleDeg: 1 },
  })
  expect(floorWords('beamAngleDeg', of(0.07))).toBe(
    'More rays make its ± hardly smaller: most of it is how wide the cells of the direction map are.',
  )
  expect([floorWords('beamAngleDeg', of(0.069)), floorWords('efficiency', of(1))]).toEqual([null, null])
  // Without the figure there is no ± to speak of.
  expect(floorWords('fieldAngleDeg', of(1))).toBeNull()
  const both = floorWords('peakIntensityCd', {
    ...{ rays: 1e6, exitsFrom: 524_288, wideCells: { deg: 1, peak: true } },
    ...{ figures: { peakIntensityCd: { value: 10, se: 1 } }, floors: { peakIntensityCd: 1 } },
  })
  expect(both).toMatch(/^By the mean over a cell .* leave open\. More rays make its ± hardly smaller/)
})
