// The coupled run: energy, convergence, what ends it, times by hand.

import { describe, expect, test } from 'vitest'
import type { ModeRun } from '../../../src/electrothermal/result.ts'
import { valueAt } from '../../../src/job/power/modeRun.ts'
import { type PowerOptions, preparePower, runPower } from '../../../src/job/power/run.ts'
import type { Lamp, Pack, Power } from '../../../src/lamp/schema.ts'
import { DEMOS, gannetHead, iceRink, stileLamp } from '../../../src/library/demos.ts'
import { hexagonalPlaces } from '../../../src/num/places.ts'
import { modeWords } from '../../../src/report/power.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin, seeds } from '../../kit/expect.ts'
import { randomPowerLamp } from '../../kit/randomPower.ts'

/** The modes' own runs alone: what is judged beside them, and the lists, take most of the time. No lamp here has a protection. */
const runsOf = (lamp: Lamp, over: PowerOptions = {}): ModeRun[] => {
  const { modes, runUnprotected } = preparePower(lamp, over)
  return modes.filter((m) => over.mode === undefined || m.id === over.mode).map(runUnprotected)
}
const ran = new Map<string, ModeRun>()
/** One run for a lamp, however often it is asked for. */
function modeOf(lamp: Lamp, mode: string, over: PowerOptions = {}): ModeRun {
  const key = JSON.stringify([lamp, mode, over])
  const run = ran.get(key) ?? runsOf(lamp, { ...over, mode })[0]!
  ran.set(key, run)
  return run
}
const last = (x: ArrayLike<number>): number => x[x.length - 1]!

/** in − (light + wall + stored + to the air + driver + wires + cells), of what came in, at its worst moment. */
function worstGap({ energy: e }: ModeRun): number {
  let worst = 0
  for (let i = 1; i < e.inJ.length; i++) {
    const out = e.lightJ[i]! + e.wallJ[i]! + e.storedJ[i]! + e.toAirJ[i]! + e.driverJ[i]! + e.wiresJ[i]! + e.cellsJ[i]!
    worst = Math.max(worst, Math.abs(e.inJ[i]! - out) / Math.max(1e-9, e.inJ[i]!))
  }
  return worst
}

describe('energy in = light + stored + lost, to 0.1 % at every step', () => {
  test.each(Object.entries(DEMOS))('%s, every mode', (_, make) => {
    for (const run of runsOf(make())) expect(worstGap(run)).toBeLessThan(1e-3)
  })
  test.each(seeds(amount(4, 24)))('a random lamp, seed %i', (seed) => {
    const { lamp, kept: retained } = randomPowerLamp(seed)
    for (const run of runsOf(lamp, { retained })) {
      expect(worstGap(run), run.name).toBeLessThan(1e-3)
      for (const curve of Object.values(run.curves)) expect(curve.every(Number.isFinite)).toBe(true)
      for (const series of Object.values(run.energy)) expect(series.every((x: number) => x >= -1e-6)).toBe(true)
    }
  })

  test('the curves tell the same energy: ∫ V A dt of the terminals, by trapezoids', () => {
    const run = modeOf(gannetHead(), 'high')
    const { tS, supplyV, supplyA } = run.curves
    let joules = 0
    for (let i = 1; i < tS.length; i++) {
      const mean = (supplyV[i]! * supplyA[i]! + supplyV[i - 1]! * supplyA[i - 1]!) / 2
      joules += mean * (tS[i]! - tS[i - 1]!)
    }
    expectWithin(joules / 3600, run.energyWh, { rel: 2e-3, because: 'trapezoids over steps of a few per cent' })
  })

  test('what is stored is what the temperatures say: mass × heat × mean rise, in a plate without fins', () => {
    const lamp = gannetHead()
    const plain: Lamp = { ...lamp, cooling: { ...lamp.cooling!, sink: { kind: 'none' } } }
    const run = modeOf(plain, 'turbo')
    const report = runPower(plain, { mode: '' })
    const rise = last(run.curves.plateMeanC) - report.ambientC
    expectWithin(last(run.energy.storedJ), report.sink.plateKg * 896 * rise, {
      rel: 1e-6,
      because: 'one store of heat',
    })
    // What goes to the air, again from the curves and the sink's law.
    expect(last(run.energy.toAirJ)).toBeGreaterThan(0)
  })
})

function fiftyBoards(emitters: 6 | 7): Lamp {
  const lamp = gannetHead()
  const type = { ...lamp.boardTypes[0]!, sites: hexagonalPlaces(1, 12).slice(7 - emitters) }
  const places = hexagonalPlaces(4, 36).slice(0, 50)
  const boards = places.map((p, i) => ({ id: `B${i + 1}`, type: type.id, ...p, turnDeg: 0, currentA: 1 }))
  return { ...lamp, face: { ...lamp.face, sizeMm: 330 }, boardTypes: [type], boards }
}

describe('convergence', () => {
  const hottest = (r: ModeRun) => last(r.curves.plateMaxC) - 20
  test.each([
    ['Gannet Head, turbo', gannetHead(), 'turbo'],
    ...amount(
      [],
      [['Ice rink, full', iceRink(), 'full'] as const, ['fifty boards, turbo', fiftyBoards(7), 'turbo'] as const],
    ),
  ] as const)(
    '%s: cells halved, the time to the limit and the hottest board move by under a hundredth',
    (_, lamp, mode) => {
      const [coarse, fine] = [modeOf(lamp, mode), modeOf(lamp, mode, { refine: 2 })]
      expectWithin(coarse.limit.atS, fine.limit.atS, { rel: 0.01, because: 'as asked' })
      expectWithin(hottest(coarse), hottest(fine), { rel: 0.01, because: 'as asked' })
      const at = 0.6 * fine.limit.atS
      const rise = (r: ModeRun) => valueAt(r.curves.tS, r.curves.junctionMaxC, at) - 20
      expectWithin(rise(coarse), rise(fine), { rel: 0.01, because: 'as asked' })
    },
  )
  test.each([
    ...amount([], [['Gannet Head, turbo', gannetHead(), 'turbo'] as const]),
    ['Gannet Head, high', gannetHead(), 'high'],
    ['Stile lamp, high', stileLamp(), 'high'],
  ] as const)('%s: steps of time halved, the same', (_, lamp, mode) => {
    const [coarse, fine] = [modeOf(lamp, mode), modeOf(lamp, mode, { finer: 2 })]
    expectWithin(coarse.limit.atS, fine.limit.atS, { rel: 0.01, because: 'as asked' })
    for (const at of [1, 10, 60, 0.5 * fine.limit.atS]) {
      const rise = (r: ModeRun) => valueAt(r.curves.tS, r.curves.plateMaxC, at) - 20
      expectWithin(rise(coarse), rise(fine), {
        rel: 0.01,
        because: 'as asked; values between steps lie on straight lines',
      })
    }
  })
})

describe('times by hand', () => {
  const fixed = (volts: number): Power['supply'] => ({ kind: 'fixed', name: '', volts, milliohm: 0, maxA: 1000 })

  test('adiabatic at first: the plate’s mean rises by heat / (mass × heat capacity)', () => {
    const lamp = gannetHead()
    const cold: Lamp = { ...lamp, cooling: { ...lamp.cooling!, sink: { kind: 'none' } } }
    const run = modeOf(cold, 'turbo')
    const { sink } = runPower(cold, { mode: '' })
    const at = 5
    const heat = valueAt(run.curves.tS, run.energy.storedJ, at) + valueAt(run.curves.tS, run.energy.toAirJ, at)
    const rise = valueAt(run.curves.tS, run.curves.plateMeanC, at) - 20
    expectWithin(rise, heat / (sink.plateKg * 896), { rel: 0.01, because: 'hardly anything is given off in 5 s' })
  })

  test('a lamp with too little sink shows seconds, with enough hours', () => {
    const lamp = gannetHead()
    const thin: Lamp = {
      ...lamp,
      cooling: { ...lamp.cooling!, plate: { thicknessMm: 1, metal: 'aluminium-6061' }, sink: { kind: 'none' } },
    }
    const seconds = modeOf(thin, 'turbo')
    expect(seconds.limit.kind).toBe('junction')
    expect(seconds.limit.atS).toBeLessThan(30)
    expect(modeWords(seconds)).toMatch(
      /^Turbo: [\d.]+ s until plastic optics .*, [\d.]+ s until a touch .*, [\d.]+ s until board B\d+ reaches 140 °C; let it cool \d/,
    )
    const hours = modeOf(lamp, 'low')
    expect(hours.limit.kind).toBe('empty')
    expect(modeWords(hours)).toMatch(/^Low: .*, [\d.]+ h until the pack is empty/)
  })

  test('run-time of a constant load: ∫ V dQ / P over the charge', () => {
    // A buck driver at cool, steady junctions takes constant power; without resistance the pack gives ∫ U(q) Q dq.
    const lamp = gannetHead()
    const pack = { ...lamp.power!.supply, cellMilliohm: 0, cutOffCellV: 2.5 } as Pack
    const run = modeOf({ ...lamp, power: { ...lamp.power!, supply: pack } }, 'low')
    const p = (i: number) => run.curves.supplyV[i]! * run.curves.supplyA[i]!
    // Power from half way on, when all is warm.
    const half = run.curves.tS.findIndex((t) => t > run.limit.atS / 2)
    const { charge, volts } = {
      charge: [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
      volts: [3.0, 3.35, 3.48, 3.58, 3.63, 3.67, 3.73, 3.82, 3.91, 4.0, 4.08, 4.2],
    }
    let perCell = 0
    for (let i = 1; i < charge.length; i++) perCell += ((volts[i]! + volts[i - 1]!) / 2) * (charge[i]! - charge[i - 1]!)
    const seconds = (3600 * 18 * 10 * perCell) / p(half)
    expectWithin(run.limit.atS, seconds, {
      rel: 0.01,
      because: 'trapezoids of the table; the first minutes take 1 % more',
    })
    expect(run.limit.kind).toBe('empty')
  })

  test('FL 1 § 1.2.3: a pack that goes out ends it; a step down to 5 % ends it at the step', () => {
    const lamp = gannetHead()
    expectWithin(modeOf(lamp, 'low').fl1S!, modeOf(lamp, 'low').limit.atS, {
      rel: 1e-9,
      because: 'full until it is out',
    })
    const modes = [{ id: 'x', name: 'X', share: 0.3, stepDown: { watch: 'time' as const, afterS: 100, toShare: 0.02 } }]
    const down = modeOf({ ...lamp, power: { ...lamp.power!, modes } }, 'x')
    expectWithin(down.fl1S!, 100, { abs: 1e-6, because: 'the step itself' })
    expectWithin(down.steppedDown!.atS, 100, { abs: 1e-6, because: 'the rule' })
    expect(modeOf(lamp, 'turbo').fl1S).toBeNull()
  })

  test('a steady state is where the run on a supply without end comes to', () => {
    const lamp = iceRink()
    const run = modeOf(lamp, 'inner')
    expect(run.limit.kind).toBe('steady')
    expectWithin(run.steady!.junctionMaxC - 20, last(run.curves.junctionMaxC) - 20, { rel: 0.005, because: 'settled' })
    expectWithin(run.steady!.plateMeanC - 20, last(run.curves.plateMeanC) - 20, { rel: 0.005, because: 'settled' })
    expect(run.steady!.bearable).toBe(true)
    expect(modeOf(lamp, 'full').steady!.bearable).toBe(false)
  })

  test('a step-down by temperature comes where the curve crosses it', () => {
    const run = modeOf(gannetHead(), 'high')
    expectWithin(valueAt(run.curves.tS, run.curves.plateMaxC, run.steppedDown!.atS), 75, {
      abs: 0.05,
      because: 'the event ends a step of its own',
    })
    expectWithin(last(run.boardA[run.boardA.length - 1]!), 0.5, { rel: 1e-6, because: 'half of 1 A' })
  })

  test('a supply too weak, and one too low for the drivers', () => {
    const lamp = gannetHead()
    const on = (supply: Power['supply']) => modeOf({ ...lamp, power: { ...lamp.power!, supply } }, 'turbo')
    // 30 V behind 1 Ω give 225 W at the very most; the drivers sag to what leaves their headroom.
    const weak = on({ ...fixed(30), milliohm: 1000 } as Power['supply'])
    expect(weak.sagsFromS).toBe(0)
    expect(weak.channels.every((c) => c.state === 'sags')).toBe(true)
    expect(weak.mostA * weak.leastV).toBeLessThan(225)
    expect(on(fixed(15)).limit).toMatchObject({ kind: 'drivers', atS: 0 })
    expect(modeWords(on(fixed(15)))).toMatch(/gives no light/)
  })

  test('as the pack sags the drivers give less and less, and let go at last', () => {
    const lamp = gannetHead()
    // Six cells: 18 V when empty. Seven emitters at 0.5 A need some 19 V, and the drivers 2 V more.
    const supply = { ...lamp.power!.supply, series: 6 } as Pack
    const run = modeOf({ ...lamp, power: { ...lamp.power!, supply } }, 'high')
    expect(run.limit.kind).toBe('drivers')
    expect(run.sagsFromS!).toBeLessThan(0.95 * run.limit.atS)
    expectWithin(valueAt(run.curves.tS, run.curves.supplyV, run.sagsFromS!), 21, { abs: 0.3, because: 'by hand' })
    const from = run.curves.tS.findIndex((t) => t >= run.sagsFromS!)
    const fading = [...run.curves.lm.slice(from - 1)]
    for (let i = 1; i < fading.length; i++) expect(fading[i]!).toBeLessThan(fading[i - 1]!)
    expect(run.fl1S!).toBeLessThanOrEqual(run.limit.atS)
    expect(last(run.curves.supplyA)).toBe(0)
  })
})

test('50 boards of 6 are 300 emitters on 50 channels (common practice, no source)', () => {
  const big = fiftyBoards(6)
  const report = runPower(big, { mode: 'low' })
  expect([report.emitters, report.channelCount]).toEqual([300, 50])
  expect(report.wiring.filter((w) => w.part === 'channel')).toHaveLength(50)
  expect(report.modes[0]!.boards).toHaveLength(50)
  expect(worstGap(report.modes[0]!)).toBeLessThan(1e-3)
})
