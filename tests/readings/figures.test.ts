import { describe, expect, test } from 'vitest'
import type { AxisSet, BounceSet, GridSet, LineSet, TimeSet } from '../../src/lamp/readings.ts'
import { readAxis } from '../../src/readings/axis.ts'
import { measuredFigures } from '../../src/readings/figures.ts'
import { readGrid } from '../../src/readings/grid.ts'
import { readLine, wallCd } from '../../src/readings/line.ts'
import { readBounce, readTime } from '../../src/readings/time.ts'

const EXACT = { calibrationPct: 0, spectralPct: 0, cosinePct: 0, resolutionLx: 0 }
const RAD = Math.PI / 180

// Check values, section 7c: seven readings by hand (derived from the photometric distance law; evaluated apart from the program).
const SEVEN: LineSet = {
  id: 'seven',
  kind: 'line',
  along: 'across',
  faces: 'wall',
  aimed: 'axis',
  distanceM: 10,
  rows: [0, 250, 500, 750, 1000, 1500, 2000].map((atMm, i) => ({
    atMm,
    lx: [8000, 6400, 3200, 1200, 400, 100, 20][i] ?? 0,
  })),
}

describe('seven readings by hand (check values 7.21)', () => {
  const { profile, peakCd, beamDeg, fieldDeg, lumens } = readLine(SEVEN)

  test('intensities', () => {
    const cd = [800_000, 640_600.09, 321_200.75, 121_013.92, 40_601.5, 10_339.39, 2_121.19]
    const deg = [0, 1.4321, 2.86241, 4.28915, 5.71059, 8.53077, 11.30993]
    for (const [i, point] of profile.entries()) {
      expect(point.cd).toBeCloseTo(cd[i] ?? 0, 2)
      expect(point.thetaRad / RAD).toBeCloseTo(deg[i] ?? 0, 5)
    }
    expect(peakCd?.value).toBeCloseTo(800_000, 6)
  })

  test('angles, lumens by zones, and by the trapezoid of 2π E x dx', () => {
    expect(beamDeg?.value).toBeCloseTo(5.01907, 5)
    expect(fieldDeg?.value).toBeCloseTo(10.0283, 4)
    expect(lumens?.value).toBeCloseTo(8798.53, 2)
    expect(lumens?.trapezoidLm).toBeCloseTo(7916.813, 2)
    expect(lumens?.coneHalfDeg).toBeCloseTo(11.30993, 5)
    // "The 11 % gap is the coarse sampling, a fair error bar to show."
    expect(lumens?.u).toBeGreaterThan((8798.53 - 7916.813) / Math.sqrt(3))
  })

  test('what coarse steps leave open of an angle is in its ±', () => {
    // By hand, over the logarithm: 1.4321° + 1.43031° · ln(640,600/400,000)/ln(640,600/321,201) = 2.40773°, twice.
    expect(beamDeg?.u).toBeGreaterThan((5.01907 - 2 * 2.40773) / Math.sqrt(3))
    expect(beamDeg?.u).toBeLessThan(0.2)
  })

  test('beam distance (check values 1.40: ANSI/NEMA FL 1-2009, 1.2.1)', () => {
    const figures = measuredFigures({ sets: [SEVEN] })
    expect(figures.find((f) => f.name === 'beamDistanceM')?.value).toBeCloseTo(1788.85, 2)
  })

  test('both sides give what one does, and a meter turned to the lamp another power of the cosine (7.7, 7.8)', () => {
    const both = readLine({
      ...SEVEN,
      rows: [...SEVEN.rows.slice(1).map((r) => ({ ...r, atMm: -r.atMm })), ...SEVEN.rows],
    })
    expect(both.beamDeg?.value).toBeCloseTo(5.01907, 5)
    expect(both.lumens?.value).toBeCloseTo(8798.53, 2)
    // cos³ at 20°: .829769.
    expect(wallCd(1, 1, 20 * RAD, 'wall')).toBeCloseTo(1 / 0.829769, 5)
    expect(wallCd(1, 1, 20 * RAD, 'lamp')).toBeCloseTo(1 / Math.cos(20 * RAD) ** 2, 12)
  })

  test('readings that don’t reach down to a level give no angle', () => {
    const short = readLine({ ...SEVEN, rows: SEVEN.rows.slice(0, 4) })
    expect(short.beamDeg?.value).toBeCloseTo(5.01907, 5)
    expect(short.fieldDeg).toBeNull()
  })
})

test('a Lambertian source: π I₀ sin² of the cone (check values 1.20, 1.21)', () => {
  // E = I₀ cos⁴θ / d², the meter flat on the wall.
  const [cd, d] = [1000, 2]
  const rows = Array.from({ length: 201 }, (_, i) => {
    const thetaRad = (45 * RAD * i) / 200
    return { atMm: 1000 * d * Math.tan(thetaRad), lx: (cd * Math.cos(thetaRad) ** 4) / d ** 2 }
  })
  const { lumens, beamDeg } = readLine({ ...SEVEN, distanceM: d, rows })
  // Half of π I₀ within 45°; steps of 0.225° leave (0.225°)²/12 of it.
  expect(lumens?.value).toBeCloseTo(Math.PI * cd * 0.5, 1)
  expect(beamDeg).toBeNull()
})

describe('candela from several distances', () => {
  const axis = (rows: AxisSet['rows']): AxisSet => ({ id: 'axis', kind: 'axis', rows })

  test('finds intensity and apparent source of exact readings', () => {
    const set = axis([2, 4, 8, 16].map((distanceM) => ({ distanceM, lx: 640_000 / (distanceM + 1.5) ** 2 })))
    const { fitted, farthestCd } = readAxis(set, EXACT)
    expect(fitted?.cd.value).toBeCloseTo(640_000, 2)
    expect(fitted?.behindM.value).toBeCloseTo(1.5, 8)
    // By the inverse square alone the farthest one is 16 % short: (16/17.5)².
    expect(farthestCd?.value).toBeCloseTo(640_000 * (16 / 17.5) ** 2, 2)
  })

  test('2000 lx at 2 m are 8000 cd (check values 1.32)', () => {
    expect(readAxis(axis([{ distanceM: 2, lx: 2000 }])).farthestCd?.value).toBe(8000)
    expect(readAxis(axis([{ distanceM: 2, lx: 2000 }])).fitted).toBeNull()
  })

  test('stray light is subtracted, and the meter’s scale counts in candela but not in the place', () => {
    const rows = [2, 4, 8].map((distanceM) => ({ distanceM, lx: 5 + 9000 / distanceM ** 2 }))
    const of = (calibrationPct: number) => readAxis({ ...axis(rows), strayLx: 5 }, { ...EXACT, calibrationPct }).fitted
    expect(of(0)?.cd.value).toBeCloseTo(9000, 6)
    const [fine, coarse] = [of(0), of(20)]
    expect(coarse?.behindM.u).toBe(fine?.behindM.u)
    // Half of ± 20 %, k = 2.
    expect(coarse?.cd.u).toBeCloseTo(Math.hypot(fine?.cd.u ?? 0, 900), 6)
  })
})

test('a grid sums what falls on the wall, by the trapezoid rule in both directions', () => {
  // E = (1 − x²)(1 − y²) over ± 1 m: 16/9 lm. Steps of h make the rule (1 − h²/4) of each direction's 4/3.
  const steps = [-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1]
  const rows = steps.flatMap((x) =>
    steps.map((y) => ({ xMm: 1000 * x, yMm: 1000 * y, lx: 1e4 * (1 - x * x) * (1 - y * y) })),
  )
  const set: GridSet = { id: 'grid', kind: 'grid', faces: 'wall', aimed: 'axis', distanceM: 100, rows }
  const { lumensLm, peakAtMm } = readGrid(set, EXACT)
  const rule = 4 / 3 - 0.25 ** 2 / 3
  expect(lumensLm?.value).toBeCloseTo(1e4 * rule ** 2, 6)
  expect(Math.abs((lumensLm?.value ?? 0) - (1e4 * 16) / 9)).toBeLessThan(2 * (lumensLm?.u ?? 0))
  expect(peakAtMm).toEqual([0, 0])
  expect(readGrid({ ...set, rows: rows.slice(1) }, EXACT).lumensLm).toBeNull()
})

test('light over time against 30 s, and the run to a tenth (check values 1.42: FL 1-2009, 1.2.3)', () => {
  const at = (rows: [number, number][]): TimeSet => ({
    id: 't',
    kind: 'time',
    rows: rows.map(([atS, lx]) => ({ atS, lx })),
  })
  const run = readTime(
    at([
      [0, 1100],
      [60, 900],
      [3600, 800],
      [7200, 50],
    ]),
  )
  expect(run.runTimeS).toBeCloseTo(3600 + (3600 * 700) / 750, 6)
  expect(run.lastShare?.value).toBeCloseTo(0.05, 10)
  expect(
    readTime(
      at([
        [60, 900],
        [3600, 800],
      ]),
    ).lastShare,
  ).toBeNull()
})

test('lumens against a lamp of known ones', () => {
  const set: BounceSet = {
    id: 'box',
    kind: 'bounce',
    knownLm: 806,
    knownDoubtPct: 10,
    strayLx: 1,
    rows: [{ knownLx: 101, lx: 501 }],
  }
  const lm = readBounce(set, EXACT)
  expect(lm?.value).toBeCloseTo(806 * 5, 6)
  // Of ± 10 % (k = 2) 5 %, and 1 % for each of the two readings.
  expect((lm?.u ?? 0) / (lm?.value ?? 1)).toBeCloseTo(Math.hypot(0.05, 0.01, 0.01), 4)
})
