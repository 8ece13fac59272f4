// The sink as a whole: what counts, which way it turns, and the fan's working point.
import { describe, expect, test } from 'vitest'
import { airAt } from '../../src/heat/air.ts'
import { channelPressureDropPa, fanSpeedMS } from '../../src/heat/blower.ts'
import { joinedFilm } from '../../src/heat/convection.ts'
import { makeSink } from '../../src/heat/sink.ts'
import type { Cooling } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'

const face = { shape: 'square' as const, sizeMm: 200 }
const fins = { kind: 'fins' as const, count: 18, heightMm: 40, thicknessMm: 2, spacingMm: 9 }
const cooling = (over: Partial<Cooling> = {}): Cooling => ({ ...gannetHead().cooling!, sink: fins, ...over })
const watts = (over: Partial<Cooling> = {}) => makeSink(cooling(over), face, 20).totalWK(80)

describe('by hand', () => {
  test('a bare upright plate of 0.2 m, 80 °C in 20 °C: Churchill and Chu’s 6.04 W/m²K and radiation, 0.09 · 5.67e-8 (353.15⁴ − 293.15⁴)/60', () => {
    const bare = makeSink(cooling({ sink: { kind: 'none' }, finish: 'bare' }), face, 20).totalWK(80)
    const radiated = (0.09 * 5.670374419e-8 * (353.15 ** 4 - 293.15 ** 4)) / 60
    expectWithin(bare, 0.04 * (6.0389 + radiated), { rel: 0.015, because: 'a formula of air against a table of it' })
  })
  test('fins: plate to air is base beside link and fin in series, and that is efficiency × area × film', () => {
    const sink = makeSink(cooling(), face, 20)
    const { base, link, fin } = sink.at(80)
    expectWithin(sink.totalWK(80), base + 1 / (1 / link + 1 / fin), { rel: 1e-12, because: 'in series' })
    // 18 fins of 200 × 40 mm, both sides and the tip.
    const eta = link / (link + fin)
    expect(eta).toBeGreaterThan(0.9)
    expect(eta).toBeLessThan(1)
    // The link is about 3 k A / L.
    expectWithin(link, (3 * 160 * 18 * 0.2 * 0.002) / 0.04, { rel: 0.1, because: 'tanh(x)/x ≈ 1 − x²/3' })
    expectWithin(sink.finKg, 18 * 0.2 * 0.04 * 0.002 * 2700, { rel: 1e-9, because: 'volume × density' })
  })
})

describe('which way it turns', () => {
  test('fins help, up to too many; anodised beats bare; moved air beats still; hanging fins are worst', () => {
    expect(watts()).toBeGreaterThan(3 * watts({ sink: { kind: 'none' } }))
    const crowded = { ...fins, count: 60, thicknessMm: 2, spacingMm: 1.3 }
    expect(watts({ sink: crowded })).toBeLessThan(watts())
    expect(watts({ finish: 'anodised' })).toBeGreaterThan(watts({ finish: 'bare' }))
    expect(watts({ air: { kind: 'moved', speedMS: 2 } })).toBeGreaterThan(1.5 * watts())
    expect(watts({ aim: 'up' })).toBeLessThan(watts({ aim: 'down' }))
    expect(watts({ aim: 'up' })).toBeLessThan(watts({ aim: 'level' }))
  })
  test.each([
    ['none', { kind: 'none' as const }],
    ['fins', fins],
    ['pins', { kind: 'pins' as const, count: 300, heightMm: 40, diameterMm: 4, spacingMm: 8 }],
  ])('%s: hotter gives off more in still air, from 1 K to 300 K', (_, sink) => {
    for (const aim of ['level', 'up', 'down'] as const) {
      const s = makeSink(cooling({ sink, aim }), face, 20)
      let last = 0
      for (const k of [1, 5, 20, 60, 120, 300]) {
        const heat = s.totalWK(20 + k) * k
        expect(heat).toBeGreaterThan(last)
        last = heat
      }
    }
  })
  test('fins beyond the face are left out', () => {
    const s = makeSink(cooling({ sink: { ...fins, count: 40 } }), face, 20)
    expect(s.leftOut).toBe(40 - 18)
    expectWithin(s.totalWK(80), watts(), { rel: 1e-12, because: 'the same 18 stand' })
  })
})

describe('a fan on channels', () => {
  const air = airAt(20)
  test('long and slow: 12 µ U L / s² between plates far higher than wide (White, § 6.6)', () => {
    const tall = { ...fins, heightMm: 900, thicknessMm: 0.1 }
    const U = 0.1
    const closed = (12 * air.kinematic * air.densityKgM3 * U * 2) / 0.009 ** 2
    expectWithin(channelPressureDropPa(tall, 2, U, air), closed, { rel: 0.05, because: 'developing at the inlet' })
  })
  test('the working point lies on both curves', () => {
    const fan = {
      kind: 'fan' as const,
      curve: [
        { flowM3h: 0, pascal: 40 },
        { flowM3h: 60, pascal: 25 },
        { flowM3h: 120, pascal: 0 },
      ],
    }
    const narrow = { ...fins, spacingMm: 3, count: 40 }
    const speed = fanSpeedMS(fan, narrow, 0.2, 20)
    const flow = speed * 39 * 0.003 * 0.04 * 3600
    const pressure = flow < 60 ? 40 - (15 * flow) / 60 : 25 - (25 * (flow - 60)) / 60
    expectWithin(channelPressureDropPa(narrow, 0.2, speed, air), pressure, { rel: 1e-6, because: 'where they meet' })
  })
})

describe('still and moved air are one law (Churchill 1977)', () => {
  const pins = { kind: 'pins' as const, count: 300, heightMm: 40, diameterMm: 4, spacingMm: 8 }
  const sinks = { fins, pins, none: { kind: 'none' as const } }
  const aims = ['level', 'up', 'down'] as const
  const cases = Object.entries(sinks).flatMap(([name, sink]) => aims.map((aim) => [name, aim, sink] as const))
  test.each(cases)(
    '%s, %s: gentle air never cools less than still air, more never less than gentle',
    (_, aim, sink) => {
      let last = watts({ sink, aim })
      for (const speedMS of [0.05, 0.1, 0.2, 0.5, 1, 2, 5]) {
        const now = watts({ sink, aim, air: { kind: 'moved', speedMS } })
        expect(now).toBeGreaterThanOrEqual(last)
        last = now
      }
    },
  )
  test('films as large as one another: 2^(1/3) upright; a tenth as large adds 0.03 %', () => {
    expectWithin(joinedFilm(5, 5, 3), 5 * 1.259921, { rel: 1e-6, because: 'by hand' })
    expectWithin(joinedFilm(0.5, 5, 3), 5 * 1.001 ** (1 / 3), { rel: 1e-12, because: 'by hand' })
  })
  test('a bare upright plate at 0.5 m/s, by hand: Nu³ = 0.664³ Re^1.5 Pr + Nu³ of Churchill and Chu', () => {
    const air = airAt(50)
    const re = (0.5 * 0.2) / air.kinematic
    const forced = (0.664 * Math.sqrt(re) * air.prandtl ** (1 / 3) * air.conductivityWmK) / 0.2
    const bare = { sink: sinks.none, finish: 'bare' as const }
    const radiated = (0.09 * 5.670374419e-8 * (353.15 ** 4 - 293.15 ** 4)) / 60
    const natural = watts(bare) / 0.04 - radiated
    const blown = watts({ ...bare, air: { kind: 'moved', speedMS: 0.5 } }) / 0.04 - radiated
    expectWithin(blown, Math.cbrt(forced ** 3 + natural ** 3), { rel: 2e-3, because: 'the table of rows 4 K apart' })
  })
})
