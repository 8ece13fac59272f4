import { describe, expect, test } from 'vitest'
import type { EyeReading } from '../../src/hazard/eye.ts'
import { blueSeconds, thermalSeconds } from '../../src/hazard/eyeLimits.ts'
import type { LeavingLight } from '../../src/hazard/eyeRays.ts'
import { screenRisk } from '../../src/hazard/eyeRisk.ts'
import {
  type EyeDistances,
  type EyeInput,
  type EyeSheet,
  eyeInput,
  keepAwayMm,
  leadOf,
  readEyes,
} from '../../src/hazard/eyeSheet.ts'
import { readInterference } from '../../src/hazard/visualInterference.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnLight } from '../kit/leavingLight.ts'

const RAD = Math.PI / 180
const single = { rel: 2e-6, because: 'single precision' }
const INPUT: EyeInput = {
  ...{ frontZMm: 20, source: { blueWm2sr: 1e12, thermalWm2sr: 1e12 } },
  perWatt: { blue: 0.94, thermal: 9.4, lumens: 683.002 * 0.038 },
  ...{ ultraviolet: { fromNm: 380, actinicPerW: 0.5, nearPerW: 0.25 }, flicker: [] },
}
const read = (lights: LeavingLight[], input: Partial<EyeInput> = {}): EyeSheet =>
  runToEnd(readEyes(lights, { ...INPUT, ...input }))

/** 400 rays on one line from the origin: through 7 mm, at every distance the same; W/m² there, upper end. */
const pencil = (wm2: number, { nm = 450, offDeg = 0, turnDeg = 0 } = {}): LeavingLight => {
  const [sin, cos] = [Math.sin(offDeg * RAD), Math.cos(offDeg * RAD)]
  const towards = [sin * Math.cos(turnDeg * RAD), sin * Math.sin(turnDeg * RAD), cos] as const
  const watts = (400 * wm2 * Math.PI * 0.0035 ** 2) / (400 + 2.131)
  return drawnLight({ rays: 400, watts, nm, draw: () => ({ at: [0, 0, 0], towards }) })
}
/** No light, but the lamp is as wide as where it starts: 50 mm off the axis; sent backwards. */
const darkRay = drawnLight({ rays: 1, watts: 0, draw: () => ({ at: [30, 40, 0], towards: [0, 0, -1] }) })
/** The steps of distance, mm. */
const stepMm = (k: number) => 200 * 1.3 ** k
const sr = (rad: number) => (Math.PI / 4) * rad ** 2
/** B, R and V at 450 nm (rows 4.55, 4.56; CIE 1924). */
const [B, R, V] = [0.94, 9.4, 0.038]

describe('a pencil of light along the axis', () => {
  const rounding = { rel: 1e-9, because: 'rounding' }
  const lux = (7.5 / B) * V * 683.002
  const last = stepMm(28) / 1000
  const expectFar = (got: number, steps: number) => expectWithin(got, last * 1.3 ** steps, rounding)

  const expectSteps = ({ readings, nearest, source }: EyeSheet) => {
    for (const [k, r] of readings.slice(0, 29).entries()) {
      expectWithin(r.distanceMm, stepMm(k), { rel: 1e-12, because: 'rounding' })
      expectWithin(r.place.zMm, 20 + stepMm(k), rounding)
      expect([r.place.xMm, r.place.yMm, r.angleDeg]).toEqual([0, 0, 0])
      expectWithin(r.irradianceWm2, 7.5 / B, single)
      expectWithin(r.blueIrradianceWm2, 7.5, single)
      expectWithin(r.thermalIrradianceWm2, (7.5 / B) * R, single)
      expectWithin(r.illuminanceLx, lux, { rel: 1e-5, because: 'single precision' })
      expectWithin(r.fields[3]!.blueWm2sr, 7.5 / sr(0.1), single)
      expectWithin(r.fields[0]!.thermalWm2sr, ((7.5 / B) * R) / sr(0.0017), single)
      expect(r.blueSeconds).toBe(blueSeconds(r.fields, source))
      expect(r.thermalSeconds).toBe(thermalSeconds(r.fields, source))
    }
    expect(nearest).toBe(readings[0])
    expect(source).toBe(INPUT.source)
  }

  /** Where no light goes: so far from the lamp's edge. */
  const expectDark = ({ readings, distances }: EyeSheet) => {
    expect(distances.map((d) => d.angleDeg)).toEqual([0, 10, 20, 30, 45])
    for (const [row, least] of [10, 20, 30, 45].entries())
      for (let k = 0; k < 10; k++) {
        const r = readings[29 + 10 * row + k]!
        // So far within, that the widest pupil stays there.
        const deg = least + 0.1 / RAD
        expectWithin(r.distanceMm, stepMm(3 * k), { rel: 1e-12, because: 'rounding' })
        expectWithin(r.place.xMm, (stepMm(3 * k) + 50) * Math.sin(deg * RAD), rounding)
        expectWithin(r.place.zMm, 20 + (stepMm(3 * k) + 50) * Math.cos(deg * RAD), rounding)
        expect(r.place.yMm).toBe(0)
        expectWithin(r.angleDeg, deg, { abs: 1e-9, because: 'rounding' })
        // None of 400 rays: 3.73 of them at the most (Gehrels 1986, eq. 9).
        const pupil = 1.5 ** Math.round(Math.log(Math.max(60, 0.1 * stepMm(3 * k)) / 3.5) / Math.log(1.5))
        expectWithin(r.irradianceWm2, ((7.5 / B) * 3.73) / 402.131 / pupil ** 2, { rel: 1e-3, because: 'three digits' })
      }
    for (const d of distances.slice(1))
      expect(d).toEqual({ angleDeg: d.angleDeg, metres: { blink: 0, tenSeconds: 0, hundredSeconds: 0 }, noLimitM: 0 })
  }

  test('7.5 W/m² of blue light: 29 steps of 1.3 from 200 mm, every third of them aside; past the last by the inverse square', () => {
    const sheet = read([pencil(7.5 / B), darkRay])
    expect(sheet.readings).toHaveLength(29 + 4 * 10)
    expectSteps(sheet)
    expectDark(sheet)
    const { distances, glasses, interference, risk, nearest, source, readings, flicker } = sheet
    const [anywhere] = distances
    // 0.7854 W/m² are 100 W/m²sr over 100 mrad: √9.55 = 3.09, five steps of 1.3. 100 s over 11 mrad: 0.9503 W/m², √7.89 = 2.81, four.
    expectFar(anywhere.noLimitM, 5)
    expectFar(anywhere.metres.hundredSeconds, 4)
    // 12.7 s there over 11 mrad; 1.7 mrad: 5.6e4 W/m²sr·rad, 0.25 s take 7.07e4.
    expect([anywhere.metres.tenSeconds, anywhere.metres.blink]).toEqual([0, 0])
    // Through field glasses 49 times as much in each field: √467.9 = 21.6, twelve steps.
    expectFar(glasses.noLimitM, 12)
    expect(glasses.angleDeg).toBe(0)
    expectWithin(interference.peakCd, lux * last ** 2, { rel: 1e-5, because: 'single precision' })
    expect(interference).toEqual(readInterference(readings.slice(0, 29), interference.peakCd))
    expectWithin(risk.at500lx.distanceMm, 1000 * last * Math.sqrt(lux / 500), {
      rel: 1e-5,
      because: 'single precision',
    })
    expect(risk.at200).toEqual(screenRisk(nearest, source, INPUT.ultraviolet))
    // The light there is the same; 0.5 W of actinic ultraviolet for each W of it.
    expectWithin(risk.at500lx.rows[2]!.emission![0], (0.5 * 7.5) / B, single)
    expect(flicker).toBe(INPUT.flicker)
  })
  test('20 W/m²', () => {
    // √25.5 = 5.05: seven; √21.0 = 4.59: six; √2.1 = 1.45: two; 200/sr · 0.0017 = 1.5e5, 0.0126 s: 1.3^8 each step, two.
    const [anywhere] = read([pencil(20 / B)]).distances
    expectFar(anywhere.noLimitM, 7)
    expectFar(anywhere.metres.hundredSeconds, 6)
    expectFar(anywhere.metres.tenSeconds, 2)
    expectFar(anywhere.metres.blink, 2)
  })
  test('nowhere 500 lx: read at 200 mm; of places without a limit the brightest', () => {
    const { readings, risk } = read([pencil(1e-6, { offDeg: 60 }), pencil(5e-7, { offDeg: 60, turnDeg: 180 })])
    expect(risk.at500lx.distanceMm).toBe(200)
    for (const r of readings.slice(0, 29)) expect(r.place.xMm).toBeGreaterThan(0)
  })
})

describe('where else light goes', () => {
  test('wider angles only where light of some strength goes', () => {
    const angles = (offDeg: number) => read([pencil(1, { offDeg })]).distances.map((d) => d.angleDeg)
    expect(angles(69)).toEqual([0, 10, 20, 30, 45])
    expect(angles(109)).toEqual([0, 10, 20, 30, 45, 70])
    expect(angles(151)).toEqual([0, 10, 20, 30, 45, 70, 110, 150])
  })
  test('a pencil 13° off the axis: in the rows of 0° and 10°, with the angle as seen from the middle of the front', () => {
    const { readings, distances } = read([pencil(7.5 / B, { offDeg: 13, turnDeg: 50 })])
    for (const r of [...readings.slice(0, 29), ...readings.slice(29, 39)]) {
      const { xMm, yMm, zMm } = r.place
      expectWithin(Math.atan2(Math.hypot(xMm, yMm), zMm), 13 * RAD, {
        abs: 1e-3,
        because: 'a ray is met to 1e-4 of the distance',
      })
      expectWithin(Math.atan2(yMm, xMm), 50 * RAD, { abs: 1e-5, because: 'single precision' })
      expectWithin(r.angleDeg, Math.atan2(Math.hypot(xMm, yMm), zMm - 20) / RAD, { abs: 1e-9, because: 'rounding' })
      expectWithin(r.blueIrradianceWm2, 7.5, single)
    }
    // Its last reading is one step nearer than that of all.
    for (const [row, k] of [
      [0, 28],
      [1, 27],
    ] as const) {
      expectWithin(distances[row]!.noLimitM, (stepMm(k) / 1000) * 1.3 ** 5, { rel: 1e-9, because: 'rounding' })
      expectWithin(distances[row]!.metres.hundredSeconds, (stepMm(k) / 1000) * 1.3 ** 4, {
        rel: 1e-9,
        because: 'rounding',
      })
    }
    expect(distances[2]!.noLimitM).toBe(0)
  })
  test('the greatest of each figure, at the place whose limit comes soonest; aside two places are read, not three', () => {
    // Green 60° to one side: 21 W/m², no limit; blue 60° to the other: 1 W/m² of blue light.
    const { readings } = read([pencil(21, { nm: 555, offDeg: 60 }), pencil(1 / B, { offDeg: 60, turnDeg: 180 })])
    for (const r of readings.slice(0, 29)) {
      expect(r.place.xMm).toBeLessThan(0)
      expectWithin(r.irradianceWm2, 21, single)
      expectWithin(r.illuminanceLx, 21 * 683.002, { rel: 1e-5, because: 'single precision' })
      expectWithin(r.blueIrradianceWm2, 1, single)
      expectWithin(r.thermalIrradianceWm2, 21, single)
      expectWithin(r.fields[3]!.blueWm2sr, 1 / sr(0.1), single)
      expectWithin(r.fields[3]!.thermalWm2sr, 21 / sr(0.1), single)
      expect(r.blueSeconds).toBe(blueSeconds(r.fields, INPUT.source))
      expect(r.blueSeconds).not.toBeNull()
    }
    for (const r of readings.slice(29, 39)) {
      expect(r.place.xMm).toBeGreaterThan(0)
      expect(r.blueSeconds).toBeNull()
    }
  })
  test('heat of the retina may come first: then blue light is the greatest of elsewhere', () => {
    // 700 nm: R 1, B 0.001 (rows 4.55, 4.56): 1000/sr · 0.0017 = 7.5e5 W/m²sr·rad, 20 µs; blue light in 12.7 s.
    const { readings } = read([pencil(1000, { nm: 700, offDeg: 60 }), pencil(7.5 / B, { offDeg: 60, turnDeg: 180 })])
    for (const r of readings.slice(0, 29)) {
      expect(r.place.xMm).toBeGreaterThan(0)
      expectWithin(r.irradianceWm2, 1000, single)
      expectWithin(r.blueIrradianceWm2, 7.5, single)
      expectWithin(r.fields[3]!.blueWm2sr, 7.5 / sr(0.1), single)
      expectWithin(r.blueSeconds!, 12.67, { rel: 0.01, because: 'printed digits' })
      expect(r.thermalSeconds).toBeLessThan(3e-5)
    }
  })
  test('aside the steps are three times as wide, and yet no farther than anywhere', () => {
    // 400 rays within 3.8 mrad square about 13°.
    const fan = (watts: number) => {
      let k = 0
      return drawnLight({
        ...{ rays: 400, watts, nm: 450 },
        draw: () => {
          const [a, b] = [(k % 20) - 9.5, Math.floor(k++ / 20) - 9.5]
          return { at: [0, 0, 0], towards: [Math.sin(13 * RAD) + 2e-4 * a, 2e-4 * b, Math.cos(13 * RAD)] }
        },
      })
    }
    let cut = 0
    for (const watts of [3e-3, 5e-2]) {
      const [anywhere, ten] = read([fan(watts)]).distances
      const all = (d: EyeDistances) => [d.metres.blink, d.metres.tenSeconds, d.metres.hundredSeconds, d.noLimitM]
      expect(all(ten!)).toEqual(all(anywhere))
      // Where it isn't one of the steps aside, these alone would have said more.
      cut += all(anywhere).filter((m) => m > 0 && Math.round(Math.log(m / 0.2) / Math.log(1.3)) % 3 !== 0).length
    }
    expect(cut).toBe(6)
  })
  test('no light at all: nothing is reached, and nothing fails', () => {
    const { distances, risk, interference, nearest } = read([
      drawnLight({ rays: 0, watts: 0, draw: () => ({ at: [0, 0, 0], towards: [0, 0, 1] }) }),
    ])
    expect(distances[0]).toEqual({ angleDeg: 0, metres: { blink: 0, tenSeconds: 0, hundredSeconds: 0 }, noLimitM: 0 })
    expect(risk.at200.group).toBe('exempt')
    expect(interference.levels.map((l) => l.metres)).toEqual([0, 0, 0])
    expect(nearest.irradianceWm2).toBe(0)
    expect(nearest.place.zMm).toBe(220)
  })
  test('what it takes from the lamp', () => {
    const input = eyeInput(stileLamp(), new Float64Array(7).fill(1))
    expect(input.frontZMm).toBeGreaterThan(0)
    expect(input.source.blueWm2sr).toBeGreaterThan(1000)
    expect(input.ultraviolet.fromNm).toBe(380)
  })
})

describe('keep away', () => {
  const reading = (distanceMm: number, seconds: number | null) =>
    ({ distanceMm, blueSeconds: seconds, thermalSeconds: null }) as EyeReading
  const limit = (r: EyeReading) => r.blueSeconds ?? Infinity
  test('past the last distance at which the limit comes too soon', () => {
    expect(keepAwayMm([reading(200, 1), reading(400, 30), reading(800, null)], limit, 10)).toBe(400)
    expect(keepAwayMm([reading(200, 50), reading(400, 5), reading(800, 30)], limit, 10)).toBe(800)
    expect(keepAwayMm([reading(200, 50), reading(400, 70)], limit, 10)).toBe(0)
    expect(keepAwayMm([reading(200, 10)], limit, 10)).toBe(0)
    expect(keepAwayMm([reading(200, 1), reading(400, 2.5)], limit, 10)).toBe(800)
  })
  const row = (blink: number, ten: number, hundred: number, noLimitM: number): EyeDistances => ({
    ...{ angleDeg: 0, metres: { blink, tenSeconds: ten, hundredSeconds: hundred }, noLimitM },
  })
  test('the lead is the longest that applies, with its time', () => {
    expect(leadOf(row(1, 5, 70, 90))).toEqual({ metres: 90, seconds: null })
    expect(leadOf(row(1, 5, 70, 70))).toEqual({ metres: 70, seconds: null })
    expect(leadOf(row(1, 5, 70, 60))).toEqual({ metres: 70, seconds: 100 })
    expect(leadOf(row(1, 5, 0, 0))).toEqual({ metres: 5, seconds: 10 })
    expect(leadOf(row(1, 0, 0, 0))).toEqual({ metres: 1, seconds: 0.25 })
    expect(leadOf(row(0, 0, 0, 0))).toEqual({ metres: 0, seconds: null })
  })
})
