// Whole runs of a plate of four cells in closed form: 11 W of heat, 1 W of light, 0.5 W/K to the air, 967.68 J/K.
import { describe, expect, test } from 'vitest'
import type { PowerModel } from '../../src/electrothermal/model.ts'
import type { RawRun } from '../../src/electrothermal/moment.ts'
import { leftOn, withoutProtection } from '../../src/electrothermal/protection.ts'
import { solveSteadyState } from '../../src/electrothermal/steady.ts'
import { continueRun, runMode } from '../../src/electrothermal/transient.ts'
import { secondsFor, shiftOf } from '../../src/heat/plateTemperatures.ts'
import type { Lamp, Mode } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { fewCells, lumped, ON, sourceOf } from '../kit/fewCells.ts'

const HAND = { rel: 1e-6, because: 'by hand; 683.002 lm/W, not 683' }
const STEPS = { abs: 0.02, because: 'steps of a fifth of the time gone by, second order' }
const C_JK = 967.68
const TAU_S = C_JK / 0.5
const IN_W = 12 / 0.9
const run = (lamp: Lamp, over: Partial<PowerModel> = {}, mode: Mode = ON, options = {}): RawRun =>
  runMode(lumped(lamp, 0.5, over), mode, options)
const end = (r: RawRun) => r.moments[r.moments.length - 1]!
const warming = (tS: number, watts = 11, fromC = 20) =>
  20 + 2 * watts + (fromC - 20 - 2 * watts) * Math.exp(-tS / TAU_S)
const timeS = (fromC: number, toC: number, watts = 11) =>
  TAU_S * Math.log((20 + 2 * watts - fromC) / (20 + 2 * watts - toC))

describe('one node on a supply without end', () => {
  test('it warms by P R (1 − e^(−t/RC)), and every joule is booked', () => {
    const r = run(fewCells())
    expect(r.moments.length).toBeGreaterThan(50)
    expect(r.moments[0]).toMatchObject({ tS: 0, plateMeanC: 20, cellC: 20, charge: 1, passes: 1, hottest: 0 })
    expectWithin(r.moments[0]!.junctionMaxC, 25.5, { abs: 1e-4, because: '11 W at 0.5 K/W from the start' })
    for (const { tS, plateMeanC, plateMaxC, watchedC, junctionMaxC, cellC, account: a } of r.moments) {
      expect(cellC).toBe(20)
      expectWithin(plateMeanC, warming(tS), STEPS)
      expectWithin(plateMaxC, plateMeanC, { abs: 1e-9, because: 'one node' })
      expectWithin(watchedC, plateMeanC, { abs: 1e-9, because: 'one node' })
      expectWithin(junctionMaxC - plateMeanC, 5.5, { abs: 1e-4, because: '11 W at 0.5 K/W' })
      expectWithin(a.inJ, IN_W * tS, HAND)
      expectWithin(a.lightJ, tS, { rel: 1e-5, because: '683.002 lm/W' })
      expectWithin(a.driverJ, (IN_W - 12) * tS, HAND)
      expectWithin(a.storedJ, C_JK * (plateMeanC - 20), { abs: 1e-6, because: 'C ΔT' })
      expectWithin(a.storedJ + a.toAirJ, 11 * tS, HAND)
      expect([a.wallJ, a.wiresJ, a.cellsJ]).toEqual([0, 0, 0])
    }
  })
  test('it has settled once 22 K (e^(−t/2τ) − e^(−t/τ)) falls under 0.1 K: after 10.8 τ and a step', () => {
    const { limit } = run(fewCells())
    expect(limit).toMatchObject({ kind: 'steady', boardIndex: null })
    expect(limit.atS).toBeGreaterThan(10.7 * TAU_S)
    expect(limit.atS).toBeLessThan(1.35 * 10.8 * TAU_S)
  })
  test('steps begin at a tenth of a second and grow with the time gone by, never over a fifth of it', () => {
    const r = run(fewCells())
    const { plate } = lumped(fewCells())
    const areal = { base: 12.5, link: 0, fin: 0, finStored: 0 }
    for (let i = 1; i < r.moments.length; i++) {
      const fromS = r.moments[i - 1]!.tS
      const seconds = r.moments[i]!.tS - fromS
      const wanted = Math.max(0.1, 0.2 * fromS)
      expect(seconds).toBeLessThan(wanted * (1 + 1e-9))
      expect(seconds).toBeGreaterThan(0.4 * wanted)
      // Shifts are powers of two, so that a factored matrix serves again; where those would be too short, eighths of an octave.
      const shift = shiftOf(plate.storedJm2K, areal, wanted)
      const coarse = secondsFor(plate.storedJm2K, areal, 2 ** Math.ceil(Math.log2(shift)))
      const fine = secondsFor(plate.storedJm2K, areal, 2 ** (Math.ceil(8 * Math.log2(shift)) / 8))
      const usual = coarse !== null && coarse > 0.4 * wanted ? coarse : (fine ?? wanted)
      expectWithin(seconds, usual, { rel: 1e-6, because: 'the rule' })
    }
  })
  test('finer by two: each step just half as long', () => {
    const r = run(fewCells(), {}, ON, { finer: 2 })
    expect(r.moments.length).toBeGreaterThan(90)
    for (let i = 1; i < r.moments.length; i++) {
      const fromS = r.moments[i - 1]!.tS
      expectWithin(r.moments[i]!.tS - fromS, Math.max(0.1, 0.2 * fromS) / 2, { rel: 1e-6, because: 'the rule, halved' })
    }
  })
  test('voltage that falls by 0.5 %/K: 11 W − 0.06 W/K · x warms by 11/0.56 K with C/0.56', () => {
    const forwardByJunction = [
      { junctionC: 20, factor: 1 },
      { junctionC: 120, factor: 0.5 },
    ]
    const r = run(fewCells({ emitter: { thermalResistanceKW: 0, forwardByJunction } }))
    for (const { tS, plateMeanC } of r.moments)
      expectWithin(plateMeanC, 20 + (11 / 0.56) * (1 - Math.exp((-0.56 * tS) / C_JK)), {
        abs: 0.03,
        because: 'the voltage of a step is that of its middle, second order',
      })
  })
  test('a conductance that rises with the plate, 0.02 W/K² · x: x = √(P/g) tanh(√(P g) t/C)', () => {
    const model = lumped(fewCells())
    const at = (c: number) => ({ base: 0.02 * Math.max(0, c - 20), link: 0, fin: 0 })
    const r = runMode({ ...model, sink: { ...model.sink, at } }, ON)
    for (const { tS, plateMeanC } of r.moments)
      expectWithin(plateMeanC, 20 + Math.sqrt(11 / 0.02) * Math.tanh((Math.sqrt(11 * 0.02) * tS) / C_JK), {
        abs: 0.2,
        because: 'the conductance of a step is that expected at its middle',
      })
  })
  test('light kept by face, optics and wall: 5, 10 and 20 % of 1 W', () => {
    const retained = { face: 0.05, optics: 0.1, wall: 0.2, traced: true }
    const { tS, account: a } = end(run(fewCells(), { retained }))
    expectWithin(a.lightJ, 0.65 * tS, { rel: 1e-5, because: '683.002 lm/W' })
    expectWithin(a.wallJ, 0.2 * tS, { rel: 1e-5, because: '683.002 lm/W' })
    expectWithin(a.storedJ + a.toAirJ, 11.15 * tS, HAND)
  })
  test('a driver on the plate: its 1.33 W warm it with the boards’ 11 W, and nothing is lost elsewhere', () => {
    const lossW = IN_W - 12
    const r = run(fewCells({ driver: { mounted: 'plate' } }))
    for (const { tS, plateMeanC } of r.moments) expectWithin(plateMeanC, warming(tS, 11 + lossW), STEPS)
    const { tS, account: a } = end(r)
    expectWithin(a.storedJ + a.toAirJ, (11 + lossW) * tS, HAND)
    expect(a.driverJ).toBe(0)
    const steady = solveSteadyState(lumped(fewCells({ driver: { mounted: 'plate' } })), ON, 1)
    expectWithin(steady!.plateMeanC, 20 + 2 * (11 + lossW), { abs: 0.01, because: '18 halvings of 380 K' })
    const apart = run(fewCells({ driver: { mounted: 'elsewhere' } }))
    expectWithin(end(apart).account.driverJ, lossW * end(apart).tS, HAND)
  })
  test('wires: 0.1 Ω before the driver', () => {
    const r = run(fewCells(), { mainOhm: 0.1 })
    const amps = (12 - Math.sqrt(144 - 0.4 * IN_W)) / 0.2
    const { tS, account: a } = end(r)
    expectWithin(a.wiresJ, amps ** 2 * 0.1 * tS, HAND)
    expectWithin(a.inJ, 12 * amps * tS, HAND)
  })
  test('a supply without end stays full, whatever it would have at less', () => {
    const r = run(fewCells(), { source: sourceOf({ openV: (q) => 2 + 10 * q }) })
    expect(new Set(r.moments.map((m) => m.charge))).toEqual(new Set([1]))
    expectWithin(end(r).account.inJ, IN_W * end(r).tS, HAND)
  })
  test('nothing wanted: off at once; more than the supply can give: the supply; a week is the most', () => {
    expect(run(fewCells(), {}, { ...ON, share: 0 }).limit).toEqual({ kind: 'off', atS: 0, boardIndex: null })
    expect(run(fewCells(), { source: sourceOf({ ohm: 10 }) }).limit).toEqual({
      kind: 'supply',
      atS: 0,
      boardIndex: null,
    })
    const model = lumped(fewCells(), 0.0125)
    const slow = { ...model, plate: { ...model.plate, storedJm2K: 1000 * model.plate.storedJm2K } }
    const { limit } = runMode(slow, ON)
    expect(limit.kind).toBe('long')
    expectWithin(limit.atS, 604_800, { abs: 0.01, because: 'a millisecond over a week' })
  })
  test('a junction meets its limit of 40 °C when the plate has 34.5 °C', () => {
    const r = run(fewCells({ emitter: { maxJunctionC: 40 } }))
    expect(r.limit).toMatchObject({ kind: 'junction', boardIndex: 0 })
    expectWithin(r.limit.atS, timeS(20, 34.5), { rel: 0.003, because: '0.02 K before it, and the steps' })
    expectWithin(end(r).junctionMaxC, 40, { abs: 0.03, because: 'within 0.02 K' })
  })
  test('left on past it: the same line goes on, P R (1 − e^(−t/RC)) to 42 °C; the run that ended stays as it was', () => {
    const model = lumped(fewCells({ emitter: { maxJunctionC: 40 } }))
    const ended = runMode(model, ON)
    const [count, atS] = [ended.moments.length, end(ended).tS]
    const on = continueRun(leftOn(model), ended)
    expect([ended.moments.length, end(ended).tS, ended.limit.kind]).toEqual([count, atS, 'junction'])
    expect(on.moments.slice(0, count)).toEqual(ended.moments)
    expect(on.limit).toMatchObject({ kind: 'steady', boardIndex: null })
    for (const { tS, plateMeanC } of on.moments) expectWithin(plateMeanC, warming(tS), STEPS)
    expectWithin(end(on).plateMeanC, 42, { abs: 0.1, because: 'settled' })
  })
  test('left on without a way out for the heat: ended where the plate passes 400 °C, by C ΔT / P', () => {
    const model = lumped(fewCells({ emitter: { maxJunctionC: 40 } }), 1e-9)
    const { limit } = continueRun(leftOn(model), runMode(model, ON))
    expect(limit.kind).toBe('beyond')
    expectWithin(limit.atS, (C_JK * 380) / 11, { rel: 0.003, because: 'half a kelvin before it' })
  })
  test('left on: neither warm cells nor the protection end it; an empty pack does', () => {
    const source = sourceOf({ capacityC: 6000, maxCellC: 20.1, heatJK: 10, ohm: 0.01, cutOffV: 1 })
    const model = lumped(fewCells(), 0.5, { source, protection: { cutOut: { openC: 30 } } })
    const ended = runMode(model, ON)
    expect(['cells', 'cutOut']).toContain(ended.limit.kind)
    const on = continueRun(leftOn(model), runMode(withoutProtection(model), ON))
    expect(on.limit.kind).toBe('empty')
    expectWithin(on.limit.atS, 6000 / 1.112, { rel: 0.01, because: '1.111 A, a little more behind 0.01 Ω' })
  })
})

describe('a pack', () => {
  test('what is drawn is the integral of the current: 1.111 A of 1000 C, empty after 900 s', () => {
    const r = run(fewCells(), { source: sourceOf({ capacityC: 1000 }) })
    const amps = IN_W / 12
    for (const { tS, charge } of r.moments.slice(0, -1))
      expectWithin(charge, 1 - (amps * tS) / 1000, { abs: 1e-9, because: 'It' })
    expect(r.limit.kind).toBe('empty')
    expect(end(r).charge).toBe(0)
    expect(r.limit.atS).toBeGreaterThan(899)
    expectWithin(r.limit.atS, 1000 / amps, { abs: 3, because: 'the last step is a three hundredth of the charge' })
  })
  test('10 V + 2 V · q down to its cut-off of 11 V: V² = 144 − 4 P t/C', () => {
    const source = sourceOf({ openV: (q) => 10 + 2 * q, capacityC: 2000, cutOffV: 11 })
    const r = run(fewCells(), { source })
    for (const { tS, charge } of r.moments)
      expectWithin(10 + 2 * charge, Math.sqrt(144 - (4 * IN_W * tS) / 2000), {
        abs: 2e-5,
        because: 'the middle of each step',
      })
    expect(r.limit.kind).toBe('empty')
    expectWithin(r.limit.atS, (23 * 2000) / (4 * IN_W), { rel: 2e-3, because: 'a ten thousandth of 11 V before it' })
  })
  test('from half of its charge on', () => {
    const source = sourceOf({ openV: (q) => 10 + 4 * q, capacityC: 2000, charged: 0.5 })
    const r = run(fewCells(), { source })
    expect(r.moments[0]!.charge).toBe(0.5)
    expectWithin(r.moments[0]!.electrics.openV, 12, HAND)
  })
  test('its own 0.1 Ω warms it, nothing given off: I² R t over 50 J/K, to its limit of 25 °C', () => {
    const source = sourceOf({ ohm: 0.1, capacityC: 1e5, heatJK: 50, maxCellC: 25 })
    const r = run(fewCells(), { source })
    const amps = (12 - Math.sqrt(144 - 0.4 * IN_W)) / 0.2
    for (const { tS, cellC, account } of r.moments) {
      expectWithin(cellC, 20 + (amps ** 2 * 0.1 * tS) / 50, HAND)
      expectWithin(account.cellsJ, amps ** 2 * 0.1 * tS, HAND)
    }
    expect(r.limit.kind).toBe('cells')
    expectWithin(r.limit.atS, (5 * 50) / (amps ** 2 * 0.1), {
      rel: 1e-3,
      because: 'a thousandth of a kelvin before it',
    })
  })
  test('it never rests, however long it lasts: to the last of its charge', () => {
    const r = run(fewCells(), { source: sourceOf({ capacityC: 1e5 }) })
    expect(r.limit.kind).toBe('empty')
    expectWithin(r.limit.atS, 9e4, { rel: 0.005, because: 'the last step' })
  })
})

describe('a step-down', () => {
  const mode = (stepDown: Mode['stepDown']): Mode => ({ ...ON, stepDown })

  test('by the clock: to half of the current after just 100 s, and on from there', () => {
    const r = run(fewCells(), {}, mode({ watch: 'time', afterS: 100, toShare: 0.5 }))
    expectWithin(r.steppedDown!.atS, 100, { abs: 1e-6, because: 'the step ends there' })
    expect([r.steppedDown!.toShare, r.share]).toEqual([0.5, 0.5])
    const i = r.moments.findIndex((m) => m.tS > 99.999)
    const [before, after, next] = [r.moments[i]!, r.moments[i + 1]!, r.moments[i + 2]!]
    expect(after.tS).toBe(before.tS)
    expectWithin(before.electrics.totalLm, 683, HAND)
    expectWithin(after.electrics.totalLm, 341.5, HAND)
    expectWithin(after.plateMeanC, warming(100), STEPS)
    // Steps begin anew.
    expect(next.tS - after.tS).toBeLessThan(0.1 + 1e-9)
    for (const { tS, plateMeanC } of r.moments.slice(i + 1))
      expectWithin(plateMeanC, warming(tS - 100, 5.5, warming(100)), STEPS)
    expectWithin(end(r).account.inJ, IN_W * 100 + (IN_W / 2) * (end(r).tS - 100), HAND)
  })
  test('by the plate, at 30 °C, or by the junction, at 35.5 °C: the same moment', () => {
    for (const [watch, atC] of [
      ['plate', 30],
      ['junction', 35.5],
    ] as const) {
      const r = run(fewCells(), {}, mode({ watch, atC, toShare: 0.25 }))
      expectWithin(r.steppedDown!.atS, timeS(20, 30), { rel: 0.004, because: '0.02 K before it, and the steps' })
      expect(r.limit.kind).toBe('steady')
      expectWithin(end(r).plateMeanC, 25.5, { abs: 0.5, because: 'what may still be to come' })
    }
  })
  test('to nothing: the run ends', () => {
    const r = run(fewCells(), {}, mode({ watch: 'time', afterS: 50, toShare: 0 }))
    expect(r.limit.kind).toBe('off')
    expectWithin(r.limit.atS, 50, { abs: 1e-6, because: 'the step ends there' })
  })
  test('the run hasn’t settled before as much time again has gone by since', () => {
    const r = run(fewCells(), {}, mode({ watch: 'time', afterS: 40_000, toShare: 0.999 }))
    expect(r.limit.kind).toBe('steady')
    expect(r.limit.atS).toBeLessThan(40_000)
    const early = run(fewCells(), {}, mode({ watch: 'time', afterS: 15_000, toShare: 0.998 }))
    expect(early.limit.atS).toBeGreaterThan(30_000)
  })
})

describe('a cut-out', () => {
  const [openC, closeC] = [32, 28]
  const onS = timeS(closeC, openC)
  const offS = TAU_S * Math.log((openC - 20) / (closeC - 20))

  test('opens at 32 °C and closes at 28 °C, over and over, and ends once two cycles are alike', () => {
    const r = run(fewCells(), { protection: { cutOut: { openC, closeC } } })
    expect(r.limit.kind).toBe('cycles')
    const { switched, open } = r.protection
    expect(switched.map((s) => s.open)).toEqual([true, false, true, false, true])
    expect(open).toBe(true)
    const first = timeS(20, openC)
    for (const [i, atS] of [first, first + offS, first + offS + onS, first + 2 * offS + onS].entries())
      expectWithin(switched[i]!.atS, atS, { rel: 0.004, because: '0.01 K before each, and the steps' })
    for (const m of r.moments) expect([0, 1]).toContain(m.passes)
    const dark = r.moments.filter((m) => m.passes === 0)
    expect(dark.length).toBeGreaterThan(10)
    for (const m of dark) expect([m.electrics.totalLm, m.electrics.bus.supplyA]).toEqual([0, 0])
    const { account: a } = end(r)
    expectWithin(a.inJ, IN_W * (first + 2 * onS), { rel: 0.004, because: 'only while it is closed' })
    expectWithin(a.storedJ + a.toAirJ, (11 / IN_W) * a.inJ, HAND)
    expect(r.sagsFromS).toBeNull()
    expect(r.letGoFromS).toBeNull()
  })
  test('each move is two moments at one time, and steps begin anew', () => {
    const { moments } = run(fewCells(), { protection: { cutOut: { openC, closeC } } })
    const i = moments.findIndex((m) => m.passes === 0)
    expect(moments[i]!.tS).toBe(moments[i - 1]!.tS)
    expect(moments[i]!.plateMeanC).toBe(moments[i - 1]!.plateMeanC)
    expect(moments[i + 1]!.tS - moments[i]!.tS).toBeLessThan(0.1 + 1e-9)
  })
  test('one that latches ends the run where it opens; in air over it it never closes at all', () => {
    const r = run(fewCells(), { protection: { cutOut: { openC } } })
    expect(r.limit.kind).toBe('cutOut')
    expectWithin(r.limit.atS, timeS(20, openC), { rel: 0.004, because: '0.01 K before it, and the steps' })
    const warm = run(fewCells({ ambientC: 40 }), { protection: { cutOut: { openC } } })
    expect(warm.limit).toEqual({ kind: 'cutOut', atS: 0, boardIndex: null })
    expect(warm.protection.switched).toEqual([{ atS: 0, open: true }])
    expect(warm.moments[0]).toMatchObject({ passes: 0 })
    expect(warm.moments[0]!.electrics.totalLm).toBe(0)
  })
})

describe('a fold-back', () => {
  const foldBack = { startC: 30, endC: 40, leastShare: 0.2 }

  test('lets all through up to 30 °C; from there C ẋ = 11 (1 − 0.08 y) − 0.5 (10 + y), y over 30 °C', () => {
    const r = run(fewCells(), { protection: { foldBack } })
    const first = timeS(20, 30)
    // 6 W − 1.38 W/K · y: y = (6/1.38)(1 − e^(−1.38 t/C)).
    const y = (tS: number) => (6 / 1.38) * (1 - Math.exp((-1.38 * tS) / C_JK))
    for (const { tS, plateMeanC, passes, electrics } of r.moments) {
      const celsius = tS <= first ? warming(tS) : 30 + y(tS - first)
      expectWithin(plateMeanC, celsius, { abs: 0.06, because: 'the share of a step is that of its end' })
      expectWithin(passes, Math.min(1, 1 - 0.08 * (plateMeanC - 30)), { abs: 1e-9, because: 'its line' })
      expectWithin(electrics.totalLm, 683 * passes, HAND)
    }
    expect(r.limit.kind).toBe('steady')
    expectWithin(end(r).plateMeanC, 94.8 / 2.76, { abs: 0.05, because: 'settled' })
  })
  test('its beginning is an event: the step ends there and steps begin anew', () => {
    const { moments } = run(fewCells(), { protection: { foldBack } })
    const i = moments.findIndex((m) => m.passes < 1)
    expectWithin(moments[i]!.plateMeanC, 30, { abs: 0.02, because: 'the search for the event' })
    expect(moments[i + 1]!.tS - moments[i]!.tS).toBeLessThan(0.1 + 1e-9)
    const later = moments.find((m) => m.tS > moments[i]!.tS + 100)!
    const j = moments.indexOf(later)
    expect(moments[j + 1]!.tS - later.tS).toBeGreaterThan(5)
  })
  test('a step’s energy is that of the share at its end', () => {
    const { moments } = run(fewCells(), { protection: { foldBack } })
    for (let i = 1; i < moments.length; i++) {
      const [a, b] = [moments[i - 1]!, moments[i]!]
      const share = b.passes
      expectWithin(b.account.inJ - a.account.inJ, IN_W * share * (b.tS - a.tS), {
        rel: 1e-4,
        because: 'implicit Euler',
      })
    }
  })
  test('only its first beginning: after a cut-out has closed, steps go on growing past it', () => {
    const cutOut = { openC: 34, closeC: 28 }
    const { moments, protection } = run(fewCells(), { protection: { cutOut, foldBack } })
    const closedS = protection.switched[1]!.atS
    const i = moments.findIndex((m) => m.tS > closedS && m.passes < 1)
    expectWithin(moments[i]!.tS - closedS, timeS(28, 30), { rel: 0.02, because: 'the event, and the steps' })
    // A fifth of the 298 s since it closed, or the next shorter usual step.
    expect(moments[i + 1]!.tS - moments[i]!.tS).toBeGreaterThan(20)
  })
  test('in air over its start it holds back from the first moment on', () => {
    const r = run(fewCells({ ambientC: 35 }), { protection: { foldBack } })
    expectWithin(r.moments[0]!.passes, 0.6, { abs: 1e-9, because: '1 − 0.8 · 5/10' })
    expectWithin(r.moments[0]!.electrics.totalLm, 0.6 * 683, HAND)
  })
  test('after a step-down to a quarter all of that is let through again', () => {
    const stepDown = { watch: 'time' as const, afterS: 5000, toShare: 0.25 }
    const r = run(fewCells(), { protection: { foldBack } }, { ...ON, stepDown })
    expect(end(r).passes).toBe(1)
    expectWithin(end(r).electrics.totalLm, 0.25 * 683, HAND)
    const i = r.moments.findIndex((m) => m.tS > 4999.99)
    expectWithin(r.moments[i + 1]!.electrics.totalLm, 0.25 * 683 * r.moments[i + 1]!.passes, HAND)
    expect(r.moments[i + 1]!.passes).toBeLessThan(0.7)
  })
})
