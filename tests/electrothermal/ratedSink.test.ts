// A sink by its data sheet on a plate simple enough for paper: 11 W of heat, a plate of 968 J/K, R and C of the sink.
import { describe, expect, test } from 'vitest'
import { conductancesAt, makeModel } from '../../src/electrothermal/model.ts'
import type { ModeRun } from '../../src/electrothermal/result.ts'
import { preparePower } from '../../src/job/power/run.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { Lamp, Sink } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { once } from '../kit/once.ts'
import { HEAT_J_KGK, KG, LIGHT_W, onePlate, SIDE_M, THICK_M } from '../kit/onePlate.ts'

type Rated = Extract<Sink, { kind: 'rated' }>
const HEAT_W = 12 - LIGHT_W
const PLATE_JK = KG * HEAT_J_KGK
const rated = (over: Partial<Rated> = {}): Rated => ({
  ...{ kind: 'rated', resistanceKW: 2, heatCapacityJK: 2000, flow: 'natural' },
  ...over,
})
const lampOf = (over: Partial<Rated> = {}, cooling: Partial<NonNullable<Lamp['cooling']>> = {}) =>
  onePlate({ sink: rated(over), ...cooling })
function runOf(lamp: Lamp): ModeRun {
  const { modes, runUnprotected } = preparePower(lamp)
  return runUnprotected(modes[0]!)
}

describe('one store of heat behind a resistance (lumped capacitance; Incropera and DeWitt, § 5.1)', () => {
  const ran = once(() => runOf(lampOf()))
  const riseK = HEAT_W * 2
  const tauS = 2 * (2000 + PLATE_JK)

  test('it settles P R over the air: 22 K', () => {
    expectWithin(ran().steady!.plateMeanC - 20, riseK, {
      rel: 1e-3,
      because: 'half of the plate’s thickness is 0.0008 K/W',
    })
  })
  test('on its way it follows P R (1 − e^(−t/RC)), plate and sink in one', () => {
    const { tS, sinkC } = ran().curves
    expect(tS.length).toBeGreaterThan(30)
    for (let i = 0; i < tS.length; i++) {
      const closed = riseK * (1 - Math.exp(-tS[i]! / tauS))
      expectWithin(sinkC[i]! - 20, closed, { abs: 0.002 * riseK, because: 'steps of a fifth of the time gone by' })
    }
  })
  test('the flow into it begins with nothing and ends with all of the heat; its base is P R over the air', () => {
    const { tS, sinkW } = ran().curves
    expect(sinkW[0]).toBe(0)
    const last = tS.length - 1
    expectWithin(sinkW[last]!, HEAT_W, { rel: 0.02, because: 'settled within 0.5 K of 22 K' })
    // Between them: what the plate doesn't store itself.
    const i = tS.findIndex((t) => t > tauS / 2)
    const share = 2000 / (2000 + PLATE_JK)
    const gone = Math.exp(-tS[i]! / tauS)
    expectWithin(sinkW[i]!, HEAT_W * (1 - gone + share * gone), { rel: 0.005, because: 'the plate takes its own part' })
  })
  test('the energy closes: stored is C ΔT of plate and sink, given to the air the rest', () => {
    const { tS, plateMeanC, sinkC } = ran().curves
    const e = ran().energy
    for (let i = 1; i < tS.length; i++) {
      const stored = PLATE_JK * (plateMeanC[i]! - 20) + 2000 * (sinkC[i]! - 20)
      expectWithin(e.storedJ[i]!, stored, { rel: 1e-6, because: 'C ΔT' })
      expectWithin(e.storedJ[i]! + e.toAirJ[i]!, HEAT_W * tS[i]!, { rel: 1e-6, because: 'all heat' })
    }
  })
})

describe('limits', () => {
  test('a resistance of nearly nothing: what is left is R and half of the plate, t/2kA = 0.005/(160 · 0.04)', () => {
    const least = 0.001 + THICK_M / 2 / (160 * SIDE_M ** 2)
    expectWithin(makeModel(lampOf({ resistanceKW: 0.001 }), null).sink.totalWK(60), 1 / least, {
      rel: 1e-12,
      because: 'in series',
    })
    expectWithin(runOf(lampOf({ resistanceKW: 0.001 })).steady!.plateMeanC - 20, HEAT_W * least, {
      abs: 0.002,
      because: 'the search for the mean ends there',
    })
  })
  test('spread over the whole face: conductance by area', () => {
    const model = makeModel(lampOf(), null)
    const areal = conductancesAt(model, 60)
    expectWithin(areal.fin, 0.5 / SIDE_M ** 2, { rel: 1e-9, because: '1/(R A)' })
    expectWithin(areal.finStored, 2000 / SIDE_M ** 2, { rel: 1e-9, because: 'C/A' })
    expect(areal.base).toBe(0)
  })
  test('air, surface and aim of the lamp change nothing, nor does the rise', () => {
    const wattPerK = (over: Parameters<typeof onePlate>[0], c = 60) => {
      const { sink } = makeModel(lampOf({}, over), null)
      expect(sink.speedMS).toBeNull()
      return sink.totalWK(c)
    }
    const plain = wattPerK({})
    expect(wattPerK({ air: { kind: 'moved', speedMS: 10 } })).toBe(plain)
    expect(wattPerK({ finish: 'bare', aim: 'up' })).toBe(plain)
    expect(wattPerK({}, 21)).toBe(plain)
    expect(wattPerK({}, 399)).toBe(plain)
  })
  test('no heat capacity: as warm as one that has settled, once the plate’s own 968 J/K are', () => {
    const { tS, sinkC } = runOf(lampOf({ heatCapacityJK: 0 })).curves
    for (let i = 0; i < tS.length; i++) {
      const closed = HEAT_W * 2 * (1 - Math.exp(-tS[i]! / (2 * PLATE_JK)))
      // The base without a store follows the plate by the share of the two resistances at once.
      expectWithin(sinkC[i]! - 20, closed, { abs: 0.05, because: 'steps of a fifth of the time gone by' })
    }
  })
  test('a great store of heat isn’t taken for settled while it still warms: 100 kJ/K at 2 K/W run for all of the week', () => {
    const { limit, curves } = runOf(lampOf({ heatCapacityJK: 100_000 }))
    expect(limit.kind).toBe('long')
    const gone = Math.exp(-(7 * 86_400) / (2 * (100_000 + PLATE_JK)))
    expectWithin(curves.plateMeanC.at(-1)!, 20 + HEAT_W * 2 * (1 - gone), { abs: 0.05, because: 'coarse steps' })
  })
  test('after a few time constants it is settled: 10 kJ/K at 2 K/W, 6 hours', () => {
    const { limit, curves } = runOf(lampOf({ heatCapacityJK: 10_000 }))
    expect(limit.kind).toBe('steady')
    expectWithin(curves.plateMeanC.at(-1)!, 20 + HEAT_W * 2, { abs: 0.5, because: 'what may still be to come' })
  })
  const ends = [0.001, 1000].flatMap((resistanceKW) =>
    [0, 10_000_000].flatMap((heatCapacityJK) =>
      [0.3, 200].map((thicknessMm) => [resistanceKW, heatCapacityJK, thicknessMm] as const),
    ),
  )
  test.each(ends)(
    '%f K/W, %f J/K, plate of %f mm: every figure is a number',
    (resistanceKW, heatCapacityJK, thicknessMm) => {
      const lamp = lampOf({ resistanceKW, heatCapacityJK, maxW: 0.1 }, { plate: { thicknessMm, metal: 'copper' } })
      const read = readLamp(lamp)
      expect(read.ok).toBe(true)
      const { curves, energy, steady } = runOf(lamp)
      for (const y of [...Object.values(curves), ...Object.values(energy)] as Float64Array[])
        expect(y.every(Number.isFinite)).toBe(true)
      if (steady) expect(Object.values(steady).every((v) => typeof v === 'boolean' || Number.isFinite(v))).toBe(true)
      // 11 W at 1000 K/W pass 400 °C.
      expect(steady === null).toBe(resistanceKW === 1000)
    },
  )
})
