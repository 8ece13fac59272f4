// Short circuits and charging currents by hand: Ohm's law.
import { describe, expect, test } from 'vitest'
import type { Harness, Pack, Power, Supply } from '../../src/lamp/schema.ts'
import { gannetPower } from '../../src/library/demoPower.ts'
import { faultCurrents, inrushOf } from '../../src/power/fault.ts'
import { expectWithin } from '../kit/expect.ts'

const BY_HAND = { rel: 1e-9, because: 'by hand' }
/** AWG 10: 3.2770 Ω/km at 20 °C (NBS Handbook 100), 5 m and back, one pair of 2 mΩ each way, contact 1 mΩ. */
const MAIN_OHM = 0.03277 + 0.004 + 0.001
const WIRE = { rel: 1e-4, because: 'printed digits of the wire' }

const harness: Harness = {
  ...gannetPower.harness,
  main: { gauge: { system: 'awg', number: 10 }, lengthMm: 5000, connectors: 1, fuse: null },
  connectorMilliohm: 2,
  contactor: { maxA: 50, milliohm: 1 },
}
/** 12 of 4.2 V: 50.4 V; 12 · 20 mΩ/4 = 60 mΩ. */
const pack: Pack = { ...(gannetPower.supply as Pack), series: 12, parallel: 4, cellMilliohm: 20, charged: 0.3 }
const fixed: Supply = { kind: 'fixed', name: '', volts: 48, milliohm: 20, maxA: 15 }
const power = (over: Partial<Power> = {}): Power => ({ ...gannetPower, supply: pack, harness, ...over })

describe('into a short circuit', () => {
  test('a pack: 50.4 V over 60 mΩ at its terminals, and over the cool main wires as well', () => {
    const f = faultCurrents(power())
    expectWithin(f.supplyA!, 50.4 / 0.06, BY_HAND)
    expectWithin(f.branchA!, 50.4 / (0.06 + MAIN_OHM), WIRE)
  })
  test('cells without a resistance: not known at the terminals', () => {
    const f = faultCurrents(power({ supply: { ...pack, cellMilliohm: 0 } }))
    expect(f.supplyA).toBeNull()
    expectWithin(f.branchA!, 50.4 / MAIN_OHM, WIRE)
  })
  test('neither cells nor wires with one: not known', () => {
    const bare = { ...harness, main: { ...harness.main, lengthMm: 0, connectors: 0 }, contactor: null }
    expect(faultCurrents(power({ supply: { ...pack, cellMilliohm: 0 }, harness: bare }))).toEqual({
      supplyA: null,
      branchA: null,
    })
    expect(faultCurrents(power({ supply: { ...fixed, shortA: 30 }, harness: bare }))).toEqual({
      supplyA: 30,
      branchA: 30,
    })
  })
  test('a fixed supply: what its document says, and less behind the wires', () => {
    expect(faultCurrents(power({ supply: fixed }))).toEqual({ supplyA: null, branchA: null })
    expect(faultCurrents(power({ supply: { ...fixed, shortA: 30 } }))).toEqual({ supplyA: 30, branchA: 30 })
    const strong = faultCurrents(power({ supply: { ...fixed, shortA: 5000 } }))
    expect(strong.supplyA).toBe(5000)
    expectWithin(strong.branchA!, 48 / MAIN_OHM, WIRE)
  })
})

describe('charging the drivers', () => {
  const two = (microfarad: number | undefined, over: Partial<Power> = {}) => {
    const [driver] = gannetPower.drivers
    const named = microfarad === undefined ? driver! : { ...driver!, inputMicrofarad: microfarad }
    return inrushOf(power({ drivers: [named], ...over }), ['buck', 'buck'])
  }
  test('2 × 470 µF on 50.4 V: 1.194 J, held by cells and wires alone', () => {
    const i = two(470)
    expect(i).toMatchObject({ typical: false, prechargeA: null, prechargeS: null })
    expectWithin(i.farad, 940e-6, BY_HAND)
    expectWithin(i.joule, 0.5 * 940e-6 * 50.4 ** 2, BY_HAND)
    expectWithin(i.peakA!, 50.4 / (0.06 + MAIN_OHM), WIRE)
  })
  test('none named: 220 µF each; none at all: no current', () => {
    expect(two(undefined).typical).toBe(true)
    expectWithin(two(undefined).farad, 440e-6, BY_HAND)
    expect(two(0)).toMatchObject({ farad: 0, peakA: 0, joule: 0, typical: false })
    expect(inrushOf(power(), [])).toMatchObject({ farad: 0, peakA: 0 })
    expectWithin(inrushOf(power(), ['buck', 'no such']).farad, 440e-6, BY_HAND)
  })
  test('through 22 Ω: 50.4 V/22.1 Ω, to 99 % in five time constants', () => {
    const contactor = { maxA: 50, milliohm: 1, prechargeOhm: 22 }
    const i = two(470, { harness: { ...harness, contactor } })
    const ohm = 22 + 0.06 + MAIN_OHM
    expectWithin(i.prechargeA!, 50.4 / ohm, WIRE)
    expectWithin(i.prechargeS!, 5 * ohm * 940e-6, WIRE)
    expectWithin(i.peakA!, 50.4 / (0.06 + MAIN_OHM), WIRE)
  })
  test('no resistance anywhere: not known', () => {
    const bare = { ...harness, main: { ...harness.main, lengthMm: 0, connectors: 0 }, contactor: null }
    expect(two(470, { supply: { ...pack, cellMilliohm: 0 }, harness: bare }).peakA).toBeNull()
  })
})
