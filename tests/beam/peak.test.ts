// Which place is the peak: profiles and windows made batch by batch, means and errors by hand.
import { describe, expect, test } from 'vitest'
import { choosePeak, findPeakCandidates, findRival, hedge } from '../../src/beam/peak.ts'
import type { Profile } from '../../src/beam/profile.ts'
import { T95 } from '../../src/num/stats.ts'
import { fold } from '../../src/run/batches.ts'
import type { TallyShape } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const findPeak = (...of: Parameters<typeof findPeakCandidates>) => choosePeak(findPeakCandidates(...of))

const rounding = { rel: 1e-11, because: 'rounding' }
const batches = Array.from({ length: 16 }, (_, b) => b)
const mean = (v: number[]) => v.reduce((a, b) => a + b, 0) / v.length
const sum = (v: number[]) => v.reduce((a, b) => a + b, 0)

/** Rings at 0, 0.05, 0.15 …, each with its candela by batch. */
function profile(rings: ((b: number) => number)[]): Profile {
  const values = rings.map((ring) => batches.map(ring))
  return {
    thetaRad: Float64Array.from(rings, (_, j) => (j === 0 ? 0 : 0.1 * j - 0.05)),
    cd: Float64Array.from(values, mean),
    seCd: new Float64Array(rings.length),
    without: batches.map((b) => Float64Array.from(values, (v) => (sum(v) - v[b]!) / 15)),
  }
}

/** Candela of the cell at (row, column), by batch; the others are dark. */
function window(shape: TallyShape, cells: { row: number; column: number; cd: (b: number) => number }[]) {
  return fold(
    filledRun(shape, (t, l, b) => {
      for (const { row, column, cd } of cells) {
        const theta = Math.hypot(column - 1.5, row - 1.5) * 0.2
        // A unit of a batch is 16 lm.
        t[l.windowLm + 4 * row + column] = (cd(b) * 0.04 * Math.sin(theta)) / theta / 16
      }
    }),
  )
}
const shape = smallShape()
const dark = window(shape, [])
/** Mean 0 in each half and s²/16 = 1/15 of size²: the error is size/√15. */
const spread = (size: number) => (b: number) => ((b >> 1) % 2 ? size : -size)

describe('axis', () => {
  test('the axis, unless something is brighter', () => {
    const peak = findPeak(dark, profile([(b) => 100 + spread(3)(b), () => 90, () => 80]))
    expect([peak.thetaRad, peak.azimuthRad, peak.around]).toEqual([0, 0, true])
    expectWithin(peak.value, 100, rounding)
    expectWithin(peak.se, 3 / Math.sqrt(15), rounding)
    // Batch 0 has 97, batch 2 has 103.
    expectWithin(peak.without[0]!, 1503 / 15, rounding)
    expectWithin(peak.without[2]!, 1497 / 15, rounding)
    expect(peak.without.length).toBe(16)
  })
  test('brighter is brighter by 2.5 standard errors of the difference', () => {
    // 4/√15 alone is 1.033, 2.582 in all; with 3/√15 on the axis it is 5/√15, 3.227.
    const at = (axis: number, ring: number) =>
      findPeak(dark, profile([(b) => 100 + spread(axis)(b), () => 0, (b) => ring + spread(4)(b)])).thetaRad
    expectWithin(at(0, 102.5), 0, rounding)
    expectWithin(at(0, 102.7), 0.15, rounding)
    expectWithin(at(3, 103.1), 0, rounding)
    expectWithin(at(3, 103.3), 0.15, rounding)
  })
})

describe('a ring', () => {
  test('the ring of one half, measured in the other; its angle is the mean of both', () => {
    // Even batches are brightest at 0.15, odd ones at 0.25.
    const peak = findPeak(
      dark,
      profile([
        () => 100,
        () => 120,
        (b) => (b % 2 ? 280 + b : 500 - b),
        (b) => (b % 2 ? 510 + b : 300 + b),
        () => 200,
      ]),
    )
    const measured = batches.map((b) => (b % 2 ? 280 + b : 300 + b))
    expectWithin(peak.thetaRad, 0.2, rounding)
    // 300 + 7 in the even batches, 280 + 8 in the odd ones.
    expectWithin(peak.value, 297.5, rounding)
    const squares = sum(measured.map((v) => (v - 297.5) ** 2))
    expectWithin(peak.se, Math.sqrt(squares / 15 / 16), rounding)
    expect([peak.azimuthRad, peak.around]).toEqual([0, true])
    for (const b of [0, 1, 15]) expectWithin(peak.without[b]!, (16 * 297.5 - measured[b]!) / 15, rounding)
  })
  test('the last ring and the first are looked at as well', () => {
    expectWithin(findPeak(dark, profile([() => 1, () => 2, () => 3])).thetaRad, 0.15, rounding)
    expectWithin(findPeak(dark, profile([() => 1, () => 3, () => 2])).thetaRad, 0.05, rounding)
  })
  test('of rings alike, the one further in', () => {
    expectWithin(findPeak(dark, profile([() => 1, () => 3, () => 3])).thetaRad, 0.05, rounding)
  })
})

describe('a spot in the window', () => {
  const flat = profile([() => 100, () => 100, () => 100])
  test('its place, intensity and values without one batch', () => {
    const peak = findPeak(window(shape, [{ row: 2, column: 3, cd: (b) => 200 + spread(4)(b) }]), flat)
    expectWithin(peak.thetaRad, Math.hypot(0.3, 0.1), rounding)
    expectWithin(peak.azimuthRad, Math.atan2(1, 3), rounding)
    expect(peak.around).toBe(false)
    expectWithin(peak.value, 200, rounding)
    // Halves of eight: 4 √(8/7)/√8 each, and half of √2 of it.
    expectWithin(peak.se, 4 / Math.sqrt(14), rounding)
    expectWithin(peak.without[0]!, (3200 - 196) / 15, rounding)
    expectWithin(peak.without[2]!, (3200 - 204) / 15, rounding)
  })
  test('below and left of the middle', () => {
    const peak = findPeak(window(shape, [{ row: 0, column: 1, cd: () => 200 }]), flat)
    expectWithin(peak.azimuthRad, Math.atan2(-3, -1), rounding)
  })
  test('only if it is surely brighter than the ring, too', () => {
    const ringed = profile([() => 100, () => 100, (b) => 150 + spread(3)(b)])
    // Errors 3/√15 and 4/√14, 1.320 together. Of 16 places one
    // lies beyond z = 2.69 in one case of twenty: 3.56 (with 1.056 for places as bright as the ring), and the skewness adds (z² − 1)/6 · 4²/14/153.
    const at = (cd: number) =>
      findPeak(window(shape, [{ row: 2, column: 3, cd: (b) => cd + spread(4)(b) }]), ringed).around
    expect(at(153.5)).toBe(true)
    expect(at(153.6)).toBe(false)
  })
  test('no nearer than the cone to the edge of the window', () => {
    const cells = [
      { row: 3, column: 3, cd: () => 500 },
      { row: 2, column: 3, cd: () => 300 },
      { row: 1, column: 2, cd: () => 200 },
    ]
    const theta = (cone: number) => {
      const of = smallShape({ axialConeHalfRad: cone })
      return findPeak(window(of, cells), flat).thetaRad
    }
    // The window ends at 0.4: the corner is at 0.424, the next cell at 0.316, the inner one at 0.141.
    expectWithin(theta(0.02), Math.hypot(0.3, 0.1), rounding)
    expectWithin(theta(0.08), Math.hypot(0.3, 0.1), rounding)
    expectWithin(theta(0.09), Math.hypot(0.1, 0.1), rounding)
    // Mirrored, to tell rows from columns.
    const mirrored = cells.map(({ row, column, cd }) => ({ row: 3 - column, column: row, cd }))
    expectWithin(
      findPeak(window(smallShape({ axialConeHalfRad: 0.09 }), mirrored), flat).thetaRad,
      Math.hypot(0.1, 0.1),
      rounding,
    )
  })
  test('a cone wider than half the window: the mean over azimuth has to do', () => {
    const bright = [
      { row: 1, column: 1, cd: () => 1000 },
      { row: 1, column: 2, cd: () => 1000 },
      { row: 2, column: 1, cd: () => 1000 },
      { row: 2, column: 2, cd: () => 1000 },
    ]
    const around = (cone: number) => findPeak(window(smallShape({ axialConeHalfRad: cone }), bright), flat).around
    expect(around(0.2)).toBe(false)
    expect(around(0.21)).toBe(true)
  })
})

describe('a rival', () => {
  const at = (value: number, se: number, thetaRad = 0) => ({
    value,
    se,
    thetaRad,
    azimuthRad: 0,
    around: false,
    without: [],
  })
  const axis = at(100, 3)
  const rivalOf = (ring: ReturnType<typeof at>, spot: ReturnType<typeof at> | null) =>
    findRival({ axis, ring, spot, coneRad: 0.02 }, axis)
  test('is brighter by more than one standard error of the difference', () => {
    expect(rivalOf(at(104.9, 4, 0.2), null)).toBeNull()
    expect(rivalOf(at(105.1, 4, 0.2), null)?.value).toBe(105.1)
    expect(rivalOf(at(106, 4, 0.2), at(107, 4, 0.1))?.value).toBe(107)
  })
  test('lies more than half a cone off: nearer by they share their light', () => {
    expect(rivalOf(at(120, 4, 0.0099), null)).toBeNull()
    expect(rivalOf(at(120, 4, 0.0101), null)?.value).toBe(120)
  })
  test('the peak then lies between the one’s lower end and the other’s upper end', () => {
    expect(hedge(axis, null)).toBe(axis)
    const { value, se } = hedge(axis, at(110, 4))
    expectWithin(value - T95 * se, 100 - T95 * 3, rounding)
    expectWithin(value + T95 * se, 110 + T95 * 4, rounding)
  })
})
