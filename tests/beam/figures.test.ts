// Figures of beams whose bins are filled with intensities known in closed form: a cone of full brightness with a straight edge.
import { describe, expect, test } from 'vitest'
import { type Beam, type BeamFigure, readBeam } from '../../src/beam/beam.ts'
import { thetaEdges, zoneSr } from '../../src/beam/profile.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { T95 } from '../../src/num/stats.ts'
import type { TallyLayout } from '../../src/run/layout.ts'
import type { TallyShape } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const DEG = 180 / Math.PI
const rounding = { rel: 1e-9, because: 'rounding' }
const none = { abs: 1e-8, because: 'batches alike' }
const gannet = gannetHead()
const aimed = (coneHalfRad: number): Lamp => ({
  ...gannet,
  target: { ...gannet.target, coneHalfDeg: coneHalfRad * DEG },
})

/** Bins of 0.01 to 0.6 rad and ten beyond, cells of 0.3; a cone so narrow that it smooths nothing. */
const shape = smallShape({ fineHalfRad: 0.6, fineBins: 60, coarseBins: 10, windowN: 4, axialConeHalfRad: 0.004 })

interface Light {
  /** Candela at the angle, for the axial cone and the bins. */
  cd: (theta: number) => number
  /** Of each cell of the window; absent: dark. */
  window?: (cell: number, b: number) => number
  axial?: (b: number) => number
  factor?: (b: number) => number
  of?: TallyShape
}
function fillLight({ cd, window, axial, factor = () => 1, of = shape }: Light) {
  const edges = thetaEdges(of)
  const cell = (2 * of.fineHalfRad) / of.windowN
  return (t: Float64Array, l: TallyLayout, b: number) => {
    // A unit of a batch is worth 2 · 16 lm: 9600 lm.
    const unit = factor(b) / 32
    t[l.axialLm] = (axial?.(b) ?? cd(0)) * zoneSr(0, of.axialConeHalfRad) * unit
    for (let j = 0; j < edges.length - 1; j++)
      t[l.profileLm + j] = cd((edges[j]! + edges[j + 1]!) / 2) * zoneSr(edges[j]!, edges[j + 1]!) * unit
    for (let i = 0; window && i < of.windowN ** 2; i++) {
      const half = of.windowN / 2 - 0.5
      const theta = cell * Math.hypot((i % of.windowN) - half, Math.floor(i / of.windowN) - half)
      t[l.windowLm + i] = (window(i, b) * cell * cell * Math.sin(theta) * unit) / theta
    }
  }
}
const beamOf = (light: Light, lamp = gannet): Beam =>
  readBeam(filledRun(light.of ?? shape, fillLight(light), { emittedLm: 9600 }), lamp)

/** 1000 cd on the axis, 970 at 0.3, then straight down to nothing at 0.494: 500 at 0.394, 100 at 0.474. */
const plateau = (theta: number) => (theta < 0.3 ? 1000 - 100 * theta : Math.max(0, 970 - 5000 * (theta - 0.3)))
/** Lumens of one bin of the plateau. */
const lumensOf = (j: number) => plateau((j + 0.5) / 100) * zoneSr(j / 100, (j + 1) / 100)
/** Lumens of the plateau inside `to`, bin by bin, even over a bin’s solid angle. */
function lumens(to: number): number {
  let sum = 0
  for (let j = 0; j < 60; j++)
    sum += plateau((j + 0.5) / 100) * zoneSr(j / 100, Math.max(j / 100, Math.min(to, (j + 1) / 100)))
  return sum
}

describe('a plateau with a straight edge', () => {
  const reading = () => beamOf({ cd: plateau }, aimed(0.2))
  const value = (name: BeamFigure) => reading().figures[name]!.value
  const flux = () => lumens(0.6)

  test('flux and efficiency', () => {
    const { absent, figures } = reading()
    const out = flux()
    expect(absent).toEqual({})
    expect(figures.emittedLm).toEqual({ value: 9600, se: 0 })
    expectWithin(value('fluxOutLm'), out, rounding)
    expectWithin(value('efficiency'), out / 9600, rounding)
  })
  test('peak, axis, beam distance √(1000/0.25)', () => {
    const { peakAt, patterned } = reading()
    expectWithin(value('peakIntensityCd'), 1000, rounding)
    expectWithin(value('axialIntensityCd'), 1000, rounding)
    expectWithin(value('beamDistanceM'), 63.245553203, rounding)
    expect(peakAt).toEqual({ thetaDeg: 0, azimuthDeg: 0, around: true })
    expect(patterned).toBe(false)
  })
  test('beam and field angle, and what lies outside them', () => {
    const { angles } = reading()
    const out = flux()
    expectWithin(value('beamAngleDeg'), 2 * 0.394 * DEG, rounding)
    expectWithin(value('fieldAngleDeg'), 2 * 0.474 * DEG, rounding)
    expectWithin(value('spillOutsideBeam'), 1 - lumens(0.394) / out, rounding)
    expectWithin(value('spillOutsideField'), 1 - lumens(0.474) / out, { rel: 1e-7, because: 'a small difference' })
    expectWithin(value('spillOutsideTarget'), 1 - lumens(0.2) / out, rounding)
    expectWithin(angles.beam!.rad, 0.394, rounding)
    expectWithin(angles.field!.rad, 0.474, rounding)
    expect([angles.beam!.without.length, angles.field!.without.length]).toEqual([16, 16])
    for (const rad of angles.field!.without) expectWithin(rad, 0.474, rounding)
  })
  test('the cones that hold half and nine tenths of the lumens', () => {
    const out = flux()
    for (const [name, share] of [
      ['halfFluxAngleDeg', 0.5],
      ['ninetyFluxAngleDeg', 0.9],
    ] as const) {
      const half = value(name) / 2 / DEG
      const j = Math.floor(100 * half)
      // Within a bin by solid angle.
      const inside = lumens(j / 100) + plateau((j + 0.5) / 100) * zoneSr(j / 100, half)
      expectWithin(inside / out, share, rounding)
    }
  })
  test('the profile as it is drawn', () => {
    const { profile, smoothed } = reading()
    expect([profile.thetaDeg.length, profile.cd.length, profile.seCd.length]).toEqual([71, 71, 71])
    expectWithin(profile.thetaDeg[1]!, 0.005 * DEG, { rel: 1e-6, because: 'single precision' })
    expectWithin(profile.cd[40]!, plateau(0.395), { rel: 1e-6, because: 'single precision' })
    expectWithin(profile.seCd[40]!, 0, { abs: 1e-4, because: 'batches alike' })
    expect(smoothed!.cd.length).toBe(71)
    // The window is dark: no plane has a crossing.
    expect(profile.byDirection).toEqual([])
  })
})

describe('errors: batches of 90 % and 110 %', () => {
  const reading = () =>
    beamOf({ cd: plateau, factor: (b) => (b % 2 ? 1.1 : 0.9), window: () => 900 }, aimed(0.2)).figures
  // Sixteen values a tenth from their mean: 0.1/√15.
  const relative = 0.1 / Math.sqrt(15)
  test('what is proportional to the light has it, the beam distance half of it', () => {
    const figures = reading()
    for (const name of ['fluxOutLm', 'efficiency', 'peakIntensityCd', 'axialIntensityCd'] as const)
      expectWithin(figures[name]!.se / figures[name]!.value, relative, rounding)
    // Down to the root of the lower end.
    const distance = figures.beamDistanceM!
    expectWithin((T95 * distance.se) / distance.value, 1 - Math.sqrt(1 - T95 * relative), rounding)
  })
  test('ratios have none, angles that of their tables and bins alone', () => {
    const figures = reading()
    // Lumens of the neighbours over those of the bin, each a hundredth of a radian wide: how uneven it may be.
    const { value, se } = figures.halfFluxAngleDeg!
    const half = value / 2 / DEG
    const j = Math.floor(100 * half)
    const part = 100 * half - j
    const [before, here, after] = [lumensOf(j - 1), lumensOf(j), lumensOf(j + 1)] as const
    const uneven = (Math.sqrt((part * (1 - part)) / 12) * Math.abs(before - after)) / (100 * here)
    expectWithin(se, Math.hypot(2e-5 * value, 2 * uneven * DEG), rounding)
    for (const name of ['beamAngleDeg', 'fieldAngleDeg'] as const) {
      const own = figures[name]!
      expect(own.se).toBeGreaterThan(0.999 * 2e-5 * own.value)
      expect(own.se).toBeLessThan(0.02 * own.value)
    }
    expectWithin(figures.spillOutsideTarget!.se, 0, none)
    // Known to one ray in the cone, whatever the batches say.
    expect(figures.patternContrast!.se).toBeGreaterThan(0)
  })
  test('a target whose edge cuts a bin: light may lie unevenly in it, as its neighbours tell', () => {
    const { figures } = beamOf({ cd: plateau }, aimed(0.403))
    const uneven = Math.sqrt((0.3 * 0.7) / 12) * Math.abs(lumensOf(39) - lumensOf(41))
    expectWithin(figures.spillOutsideTarget!.se, uneven / lumens(0.6), { rel: 1e-6, because: 'a part of a bin' })
  })
  test('angles by batches: the edge of odd batches further out', () => {
    const run = filledRun(
      shape,
      (t, l, b) => fillLight({ cd: (theta) => plateau(theta + (b % 2 ? -0.01 : 0.01)), axial: () => 1000 })(t, l, b),
      { emittedLm: 9600 },
    )
    const beam = readBeam(run, gannet)
    // Through 500 both fall straight. Without an even batch 8 of 15 are moved out by 0.01 and 7 in.
    expectWithin(beam.angles.beam!.without[0]!, 0.394 + 0.01 / 15, rounding)
    expectWithin(beam.angles.beam!.without[1]!, 0.394 - 0.01 / 15, rounding)
    const own = beam.angles.beam!.ownSe
    expectWithin(beam.figures.beamAngleDeg!.se, 2 * DEG * Math.hypot(0.01 / Math.sqrt(15), own), rounding)
    expect(own).toBeLessThan(0.002)
    // Each batch by its own angle: what lies outside moves out with the edge and is nearly the same. By one angle for all it would be off by the
    // light between the two.
    const spill = beam.figures.spillOutsideBeam!.se * lumens(0.6)
    expect(spill).toBeLessThan(0.2 * 500 * zoneSr(0.394, 0.394 + 0.01 / Math.sqrt(15)))
  })
})

describe('patterned beams', () => {
  const ring = (theta: number) => (theta < 0.1 ? 200 : theta < 0.3 ? 1010 - 100 * theta : 0)
  test('a ring: its peak by the mean over azimuth, and an inner crossing', () => {
    const { patterned, peakAt, figures, angles } = beamOf({ cd: ring })
    expect(patterned).toBe(true)
    expectWithin(peakAt.thetaDeg, 0.105 * DEG, rounding)
    expect(peakAt.around).toBe(true)
    expectWithin(figures.peakIntensityCd!.value, 999.5, rounding)
    expectWithin(figures.axialIntensityCd!.value, 200, rounding)
    expectWithin(angles.beam!.rad, 0.3, { abs: 0.005, because: 'a step between two bins' })
  })
  test('through half alone is enough', () => {
    // 200 cd are above a tenth of the peak.
    expect(beamOf({ cd: (t) => (t < 0.1 ? 200 : t < 0.3 ? 1000 : t < 0.5 ? 300 : 0) }).patterned).toBe(true)
    expect(beamOf({ cd: (t) => (t < 0.1 ? 600 : t < 0.3 ? 1000 : 0) }).patterned).toBe(false)
  })
})

test('a spot off the axis: its direction in degrees', () => {
  // Row 2, column 3 of cells of 0.3: (0.45, 0.15).
  const { peakAt } = beamOf({ cd: plateau, window: (cell) => (cell === 11 ? 2000 : 900) })
  expectWithin(peakAt.thetaDeg, Math.hypot(0.45, 0.15) * DEG, rounding)
  expectWithin(peakAt.azimuthDeg, 18.43494882, rounding)
  expect(peakAt.around).toBe(false)
})

describe('a peak off the axis that is a mean over a cell wider than the cone', () => {
  const deg = 0.3 * DEG
  const over = (beside: number, of = shape) =>
    beamOf({ cd: plateau, window: (cell) => (cell === 11 ? 2000 : cell === 10 ? beside : 900), of })
  test('± holds half of what the darkest cell beside it is darker by, and the beam says so', () => {
    const { figures, peakCellDeg } = over(1000)
    expectWithin(figures.peakIntensityCd!.value, 2000, rounding)
    expectWithin(T95 * figures.peakIntensityCd!.se, 1100 / 2, rounding)
    expectWithin(peakCellDeg!, deg, rounding)
  })
  test('all cells beside it are darker than half of it: withheld, and why', () => {
    const { figures, absent } = over(999)
    const why =
      'The brightest light fills one cell of the map over direction, 17° wide, and hardly those beside it: how bright it is in a cone narrower than that can’t be read.'
    for (const name of ['peakIntensityCd', 'beamDistanceM', 'beamAngleDeg', 'fieldAngleDeg'] as const) {
      expect(figures[name]).toBeUndefined()
      expect(absent[name]).toBe(why)
    }
    expectWithin(figures.axialIntensityCd!.value, 1000, rounding)
  })
  test('none of it where the cone is as wide as the cell', () => {
    const { figures, peakCellDeg } = over(999, { ...shape, axialConeHalfRad: 0.1501 })
    expect(peakCellDeg).toBeUndefined()
    expect(figures.peakIntensityCd).toBeDefined()
  })
  test('nor of a peak on the axis', () => {
    expect(beamOf({ cd: plateau, window: () => 900 }).peakCellDeg).toBeUndefined()
  })
})

describe('absent, in words', () => {
  const after = [
    'fluxOutLm',
    'efficiency',
    'axialIntensityCd',
    'peakIntensityCd',
    'beamAngleDeg',
    'fieldAngleDeg',
    'halfFluxAngleDeg',
    'ninetyFluxAngleDeg',
    'patternContrast',
    'spillOutsideBeam',
    'spillOutsideField',
    'spillOutsideTarget',
    'beamDistanceM',
  ] as const
  test('no light leaves', () => {
    const beam = beamOf({ cd: () => 0 })
    expect(Object.keys(beam.figures)).toEqual(['emittedLm'])
    expect(beam.absent).toEqual(Object.fromEntries(after.map((name) => [name, 'No light leaves the lamp.'])))
    expect([beam.smoothed, beam.angles, beam.patterned]).toEqual([null, {}, false])
    expect(beam.peakAt).toEqual({ thetaDeg: 0, azimuthDeg: 0, around: true })
    expect([beam.profile.cd.length, beam.profile.byDirection.length, beam.directionMap.columns]).toEqual([0, 0, 4])
  })
  test('a dark axis: the other figures stay', () => {
    const { figures, absent } = beamOf({ cd: plateau, axial: () => 0 })
    expect(figures.axialIntensityCd).toBeUndefined()
    expect(Object.keys(absent)).toEqual(['axialIntensityCd'])
    expect(absent.axialIntensityCd).toMatch(/^No ray has gone into the axial cone so far/)
    expectWithin(figures.peakIntensityCd!.value, 999.5, rounding)
  })
  test('light of one batch alone: no place is surely brighter than the dark axis', () => {
    const beam = beamOf({ cd: plateau, axial: () => 0, factor: (b) => (b === 3 ? 1 : 0) })
    const known = ['fluxOutLm', 'efficiency', 'halfFluxAngleDeg', 'ninetyFluxAngleDeg', 'spillOutsideTarget'] as const
    expect(Object.keys(beam.figures).sort()).toEqual(['emittedLm', ...known].sort())
    for (const name of after) {
      if (known.includes(name as (typeof known)[number])) expect(beam.absent[name]).toBeUndefined()
      else if (name === 'axialIntensityCd') expect(beam.absent[name]).toMatch(/^No ray has gone/)
      else expect(beam.absent[name]).toBe('Too few rays have left the lamp so far to find its peak.')
    }
  })
  test('light that never falls through a level', () => {
    const { figures, absent } = beamOf({ cd: () => 100 })
    for (const [angle, spill, level] of [
      ['beamAngleDeg', 'spillOutsideBeam', '50 %'],
      ['fieldAngleDeg', 'spillOutsideField', '10 %'],
    ] as const) {
      expect([figures[angle], figures[spill]]).toEqual([undefined, undefined])
      expect(absent[angle]).toMatch(
        new RegExp(`^The mean over azimuth does not fall through ${level} of the peak: the peak is a small spot`),
      )
      expect(absent[spill]).toBe(absent[angle])
    }
    expect(absent.patternContrast).toBe(absent.fieldAngleDeg)
  })
  test('only behind the lamp; up to 180° across it is an angle', () => {
    const to = (end: number) =>
      beamOf({
        cd: (t) => (t < end ? 100 : 0),
        of: smallShape({ fineHalfRad: 2, fineBins: 200, axialConeHalfRad: 0.004 }),
      })
    const behind = to(1.6)
    expect(behind.absent.beamAngleDeg).toBe(
      'The intensity falls through 50 % of the peak only behind the lamp, beyond 180°.',
    )
    expect(behind.absent.spillOutsideField).toMatch(/^The intensity falls through 10 % of the peak only behind/)
    expect(behind.angles).toEqual({})
    expectWithin(to(1.55).figures.beamAngleDeg!.value, 3.1 * DEG, { rel: 1e-6, because: 'a step' })
  })
  test('a beam without a field', () => {
    const { figures, absent } = beamOf({ cd: (t) => (t < 0.3 ? 1000 : 200) })
    // Four points around 0.3 hold 500, 500, −300, −300 beside the level: 100 − 160 u.
    expectWithin(figures.beamAngleDeg!.value, 2 * (0.3 + (0.005 * 100) / 160) * DEG, rounding)
    expect(absent.fieldAngleDeg).toMatch(/does not fall through 10 %/)
    expect(absent.patternContrast).toBe(absent.fieldAngleDeg)
  })
})
