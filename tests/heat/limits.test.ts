// What a run passes, in order, by hand on straight lines.
import { describe, expect, test } from 'vitest'
import { type LimitRun, limitsOf, type PartsOnPlate } from '../../src/heat/limits.ts'
import { runPower } from '../../src/job/power/run.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { limitWords, modeWords } from '../../src/report/power.ts'
import { expectWithin } from '../kit/expect.ts'
import { fakeRun } from '../kit/fakePower.ts'

const parts: PartsOnPlate = { plasticOptics: ['Cup'], leadInsulationC: 90, boardNames: ['B1', 'B2'], sinkMaxW: null }
/** 20 °C rising by `perS` K each second. */
const ramp = (perS: number, seconds: number, over: Partial<LimitRun> = {}): LimitRun => ({
  limit: { kind: 'junction', atS: seconds, boardIndex: 1 },
  sagsFromS: null,
  letGoFromS: null,
  curves: { tS: [0, seconds], plateMaxC: [20, 20 + perS * seconds] },
  ...over,
})
const kindsAndTimes = (run: LimitRun, on = parts) =>
  limitsOf(run, on).map((l) => [l.limit, Math.round(100 * l.atS) / 100])

describe('the earliest limit of all', () => {
  test('0.1 K/s: a minute at 51 °C burns at 310 + 60 s, ten seconds at 55 °C at 350 + 10 s; optics 500 s, leads 700 s', () => {
    expect(kindsAndTimes(ramp(0.1, 1000))).toEqual([
      ['touch', 360],
      ['optic', 500],
      ['insulation', 700],
      ['junction', 1000],
    ])
  })
  test('2 K/s: a second at 65 °C, 22.5 + 1 s, comes before ten at 55 °C, 17.5 + 10 s', () => {
    const [first] = limitsOf(ramp(2, 60), parts)
    expect(first).toMatchObject({ limit: 'touch', atS: 23.5, celsius: 65, contactS: 1 })
  })
  test('0.001 K/s: ten minutes at 48 °C, 28 000 + 600 s, comes before eight hours at 43 °C', () => {
    expect(limitsOf(ramp(0.001, 30_000), parts)[0]).toMatchObject({ limit: 'touch', atS: 28_600, contactS: 600 })
  })
  test('a plate that passes nothing: only what ends the run, with its part; a steady one: none', () => {
    const cool = ramp(0.02, 1000)
    expect(limitsOf(cool, parts)).toEqual([
      { limit: 'junction', part: 'board B2', atS: 1000, celsius: null, contactS: null, ends: true },
    ])
    expect(limitsOf({ ...cool, limit: { kind: 'steady', atS: 1000, boardIndex: null } }, parts)).toEqual([])
  })
  test('no plastic, no leads named: neither is listed', () => {
    const bare = { ...parts, plasticOptics: [], leadInsulationC: null }
    expect(kindsAndTimes(ramp(0.1, 1000), bare).map(([kind]) => kind)).toEqual(['touch', 'junction'])
  })
  test('a sink for 40 W that takes 0, then 100 W after 1000 s: passed at 400 s; no limit given or no flow known: not', () => {
    const cool = ramp(0.001, 1000)
    const run = { ...cool, curves: { ...cool.curves, sinkW: [0, 100] } }
    const on = { ...parts, sinkMaxW: 40 }
    expect(kindsAndTimes(run, on)).toEqual([
      ['sink', 400],
      ['junction', 1000],
    ])
    expect(limitWords(limitsOf(run, on)[0]!)).toBe('the sink takes more than the 40 W of its data sheet')
    expect(kindsAndTimes(run)).toEqual([['junction', 1000]])
    expect(kindsAndTimes(cool, on)).toEqual([['junction', 1000]])
  })
  test('drivers that sag or let go, once; the pack', () => {
    const over = { sagsFromS: 5, letGoFromS: 7 }
    const end = (kind: string, atS: number) => ({ ...over, limit: { kind, atS, boardIndex: null } })
    expect(kindsAndTimes(ramp(0.001, 9, end('empty', 9)))).toEqual([
      ['driver', 5],
      ['driver', 7],
      ['pack', 9],
    ])
    expect(kindsAndTimes(ramp(0.001, 7, end('drivers', 7)))).toEqual([
      ['driver', 5],
      ['driver', 7],
    ])
    for (const kind of ['cells', 'supply'])
      expect(kindsAndTimes(ramp(0.001, 9, end(kind, 9))).at(-1)).toEqual(['pack', 9])
  })
})

describe('in words', () => {
  test('the line leads with the earliest and ends with what ends it', () => {
    const limits = limitsOf(ramp(0.9, 100, { sagsFromS: 0 }), parts)
    const words = modeWords(fakeRun({ limits, limit: { kind: 'junction', atS: 100, boardIndex: 1 } }))
    // 20 + 0.9 t: 55 °C at 38.9 + 10 s, 70 °C at 55.6 s, 90 °C at 77.8 s: a time until harm is rounded down.
    expect(words).toBe(
      'Full: at once a driver can’t hold its current, 48 s until a touch of ten seconds burns (plate at 55 °C), 55 s until plastic optics on the face (“Cup”) pass 70 °C, 77 s until the boards’ leads pass the 90 °C of their insulation, 1.6 min until board 2 reaches 120 °C; let it cool 4 min, then half of its heat is gone.',
    )
    expect(limits.map((l) => limitWords(l)).at(-1)).toBe('board B2 reaches its junction limit')
  })
  test('a step-down stands at its place among them', () => {
    const limits = limitsOf(ramp(0.9, 100), parts)
    const words = modeWords(fakeRun({ limits, steppedDown: { atS: 50, toShare: 0.5 } }))
    expect(words).toMatch(/^Full: 48 s until a touch .*, steps down to 50 % after 50 s, 55 s until plastic/)
  })
  test('Gannet Head at full: its acrylic is past 70 °C long before a junction is at its limit', () => {
    const [turbo] = runPower(gannetHead(), { mode: 'turbo' }).modes
    const optic = turbo!.limits.find((l) => l.limit === 'optic')!
    expect(optic.atS).toBeLessThan(turbo!.limit.atS / 2)
    const { tS, plateMaxC } = turbo!.curves
    const i = tS.findIndex((t) => t >= optic.atS)
    const part = (optic.atS - tS[i - 1]!) / (tS[i]! - tS[i - 1]!)
    expectWithin(plateMaxC[i - 1]! + part * (plateMaxC[i]! - plateMaxC[i - 1]!), 70, {
      rel: 1e-9,
      because: 'read from the curve',
    })
    expect(modeWords(turbo!)).toMatch(
      /^Turbo: [\d.]+ s until a touch of .* burns .*, [\d.]+ (s|min) until plastic optics/,
    )
  })
})
