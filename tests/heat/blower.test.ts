// A fan on the channels between fins, by hand.
import { describe, expect, test } from 'vitest'
import { airAt } from '../../src/heat/air.ts'
import { channelPressureDropPa, fanSpeedMS, freeFlowM3h } from '../../src/heat/blower.ts'
import { expectWithin } from '../kit/expect.ts'

const fins = { kind: 'fins' as const, count: 11, heightMm: 40, thicknessMm: 1, spacingMm: 4 }
const fan = (...rows: [number, number][]) => ({
  kind: 'fan' as const,
  curve: rows.map(([flowM3h, pascal]) => ({ flowM3h, pascal })),
})
const rounding = { rel: 1e-12, because: 'rounding' }

describe('pressure drop of a channel 4 × 40 mm, 0.2 m long, fins 1 mm thick', () => {
  test('at 3 m/s in air of 1.5e-5 m²/s and 1.2 kg/m³: 15.674095 Pa', () => {
    // D 7.2727 mm, Re 1454.5, f √((3.44/√(L/D Re))² + 24²)/Re = 0.023834639, ends 0.42 · 0.36 + 0.36² = 0.2808; (4 f L/D + 0.2808) · 5.4 Pa.
    const air = { ...airAt(20), kinematic: 1.5e-5, densityKgM3: 1.2 }
    expectWithin(channelPressureDropPa(fins, 0.2, 3, air), 15.674095363382479, { rel: 1e-9, because: 'by hand' })
  })
  test('none in air that stands', () => {
    expect(channelPressureDropPa(fins, 0.2, 0, airAt(20))).toBe(0)
    expect(channelPressureDropPa(fins, 0.2, -1, airAt(20))).toBe(0)
  })
})

describe('the speed that a fan gives', () => {
  test('a curve that ends above what the channels resist: its last flow, 10 gaps of 160 mm²', () => {
    expectWithin(fanSpeedMS(fan([0, 900], [20, 800]), fins, 0.2, 20), 20 / 3600 / 0.0016, rounding)
  })
  test('one fin stands in one gap', () => {
    const one = { ...fins, count: 1 }
    expectWithin(fanSpeedMS(fan([0, 900], [2, 800]), one, 0.2, 20), 2 / 3600 / 0.00016, rounding)
    const two = { ...fins, count: 2 }
    expectWithin(fanSpeedMS(fan([0, 900], [2, 800]), two, 0.2, 20), 2 / 3600 / 0.00016, rounding)
  })
  test('else where fan and channels meet, in air as warm as the room', () => {
    for (const ambientC of [-20, 45]) {
      const speed = fanSpeedMS(fan([0, 30], [40, 0]), fins, 0.2, ambientC)
      const flow = speed * 0.0016 * 3600
      expectWithin(channelPressureDropPa(fins, 0.2, speed, airAt(ambientC)), 30 * (1 - flow / 40), {
        rel: 1e-6,
        because: 'the root’s tolerance, 1e-9 of the flow',
      })
    }
  })
  test('before its first point the curve is level', () => {
    const speed = fanSpeedMS(fan([30, 5], [40, 0]), fins, 0.2, 20)
    expect(speed * 0.0016 * 3600).toBeLessThan(30)
    expectWithin(channelPressureDropPa(fins, 0.2, speed, airAt(20)), 5, { rel: 1e-6, because: 'the root’s tolerance' })
  })
  test('no pressure, no speed', () => {
    expect(fanSpeedMS(fan([0, 0], [40, 0]), fins, 0.2, 20)).toBe(0)
  })
})

describe('free flow', () => {
  test('the first point without pressure, else the last', () => {
    expect(freeFlowM3h(fan([0, 40], [100, 0], [120, 0]))).toBe(100)
    expect(freeFlowM3h(fan([0, 40], [60, 25]))).toBe(60)
  })
  test('a curve without points moves nothing', () => {
    expect(freeFlowM3h(fan())).toBe(0)
    expect(fanSpeedMS(fan(), fins, 0.2, 20)).toBe(0)
  })
})
