// Beam and field angle plane by plane, from maps whose value depends on the step of θ alone, so that sectors and their mean of three are known
// by hand.
import { describe, expect, test } from 'vitest'
import { readAnglesByPlane } from '../../src/beam/planes.ts'
import { zoneSr } from '../../src/beam/profile.ts'
import { fold } from '../../src/run/batches.ts'
import type { TallyLayout } from '../../src/run/layout.ts'
import type { TallyShape } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const DEG = 180 / Math.PI
const rounding = { rel: 1e-9, because: 'rounding' }

/** 24 cells of 2°, twelve steps; the sphere in steps of 10° and columns of 15°. 24° end in the third step. */
const shape = smallShape({ windowN: 24, fineHalfRad: 24 / DEG, sphereGamma: 18, sphereC: 24 })

type Near = (step: number, azimuthDeg: number) => number
/** Intensity by step near the axis, and by step and column beyond. A unit of all batches together is 2 lm. */
function planes(
  near: Near,
  beyond: (gamma: number, c: number) => number = () => 0,
  of: TallyShape = shape,
  peak = 100,
) {
  const cell = (2 * of.fineHalfRad) / of.windowN
  const fill = (t: Float64Array, l: TallyLayout) => {
    for (let i = 0; i < of.windowN ** 2; i++) {
      const [x, y] = [(i % of.windowN) + 0.5 - of.windowN / 2, Math.floor(i / of.windowN) + 0.5 - of.windowN / 2]
      const theta = Math.hypot(x, y) * cell
      t[l.windowLm + i] =
        (near(Math.floor(Math.hypot(x, y)), Math.atan2(y, x) * DEG) * cell * cell * Math.sin(theta)) / theta / 32
    }
    const step = Math.PI / of.sphereGamma
    for (let g = 0; g < of.sphereGamma; g++)
      for (let c = 0; c < of.sphereC; c++)
        t[l.sphereLm + g * of.sphereC + c] = (beyond(g, c) * zoneSr(g * step, (g + 1) * step)) / of.sphereC / 32
  }
  const run = filledRun(of, fill, { emittedLm: 9600 })
  return readAnglesByPlane(fold(run), peak)
}

describe('inside the window', () => {
  test('a straight fall, 10 a step from 120: the same all round', () => {
    const found = planes((step) => 120 - 10 * step, undefined, shape, 110)
    expect(found.map((p) => p.azimuthDeg)).toEqual([0, 15, 30, 45, 60, 75, 90, 105, 120, 135, 150, 165])
    for (const { beamDeg, fieldDeg } of found) {
      // 55 at step 6.5, 11 at 10.9; step s is at (s + ½) · 2°.
      expectWithin(beamDeg, 2 * 14, rounding)
      expectWithin(fieldDeg, 2 * 22.8, rounding)
    }
  })
  test('two sides that differ: opposite sectors are added up, a sector on the border is the mean of both', () => {
    // Right of the y axis 120 − 10 s, left of it 60 − 5 s.
    const found = planes(
      (step, azimuth) => (Math.abs(azimuth) < 90 ? 120 - 10 * step : 60 - 5 * step),
      undefined,
      shape,
      80,
    )
    // 40 at s = 8 and 4; 8 at 11.2 (beyond 11, where no cell is: see below) and 10.4.
    expect(found.length).toBe(12)
    for (const k of [0, 1, 5, 7, 11]) expectWithin(found[k]!.beamDeg, 17 + 9, rounding)
    // On the border 90 − 7.5 s: 40 at s = 6⅔ on both ends.
    expectWithin(found[6]!.beamDeg, 2 * (2 * (20 / 3 + 0.5)), rounding)
    // The last step inside is not averaged: 10 at 23°, then the third step of the sphere, dark, at 35°… less by 2 in 10 of 12°.
    expectWithin(found[0]!.fieldDeg, 23 + (2 / 10) * (35 - 23) + 21.8, rounding)
  })
  test('a mean over three steps', () => {
    // 100 up to step 5, then nothing: 100, 66.7, 33.3, 0 at steps 4, 5, 6, 7. 50 is half way between 5 and 6.
    const [first] = planes((step) => (step <= 5 ? 100 : 0))
    expectWithin(first!.beamDeg, 2 * 12, rounding)
    // 10: between 6 and 7, seven tenths of the way: step 6.7.
    expectWithin(first!.fieldDeg, 2 * 14.4, rounding)
  })
  test('the outermost fall, and on the level is above it', () => {
    // A ring about steps 8 and 9: 100 beside 0 on both sides; means 33, 67, 67, 33.
    const [ring] = planes((step) => (step === 8 || step === 9 ? 100 : step < 2 ? 100 : 0))
    expectWithin(ring!.beamDeg, 2 * 20, rounding)
    // Constant at half of the peak to step 9: 50 there, 33 at 9, 17 at 10. The level is left at step 8.
    const [flat] = planes((step) => (step <= 9 ? 50 : 0))
    expectWithin(flat!.beamDeg, 2 * 17, { rel: 1e-3, because: 'rounding may put step 8 on either side' })
  })
  test('cells of a sector count by their solid angle, sin θ/θ', () => {
    // Six cells of 0.4 rad: 30° to 60° of the third step hold (1.5, 1.5) with 100 cd and (2.5, 1.5), (1.5, 2.5) with 60.
    const of = smallShape({ windowN: 6, fineHalfRad: 1.2, sphereGamma: 18, sphereC: 24 })
    const diagonal = (azimuth: number) => Math.abs(Math.sin((2 * azimuth) / DEG)) > 0.99
    const found = planes((_, azimuth) => (diagonal(azimuth) ? 100 : 60), undefined, of)
    const weight = (cells: number) => Math.sin(0.4 * cells) / (0.4 * cells)
    const [inner, outer] = [weight(Math.hypot(1.5, 1.5)), 2 * weight(Math.hypot(2.5, 1.5))]
    const cd = (100 * inner + 60 * outer) / (inner + outer)
    // From there, 1.0 rad, down to nothing at 75°, the first step of the sphere beyond 1.2 rad.
    expectWithin(found[3]!.beamDeg, 2 * (DEG + (1 - 50 / cd) * (75 - DEG)), rounding)
  })
  test('an oval one: only the axis is shared', () => {
    // Within 45° of the x axis: bright to step 8; elsewhere to step 4.
    const found = planes((step, azimuth) =>
      step <= (Math.abs(Math.cos(azimuth / DEG)) > Math.SQRT1_2 ? 8 : 4) ? 100 : 0,
    )
    for (const k of [0, 1, 11]) expectWithin(found[k]!.beamDeg, 2 * 18, rounding)
    for (const k of [5, 6, 7]) expectWithin(found[k]!.beamDeg, 2 * 10, rounding)
  })
})

describe('next to the axis', () => {
  test('a sector without a cell there takes the whole circle', () => {
    // Step 0 has four cells, at 45°, 135°, 225° and 315°: 80, 40, 80, 40.
    // 26 cells of 2°, whose corners, thirteen steps out and more, are no steps of it and hold rubbish.
    const found = planes(
      (step, azimuth) => (step > 12 ? 1e9 : step > 0 ? 0 : Math.sin((2 * azimuth) / DEG) > 0 ? 80 : 40),
      undefined,
      smallShape({ windowN: 26, fineHalfRad: 26 / DEG, sphereGamma: 18, sphereC: 24 }),
      60,
    )
    // Sector 0: 60 at 1°, a third of it at 3°, nothing at 5°. The levels are 30 and 6.
    expectWithin(found[0]!.beamDeg, 2 * 2.5, rounding)
    expectWithin(found[0]!.fieldDeg, 2 * 4.4, rounding)
    for (const k of [1, 11]) expectWithin(found[k]!.beamDeg, 2 * 2.5, rounding)
    // Sector 135°: 40 and 13⅓; sector 45°: 80 and 26⅔.
    expectWithin(found[9]!.beamDeg, 2 * 1.75, rounding)
    expectWithin(found[3]!.beamDeg, 2 * (1 + (2 * 50) / (160 / 3)), rounding)
  })
})

describe('beyond the window', () => {
  const fall = [100, 100, 100, 100, 100, 100, 80, 40, 5]
  test('steps of 10°: 80, 40 and 5 at 65°, 75° and 85°', () => {
    const found = planes(
      () => 100,
      (g) => fall[g] ?? 0,
    )
    for (const { beamDeg, fieldDeg } of found) {
      expectWithin(beamDeg, 2 * 72.5, rounding)
      expectWithin(fieldDeg, 2 * (75 + 300 / 35), rounding)
    }
  })
  test('by azimuth: column c of 15° is wedge c', () => {
    // Columns 0 to 11, up to 180°, go out ten degrees further.
    const found = planes(
      () => 100,
      (g, c) => fall[c < 12 ? g - 1 : g] ?? 0,
    )
    expectWithin(found[3]!.beamDeg, 82.5 + 72.5, rounding)
    // The sector about 0° has one column of each: 60, 22.5 … at 75° (60) and 85° (22.5): and so has its opposite.
    expectWithin(found[0]!.beamDeg, 2 * (75 + 100 / 37.5), rounding)
  })
  test('columns coarser than the sectors: where there is none, the whole circle', () => {
    // Four columns, their middles at 45°, 135°, 225° and 315°: sectors 3, 4, 9, 10 … have one. Only the one at 45° goes out further.
    const found = planes(
      () => 100,
      (g, c) => fall[c === 0 ? g - 1 : g] ?? 0,
      smallShape({ windowN: 24, fineHalfRad: 24 / DEG, sphereGamma: 18, sphereC: 4 }),
    )
    // Sector 45°: 82.5°, its opposite 72.5°. Sector 90°: the mean of the four, 50 at 75° and 13.75 at 85°: 75° itself.
    expectWithin(found[4]!.beamDeg, 82.5 + 72.5, rounding)
    expectWithin(found[6]!.fieldDeg, 2 * (85 + (10 * (13.75 - 10)) / (13.75 - 1.25)), rounding)
    expectWithin(found[10]!.beamDeg, 2 * 72.5, rounding)
  })
  test('the last step of the window is not averaged with the first beyond it', () => {
    // 100 at 23°, 0 at 35°.
    expectWithin(planes(() => 100)[0]!.beamDeg, 2 * 29, rounding)
  })
  test('a step that lies partly in the window is left out', () => {
    // The third step, 20° to 30°, is dark in the sphere; it is not read: 24° lie within it.
    const [first] = planes(
      () => 100,
      (g) => (g === 2 ? 1e6 : g < 5 ? 100 : 0),
    )
    expectWithin(first!.beamDeg, 2 * (45 + 5), rounding)
  })
  test('a window to beyond 180° has no sphere beside it', () => {
    const wide = smallShape({ windowN: 12, fineHalfRad: 3.6, sphereGamma: 6, sphereC: 4 })
    const [first] = planes((step) => (step <= 2 ? 100 : 0), undefined, wide)
    // Steps of 0.6 rad: 100, 100, 66.7, 33.3 …; half way between steps 2 and 3.
    expectWithin(first!.beamDeg, 2 * 1.8 * DEG, rounding)
  })
})

describe('none', () => {
  test('light everywhere, none at all, or one side that never falls', () => {
    expect(
      planes(
        () => 100,
        () => 100,
      ),
    ).toEqual([])
    expect(planes(() => 0)).toEqual([])
    const side = (azimuth: number) => Math.abs(azimuth) < 90
    expect(
      planes(
        (step, a) => (side(a) ? 100 : step < 6 ? 100 : 0),
        (_, c) => (c < 6 || c >= 18 ? 100 : 0),
      ),
    ).toEqual([])
  })
  test('one direction that never falls, on either side of its plane', () => {
    for (const bright of [0, 12]) {
      const found = planes(
        () => 100,
        (g, c) => (c === bright || g < 6 ? 100 : 0),
      )
      expect(found).toEqual([])
    }
  })
  test('never as bright as half of the peak', () => {
    expect(planes((step) => (step < 6 ? 30 : 0))).toEqual([])
  })
  test('a beam that falls to a third everywhere has no field', () => {
    expect(
      planes(
        (step) => (step < 6 ? 100 : 33),
        () => 33,
      ),
    ).toEqual([])
  })
})
