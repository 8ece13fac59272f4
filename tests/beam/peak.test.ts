// Which place is the peak: profiles and windows made batch by batch, means and errors by hand.
import { describe, expect, test } from 'vitest'
import { hedge, hedgeUnseen } from '../../src/beam/hedge.ts'
import { choosePeak, findPeakCandidates, findRivals, type Peak, type WidePlace } from '../../src/beam/peak.ts'
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
  test('brighter is brighter by four standard errors of the difference', () => {
    // 4/√15 alone is 1.033, 4.131 in all; with 3/√15 on the axis it is 5/√15, 5.164.
    const at = (axis: number, ring: number) =>
      findPeak(dark, profile([(b) => 100 + spread(axis)(b), () => 0, (b) => ring + spread(4)(b)])).thetaRad
    expectWithin(at(0, 104.1), 0, rounding)
    expectWithin(at(0, 104.2), 0.15, rounding)
    expectWithin(at(3, 105.1), 0, rounding)
    expectWithin(at(3, 105.2), 0.15, rounding)
  })
  test('what only may be brighter is a rival, and ± holds the axis and it', () => {
    // Three and a half of its errors: by chance one of some 600 places is as bright as that (Student's t of 15), and there are hundreds of places.
    const [axis, value, se] = [{ ...findPeak(dark, profile([() => 100, () => 0, () => 0])), se: 0.002 }, 107, 2]
    const values = batches.map((b) => value + spread(2 * Math.sqrt(15))(b))
    const without = values.map((v) => (sum(values) - v) / 15)
    const spot: Peak = { value, se, without, thetaRad: 0.2, azimuthRad: 0, around: false }
    const candidates = { axis, ring: axis, spot, coneRad: 0.02, grained: false, wide: () => [] }
    expect(choosePeak(candidates)).toBe(axis)
    const rivals = findRivals(candidates, axis)
    expect(rivals).toEqual([spot])
    const peak = hedge(axis, rivals)
    expect(peak.value - T95 * peak.se).toBeLessThan(100)
    expect(peak.value + T95 * peak.se).toBeGreaterThan(107 + T95 * 2)
    // The angle's errors add to it in full.
    expect(peak.toEnds).toBe(true)
  })
})

test('a place whose batches agree by chance is known no better than its rays are counted', () => {
  const quiet = findPeak(dark, profile([() => 100, () => 0, () => 0]))
  const ring = (oneRayCd: number): Peak => {
    const search = { places: 10, rayCd: 0.001, oneRayCd }
    return {
      value: 120,
      se: 0.5,
      without: batches.map(() => 120),
      thetaRad: 0.2,
      azimuthRad: 0,
      around: true,
      own: 120,
      search,
    }
  }
  const chosen = (oneRayCd: number) =>
    choosePeak({ axis: quiet, ring: ring(oneRayCd), spot: null, coneRad: 0.02, grained: false, wide: () => [] })
      .thetaRad
  // 20 cd are four errors of √(120 · 0.208).
  expect(chosen(0.2)).toBe(0.2)
  expect(chosen(0.22)).toBe(0)
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
    // Errors 3/√15 and 4/√14: 4 · 1.320 = 5.28. That is more than noise makes of 16 places in one case of twenty, 3.12.
    const at = (cd: number) =>
      findPeak(window(shape, [{ row: 2, column: 3, cd: (b) => cd + spread(4)(b) }]), ringed).around
    expect(at(155.2)).toBe(true)
    expect(at(155.4)).toBe(false)
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
  const at = (value: number, se: number, thetaRad = 0, more: Partial<Peak> = {}): Peak => ({
    ...{ value, se, thetaRad, azimuthRad: 0, around: false, without: [] },
    ...more,
  })
  const axis = at(100, 3)
  const rivalsOf = (ring: Peak, spot: Peak | null, chosen = axis, wide: WidePlace[] = []) =>
    findRivals({ axis, ring, spot, coneRad: 0.02, grained: false, wide: () => wide }, chosen).map((p) => p.value)
  const ringAt = (value: number, se: number, thetaRad: number) => at(value, se, thetaRad, { around: true })

  test('is brighter by more than one standard error of the difference', () => {
    expect(rivalsOf(at(104.9, 4, 0.2), null)).toEqual([])
    expect(rivalsOf(at(105.1, 4, 0.2), null)).toEqual([105.1])
    expect(rivalsOf(at(106, 4, 0.2), at(107, 4, 0.1))).toEqual([106, 107])
  })
  test('lies more than half a cone off: nearer by they share their light', () => {
    expect(rivalsOf(at(120, 4, 0.0099), null)).toEqual([])
    expect(rivalsOf(at(120, 4, 0.0101), null)).toEqual([120])
  })
  test('stands out of the noise of so many places', () => {
    // A ray adds 1 cd, so places as bright as the axis spread by 10. Of 1000 one lies beyond z = 3.89 in one case of twenty (tables of Φ; from memory);
    // with 1.64 errors of the axis 39.2, and the skewness adds (z² − 1)/6 = 2.4.
    const own = (cd: number) => at(110, 4, 0.2, { own: cd, search: { places: 1000, rayCd: 1, oneRayCd: 0 } })
    expect(rivalsOf(own(141), null)).toEqual([])
    expect(rivalsOf(own(142), null)).toEqual([110])
  })
  test('is any place, where the chosen one is known to a tenth only', () => {
    // 2.131 · 4.7 is over a tenth of 100, 2.131 · 4.6 is not.
    expect(rivalsOf(at(60, 4, 0.2), at(50, 9, 0.1), at(100, 4.7))).toEqual([60, 50])
    expect(rivalsOf(at(60, 4, 0.2), at(50, 9, 0.1), at(100, 4.6))).toEqual([])
  })
  test('may lie on a ring, whose intensity is a mean over azimuth, unless it is darker for sure', () => {
    const ring = ringAt(100, 3, 0.2)
    expect(rivalsOf(ring, at(93, 4, 0.2), ring)).toEqual([93])
    expect(rivalsOf(ring, at(91, 4, 0.2), ring)).toEqual([])
  })
  test('shows by wider discs: brighter than the same about the axis', () => {
    const wide = (own: number, thetaRad = 0.2): WidePlace => ({
      ...{ value: 110, se: 3, own, thetaRad, radiusRad: 0.06, places: 100, centre: { value: 95, se: 1 } },
    })
    // Discs as bright as the one about the axis spread by √(95 · 9/110) and 1, 2.96 together; one of 100 lies 2.33 of it higher: 101.9.
    const of = (place: WidePlace) => rivalsOf(ringAt(0, 1, 0.2), at(101, 4, 0.2), axis, [place])
    expect(of(wide(101.5))).toEqual([])
    expect(of(wide(102.5))).toEqual([101])
    expect(of(wide(102.5, 0.029))).toEqual([])
    // Far darker than the axis itself, it tells of a spike there and nothing else.
    const dark = { ...wide(84), value: 84, centre: { value: 50, se: 1 } }
    expect(of(dark)).toEqual([])
    expect(of({ ...dark, own: 86 })).toEqual([101])
  })
  test('the peak is then as high as the highest may be, and no lower than any but the place that was chosen', () => {
    expect(hedge(axis, [])).toBe(axis)
    // Of n = (value/se)² rays √(n + 2) are known.
    const end = (value: number, se: number, side: number) =>
      value + side * T95 * se * Math.sqrt(1 + 2 * (se / value) ** 2)
    const { value, se } = hedge(axis, [at(110, 4, 0.2), at(90, 8, 0.1)])
    // The rival may be bright by chance: the axis, known to 6 %, stays within by its own ±; known worse, by its value.
    expectWithin(value - T95 * se, end(100, 3, -1), rounding)
    const ill = hedge({ value: 100, se: 6 }, [at(110, 4, 0.2)])
    expectWithin(ill.value - T95 * ill.se, 100, rounding)
    // Where no rival's lower end is above the chosen value it is the highest of them.
    const low = hedge({ value: 100, se: 6 }, [at(105, 4, 0.2)])
    expectWithin(low.value - T95 * low.se, end(105, 4, -1), rounding)
    expectWithin(value + T95 * se, end(110, 4, 1), rounding)
    // Of a ring that was searched for the low end is that of the other half: what all batches together have has been helped by noise.
    const ring = { ...at(100, 0.1, 0.1), own: 103 }
    const ringed = hedge(ring, [at(110, 4, 0.2)])
    expectWithin(
      ringed.value - T95 * ringed.se,
      Math.min(end(100, 0.1, -1), end(101, Math.hypot(0.1, 1.5 / T95), -1)),
      rounding,
    )
    const near = hedge({ ...ring, own: 100.3 }, [at(110, 4, 0.2)])
    expectWithin(near.value - T95 * near.se, end(100, 0.1, -1), rounding)
    // A place that all batches by themselves have higher: a third of the way, and half of it in the error.
    const own = hedge(axis, [at(110, 4, 0.2, { own: 140 })])
    expectWithin(own.value + T95 * own.se, end(120, Math.hypot(4, 30 / 2 / T95), 1), rounding)
  })
})

describe('a place so near to the axis that it shares light with it', () => {
  const cone = 0.1
  /** Both move by `common`, the place by `own` besides; 8 % brighter. */
  const sharing = (thetaRad: number, common: number, own: number) => {
    const peak = (value: number, theta: number, size: (b: number) => number): Peak => {
      const values = batches.map((b) => value + size(b))
      const without = values.map((v) => (sum(values) - v) / 15)
      const se = Math.sqrt(sum(values.map((v) => (v - mean(values)) ** 2)) / 15 / 16)
      return { value: mean(values), se, without, thetaRad: theta, azimuthRad: 0, around: false }
    }
    const other = (b: number) => (b % 2 ? own : -own)
    const axis = peak(100, 0, spread(common))
    const spot = peak(108, thetaRad, (b) => spread(common)(b) + other(b))
    return {
      axis,
      spot: { ...spot, own: 108, search: { places: 1000, rayCd: 0.01, oneRayCd: 0 } },
      ring: axis,
      coneRad: cone,
      grained: false,
      wide: () => [],
    }
  }
  test('is distinguished by what they do not share', () => {
    // Of cones a quarter of their width apart 68 % is common (lens of two circles). √(12² + 12² )/√15 is 4.4, four of them 18; of the difference batch by batch
    // 2/√15, no less than √0.32 · 12.2/√15 = 1.77: four of them are 7.1.
    const near = sharing(0.05, 12, 2)
    expect(choosePeak(near)).toBe(near.spot)
  })
  test('one further off than the cone is wide is not', () => {
    const far = sharing(0.25, 12, 2)
    expect(choosePeak(far)).toBe(far.axis)
  })
  test('nor one whose axis is known by other rays', () => {
    const { axis, ...near } = sharing(0.05, 12, 2)
    const known = { ...axis, se: 0.01 }
    expect(choosePeak({ ...near, axis: known, ring: known })).toBe(known)
  })
})

describe('an axis that nothing else can tell from other places', () => {
  const axis = { value: 100, se: 2 }
  const place = (thetaRad: number, value: number): WidePlace => ({
    ...{ value, se: 3, own: value, thetaRad, radiusRad: 0.06, places: 10, centre: { value: 90, se: 1 } },
  })
  const of = (wide: WidePlace[], spot: Peak | null = null) =>
    hedgeUnseen(axis, { axis: spot!, ring: spot!, spot, coneRad: 0.02, grained: false, wide: () => wide })
  const ends = ({ value, se }: { value: number; se: number }) => [value - T95 * se, value + T95 * se]
  test('reaches as high as a wider place may be, down to its own lower end', () => {
    const [low, high] = ends(of([place(0.081, 104)]))
    expectWithin(low!, 100 - 2 * T95, rounding)
    expectWithin(high!, 104 + 3 * T95, rounding)
  })
  test('not for a place that the axis is part of, nor for a darker one', () => {
    expect(of([place(0.079, 104)])).toBe(axis)
    expect(of([place(0.2, 90)])).toBe(axis)
  })
  test('and as high as a place beside it', () => {
    const spot = (thetaRad: number): Peak => ({
      value: 105,
      se: 2,
      thetaRad,
      azimuthRad: 0,
      around: false,
      without: [],
    })
    expectWithin(ends(of([], spot(0.039)))[1]!, 105 + 2 * T95, rounding)
    expect(of([], spot(0.041))).toBe(axis)
  })
})
