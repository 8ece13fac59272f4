import { describe, expect, test } from 'vitest'
import type { EyeReading } from '../../src/hazard/eye.ts'
import { FIELDS_RAD } from '../../src/hazard/eyeLimits.ts'
import { RISK_LIMITS, type RiskHazard, screenRisk } from '../../src/hazard/eyeRisk.ts'
import { expectWithin } from '../kit/expect.ts'

const NO_BOUND = { blueWm2sr: 1e15, thermalWm2sr: 1e15 }
const NO_ULTRAVIOLET = { fromNm: 300, actinicPerW: 0, nearPerW: 0 }

/** Blue and retinal radiance by field, narrow to wide. */
const reading = (
  blue: readonly number[],
  thermal: readonly number[] = [0, 0, 0, 0],
  over: Partial<EyeReading> = {},
): EyeReading => ({
  ...{ distanceMm: 200, angleDeg: 0, place: { xMm: 0, yMm: 0, zMm: 200 }, irradianceWm2: 50, plusShare: 0.1 },
  ...{ illuminanceLx: 1, blueIrradianceWm2: 3, thermalIrradianceWm2: 9, subtendsRad: 0.2 },
  ...{ blueSeconds: null, thermalSeconds: null },
  means: [],
  fields: FIELDS_RAD.map((fieldRad, k) => ({
    ...{ fieldRad, blueWm2sr: blue[k]!, thermalWm2sr: thermal[k]!, by: 'rays' as const },
  })),
  ...over,
})
const groupOf = (r: EyeReading, hazard: RiskHazard, uv = NO_ULTRAVIOLET) =>
  screenRisk(r, NO_BOUND, uv).rows.find((row) => row.hazard === hazard)?.group

describe('risk groups by screening', () => {
  test('limits that follow from the exposure limits: row 4.57 and its checks', () => {
    // Blue light: 10⁶ J/m²sr in 10⁴, 100 and 0.25 s.
    expect(RISK_LIMITS.blueLight).toEqual([1e6 / 1e4, 1e6 / 100, 1e6 / 0.25])
    // Retinal heat: 50,000/(α t^¼) at 10 and 0.25 s, rounded by the standard.
    expectWithin(RISK_LIMITS.retinalThermal[0], 50_000 / 10 ** 0.25, { rel: 0.005, because: 'the standard rounds' })
    expectWithin(RISK_LIMITS.retinalThermal[2], 50_000 / 0.25 ** 0.25, { rel: 0.005, because: 'the standard rounds' })
    // Actinic: 30 J/m² in 8 h, 10,000 s, 1000 s; near ultraviolet: 10⁴ J/m² in 1000 s (directive 2006/25/EC, rows a, b: the doses).
    expectWithin(RISK_LIMITS.actinicUltraviolet[0], 30 / 28_800, { rel: 0.05, because: 'the standard rounds' })
    expectWithin(RISK_LIMITS.actinicUltraviolet[1], 30 / 1e4, { rel: 1e-12, because: 'rounding' })
    expectWithin(RISK_LIMITS.actinicUltraviolet[2], 30 / 1000, { rel: 1e-12, because: 'rounding' })
    expectWithin(RISK_LIMITS.nearUltraviolet[0], 1e4 / 1000, { rel: 1e-12, because: 'rounding' })
    // Small source: 100 J/m² in 100 s and in 0.25 s.
    expect(RISK_LIMITS.blueSmallSource).toEqual([100 / 100, 100 / 100, 100 / 0.25])
  })
  test('blue light: the exempt group over 100 mrad, group 1 over 11 mrad, group 2 over 1.7 mrad', () => {
    expect(groupOf(reading([1e9, 1e9, 1e9, 100]), 'blueLight')).toBe('exempt')
    expect(groupOf(reading([1e4, 1e4, 1e4, 1500]), 'blueLight')).toBe('RG1')
    expect(groupOf(reading([4e6, 1e5, 1e5, 1e5]), 'blueLight')).toBe('RG2')
    expect(groupOf(reading([4.1e6, 1e5, 1e5, 1e5]), 'blueLight')).toBe('RG3')
  })
  test('a small source by its irradiance', () => {
    const small = (wm2: number) =>
      reading([1e9, 1e9, 1e9, 1e9], undefined, { subtendsRad: 0.0109, blueIrradianceWm2: wm2 })
    expect(groupOf(small(1), 'blueSmallSource')).toBe('exempt')
    expect(groupOf(small(400), 'blueSmallSource')).toBe('RG2')
    expect(groupOf(small(401), 'blueSmallSource')).toBe('RG3')
    expect(groupOf(small(1), 'blueLight')).toBeUndefined()
    expect(groupOf(reading([1, 1, 1, 1], undefined, { subtendsRad: 0.011 }), 'blueSmallSource')).toBeUndefined()
  })
  test('retinal heat: the worst field, from 11 mrad for the exempt group, from 1.7 mrad for group 2', () => {
    const none = [0, 0, 0, 0]
    const of = (...thermal: number[]) => groupOf(reading(none, thermal), 'retinalThermal')
    // Even over 100 mrad: 28,000/0.1 and 71,000/0.1.
    expect(of(2.79e5, 2.79e5, 2.79e5, 2.79e5)).toBe('exempt')
    expect(of(2.81e5, 2.81e5, 2.81e5, 2.81e5)).toBe('RG2')
    expect(of(7.2e5, 7.2e5, 7.2e5, 7.2e5)).toBe('RG3')
    // A disc of 11 mrad: L (11/35)² and L (11/100)² in the wider fields.
    const disc = (l: number) => of(l, l, l * (11 / 35) ** 2, l * (11 / 100) ** 2)
    expect(disc(2.5e6)).toBe('exempt')
    expect(disc(2.6e6)).toBe('RG2')
    // A point that only the blink’s field tells from 11 mrad: 71,000/0.0017.
    const point = (l: number) => of(l, l * (1.7 / 11) ** 2, l * (1.7 / 35) ** 2, l * (1.7 / 100) ** 2)
    expect(point(4.1e7)).toBe('exempt')
    expect(point(4.3e7)).toBe('exempt')
    // A disc of 20 mrad lies between two fields: L 0.02, not L 0.011.
    const between = (l: number) => of(l, l, l * (20 / 35) ** 2, l * (20 / 100) ** 2)
    expect(between(1.38e6)).toBe('exempt')
    expect(between(1.42e6)).toBe('RG2')
    expect(between(3.6e6)).toBe('RG3')
  })
  test('ultraviolet goes with the light; cut short by the spectrum it is never called exempt', () => {
    const dim = reading([0, 0, 0, 0])
    const of = (fromNm: number, actinicPerW: number) =>
      groupOf(dim, 'actinicUltraviolet', { fromNm, actinicPerW, nearPerW: 0 })
    expect(of(300, 0.001 / 50)).toBe('exempt')
    expect(of(300, 0.0029 / 50)).toBe('RG1')
    expect(of(300, 0.031 / 50)).toBe('RG3')
    expect(of(380, 0.0009 / 50)).toBeNull()
    expect(of(380, 0.0029 / 50)).toBe('RG1')
    const { rows } = screenRisk(dim, NO_BOUND, { fromNm: 380, actinicPerW: 1e-6, nearPerW: 0.3 })
    const near = rows.find((r) => r.hazard === 'nearUltraviolet')!
    expect(near).toMatchObject({ group: 'RG1', fromNm: 380, unit: 'W/m²' })
    expect(near.emission).toEqual([15, 15, 15])
    expect(rows.find((r) => r.hazard === 'infrared')).toMatchObject({ emission: null, group: null })
    expect(screenRisk(dim, NO_BOUND, NO_ULTRAVIOLET).rows[2]).not.toHaveProperty('fromNm')
  })
  test('the lamp has the highest of its groups', () => {
    expect(screenRisk(reading([0, 0, 0, 0]), NO_BOUND, NO_ULTRAVIOLET)).toMatchObject({
      group: 'exempt',
      distanceMm: 200,
    })
    expect(screenRisk(reading([1e4, 1e4, 1e4, 1500], [3e5, 3e5, 3e5, 3e5]), NO_BOUND, NO_ULTRAVIOLET).group).toBe('RG2')
    expect(screenRisk(reading([1e4, 1e4, 1e4, 1500]), NO_BOUND, NO_ULTRAVIOLET).group).toBe('RG1')
  })
  test('each row with what it was tested with, its limits, its unit', () => {
    const { rows } = screenRisk(reading([40, 30, 20, 10]), NO_BOUND, { fromNm: 300, actinicPerW: 1e-5, nearPerW: 0.2 })
    expect(rows).toEqual([
      { hazard: 'blueLight', emission: [10, 30, 40], limits: [100, 1e4, 4e6], unit: 'W/m²sr', group: 'exempt' },
      {
        hazard: 'retinalThermal',
        emission: [0, 0, 0],
        limits: [28_000, 28_000, 71_000],
        unit: 'W/m²sr',
        group: 'exempt',
      },
      {
        hazard: 'actinicUltraviolet',
        emission: [50 * 1e-5, 50 * 1e-5, 50 * 1e-5],
        ...{ limits: [0.001, 0.003, 0.03], unit: 'W/m²', group: 'exempt' },
      },
      { hazard: 'nearUltraviolet', emission: [10, 10, 10], limits: [10, 33, 100], unit: 'W/m²', group: 'exempt' },
      { hazard: 'infrared', emission: null, limits: [100, 570, 3200], unit: 'W/m²', group: null },
    ])
    const small = screenRisk(reading([1, 1, 1, 1], undefined, { subtendsRad: 0 }), NO_BOUND, NO_ULTRAVIOLET)
    expect(small.rows[0]).toMatchObject({ emission: [3, 3, 3], limits: [1, 1, 400], unit: 'W/m²', group: 'RG2' })
  })
  test('heat of a point: over 11 mrad for the exempt group, over 1.7 mrad in group 2', () => {
    const thermal = [1, (1.7 / 11) ** 2, (1.7 / 35) ** 2, (1.7 / 100) ** 2].map((x) => 1e6 * x)
    const { emission } = screenRisk(reading([0, 0, 0, 0], thermal), NO_BOUND, NO_ULTRAVIOLET).rows[1]!
    // L α² is the same in all fields; one step of the ladder (0.47 %) off at the hot side.
    expectWithin(emission![0], (1e6 * 0.0017 ** 2) / 0.011, { rel: 0.012, because: 'a step of the ladder, squared' })
    expect(emission![0]).toBe(emission![1])
    expectWithin(emission![2], 1e6 * 0.0017, { rel: 0.012, because: 'a step of the ladder' })
  })
})
