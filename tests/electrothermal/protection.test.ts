// Cut-out and fold-back against closed forms of a lumped plate, and what is shown and judged of them.
import { describe, expect, test } from 'vitest'
import { heatJson } from '../../src/cli/heat.ts'
import { makeModel } from '../../src/electrothermal/model.ts'
import { foldBackShare, solveShare } from '../../src/electrothermal/protection.ts'
import type { ModeRun, PowerReport } from '../../src/electrothermal/result.ts'
import { worstCaseOf } from '../../src/electrothermal/worstCase.ts'
import { judgedRuns } from '../../src/job/power/judge.ts'
import { lightTraced, modeOperatingPoint } from '../../src/job/power/light.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Lamp, Protection } from '../../src/lamp/schema.ts'
import { lightWords } from '../../src/report/light.ts'
import { modeWords, protectionWords } from '../../src/report/power.ts'
import { expectWithin } from '../kit/expect.ts'
import { once } from '../kit/once.ts'
import { oneNode } from '../kit/onePlate.ts'

const AIR_C = 20
/** A run, and the one mode of it. */
const runOf = (lamp: Lamp): { report: PowerReport; mode: ModeRun } => {
  const report = runPower(lamp)
  const [mode] = report.modes
  if (!mode) throw new Error('one mode expected')
  return { report, mode }
}
const guarded = (protection: Protection, over: Parameters<typeof oneNode>[0] = {}): Lamp => {
  const lamp = oneNode(over)
  const { power } = lamp
  if (!power) throw new Error('a lamp with power expected')
  return { ...lamp, power: { ...power, protection } }
}
const rules = (lamp: Lamp) => powerFindings(lamp, runOf(lamp).report)
const worstGap = ({ energy: e }: ModeRun): number =>
  Math.max(
    ...Array.from(e.inJ, (inJ, i) => {
      const parts = [e.lightJ, e.wallJ, e.storedJ, e.toAirJ, e.driverJ, e.wiresJ, e.cellsJ]
      const out = parts.reduce((sum, y) => sum + (y[i] ?? Number.NaN), 0)
      return Math.abs(inJ - out) / Math.max(1e-9, inJ)
    }),
  )

// The plate as one node, without protection: 12 W less 1 W of light.
const HEAT_W = 11
const free = once(() => runOf(oneNode()))
const heatJK = () => free().report.sink.plateKg * 896

describe('a cut-out with hysteresis', () => {
  const [openC, closeC] = [32, 28]
  const lamp = guarded({ cutOut: { openC, closeC } })
  const ran = once(() => runOf(lamp).mode)

  test('cycles with the period of a lumped plate', () => {
    const cycle = ran().protection?.cycle
    // t_on = RC ln((T∞ − T_close)/(T∞ − T_open)), t_off = RC ln((T_open − T_a)/(T_close − T_a)): lumped capacitance,
    // Incropera and DeWitt, ch. 5, from memory. R at the middle of each swing.
    const sink = makeModel(lamp, null).sink
    const middleWK = sink.totalWK((openC + closeC) / 2)
    const tau = heatJK() / middleWK
    const topC = AIR_C + HEAT_W / middleWK
    const onS = tau * Math.log((topC - closeC) / (topC - openC))
    const offS = tau * Math.log((openC - AIR_C) / (closeC - AIR_C))
    expectWithin(cycle?.onS ?? 0, onS, { rel: 0.02, because: 'the sink’s conductance changes by a few per cent' })
    expectWithin((cycle?.periodS ?? 0) - (cycle?.onS ?? 0), offS, { rel: 0.02, because: 'as before' })
    expectWithin(cycle?.duty ?? 0, onS / (onS + offS), { rel: 0.02, because: 'as before' })
    expectWithin(cycle?.meanLm ?? 0, (683 * onS) / (onS + offS), { rel: 0.02, because: '683 lm while it is on' })
  })
  test('opens first where the lumped plate passes it from the air’s temperature', () => {
    const sink = makeModel(lamp, null).sink
    const meanWK = sink.totalWK((openC + AIR_C) / 2)
    const topC = AIR_C + HEAT_W / meanWK
    const firstS = (heatJK() / meanWK) * Math.log((topC - AIR_C) / (topC - openC))
    expectWithin(ran().protection?.firstOpenS ?? 0, firstS, { rel: 0.02, because: 'as before' })
  })
  test('the plate stays between both temperatures once it has opened', () => {
    const mode = ran()
    const from = mode.protection?.firstOpenS ?? 0
    const inside = Array.from(mode.watchedC).filter((_, i) => (mode.curves.tS[i] ?? 0) >= from)
    expect(Math.max(...inside)).toBeLessThan(openC + 0.1)
    expect(Math.min(...inside)).toBeGreaterThan(closeC - 0.1)
  })
  test('has no steady state, ends as cycling, and says so', () => {
    const mode = ran()
    expect(mode.limit.kind).toBe('cycles')
    expect(mode.steady).toBeNull()
    expect(modeWords(mode)).toMatch(
      /^On: .*no steady state: the cut-out opens and closes over and over, .*; the cut-out opens after .*; then .* on and .* off, mean light [\d\u202f]+ lm/,
    )
  })
  test('energy closes at each step, dark ones too', () => expect(worstGap(ran())).toBeLessThan(1e-3))
})

test('a latching cut-out stays open: dark from its first opening on', () => {
  const { mode } = runOf(guarded({ cutOut: { openC: 40 } }))
  expect(mode.limit.kind).toBe('cutOut')
  expect(mode.protection).toMatchObject({ openings: 1, staysOpen: true, cycle: null, firstOpenS: mode.limit.atS })
  expect(mode.curves.lm.at(-1)).toBe(0)
  expect(mode.curves.supplyA.at(-1)).toBe(0)
  expect(mode.coolHalfS).toBeGreaterThan(0)
  expect(protectionWords(mode)[0]).toMatch(/stays open until switched off$/)
})

test('a cut-out that closes below the air’s temperature never closes', () => {
  expect(runOf(guarded({ cutOut: { openC: 40, closeC: AIR_C - 5 } })).mode.limit.kind).toBe('cutOut')
})

test('in air over its temperature it never lets the lamp come on, and heat is judged all the same', () => {
  const lamp = guarded({ cutOut: { openC: 30 } }, { ambientC: 45, maxJunctionC: 60 })
  const { mode } = runOf(lamp)
  expect(mode.limit).toMatchObject({ kind: 'cutOut', atS: 0 })
  const found = rules(lamp)
  expect(found.find((f) => f.rule === 'junction-over-limit')?.severity).toBe('severe')
  expect(found.find((f) => f.rule === 'cut-out-low')?.title).toMatch(
    /^“On” never comes on: the air is as warm as the 30 °C/,
  )
})

describe('a fold-back', () => {
  const foldBack = { startC: 30, endC: 40, leastShare: 0.2 }

  test('share: all up to the start, a straight line, the least above', () => {
    const at = (c: number) => foldBackShare({ foldBack }, c)
    expect([at(20), at(30), at(40), at(200)]).toEqual([1, 1, 0.2, 0.2])
    expectWithin(at(32.5), 0.8, { rel: 1e-12, because: 'a quarter of the way from 1 to 0.2' })
    expect(foldBackShare(null, 200)).toBe(1)
  })

  test('settles where T = T_a + R P s(T)', () => {
    const lamp = guarded({ foldBack })
    const { mode } = runOf(lamp)
    // The board’s voltage is constant and its light in proportion to the current, so its heat is 11 W · s; R from the
    // sink’s law. Solved by bisection, here once more.
    const sink = makeModel(lamp, null).sink
    let [low, high] = [AIR_C, 150]
    for (let i = 0; i < 50; i++) {
      const c = (low + high) / 2
      const s = Math.max(0.2, Math.min(1, 1 - (0.8 * (c - 30)) / 10))
      if (HEAT_W * s > sink.totalWK(c) * (c - AIR_C)) low = c
      else high = c
    }
    expect(low).toBeGreaterThan(31)
    expectWithin((mode.steady?.plateMeanC ?? 0) - AIR_C, low - AIR_C, {
      rel: 0.01,
      because: 'the plate is even within 1 %',
    })
    expect(mode.limit.kind).toBe('steady')
    expectWithin((mode.curves.plateMeanC.at(-1) ?? 0) - AIR_C, low - AIR_C, {
      rel: 0.01,
      because: 'the run gets there too',
    })
    expect(worstGap(mode)).toBeLessThan(1e-3)
    expect(modeWords(mode)).toMatch(/folds back from .* on, to \d+ % of its current/)
  })

  test('one of 1 K is as steady: no swinging about its line', () => {
    const { mode } = runOf(guarded({ foldBack: { startC: 30, endC: 31, leastShare: 0 } }))
    const c = Array.from(mode.watchedC)
    expect(Math.max(...c)).toBeLessThan(31)
    for (const [i, now] of c.entries()) expect(now).toBeGreaterThan((c[i - 1] ?? 0) - 0.02)
    // Implicit Euler: a step's light is that of the share at its own end, 1 W at 683 lm; by the share at its start a long step swings.
    const { tS, lm } = mode.curves
    for (const [i, now] of tS.entries()) {
      const joules = (mode.energy.lightJ[i] ?? 0) - (mode.energy.lightJ[i - 1] ?? 0)
      const watts = (lm[i] ?? 0) / 683
      expectWithin(joules, watts * (now - (tS[i - 1] ?? 0)), { rel: 2e-3, because: 'the share is solved to 1e-6' })
    }
    expect(mode.limit.kind).toBe('steady')
  })

  test('current comes back as the plate cools: after a step-down all of it is let through', () => {
    const lamp = guarded({ foldBack })
    const { power } = lamp
    if (!power) throw new Error('a lamp with power expected')
    const stepDown = { watch: 'time' as const, afterS: 7200, toShare: 0.15 }
    const { mode } = runOf({ ...lamp, power: { ...power, modes: power.modes.map((m) => ({ ...m, stepDown })) } })
    expect(mode.protection?.leastShare).toBeLessThan(0.95)
    expect(mode.protection?.shareAtEnd).toBe(1)
    expectWithin(mode.curves.lm.at(-1) ?? 0, 0.15 * 683, { rel: 1e-6, because: 'light in proportion to the current' })
  })

  test('the share is solved where a line meets a falling one, steep or flat', () => {
    for (const slope of [0.01, 1, 50, 1e4]) {
      const { share } = solveShare((s) => ({ leaves: Math.max(0, Math.min(1, 0.3 - slope * (s - 0.3))), value: s }), 1)
      expectWithin(share, 0.3, { abs: 1e-6, because: 'the lines meet at 0.3' })
    }
  })
})

describe('nothing rests on the protection', () => {
  const limits = { maxJunctionC: 45 }
  const bare = oneNode(limits)
  const lamp = guarded(
    { cutOut: { openC: 35, closeC: 30 }, foldBack: { startC: 30, endC: 34, leastShare: 0.1 } },
    limits,
  )
  const ran = once(() => runOf(lamp))

  test('one that never acts changes no bit', () => {
    const idle = guarded({ cutOut: { openC: 250 }, foldBack: { startC: 240, endC: 250, leastShare: 0 } })
    const one = heatJson(oneNode(), free().report).modes[0]
    const { protection, withoutProtection, ...two } = { ...heatJson(idle, runPower(idle)).modes[0] }
    expect({ ...two }).toEqual({ ...one })
    expect(protection).toMatchObject({ firstOpenS: null, foldsFromS: null, leastShare: 1 })
  })
  test('the run that is judged is the one without, to the bit', () => {
    const { mode } = ran()
    const { unprotected } = mode
    expect(unprotected?.curves).toEqual(runOf(bare).mode.curves)
    expect(unprotected?.limit.kind).toBe('junction')
    expect(mode.limit.kind).not.toBe('junction')
  })
  test('every finding of the lamp without it stands, as severe', () => {
    const found = rules(lamp)
    for (const f of rules(bare)) expect(found).toContainEqual(f)
    expect(found.find((f) => f.rule === 'junction-over-limit')?.severity).toBe('severe')
  })
  test('a plate that gets hotter because the protection keeps the junctions under their limit is judged too', () => {
    // 60 % of 11 W are 3.3 K over the plate instead of 5.5 K: the same limit of 50 °C is met with the plate 2.2 K hotter.
    const at = { ambientC: 35, maxJunctionC: 50 }
    const touch = (of: Lamp) =>
      Number(
        rules(of)
          .find((f) => f.rule === 'touch-hot')
          ?.title.match(/get to (\d+) °C/)?.[1],
      )
    const longer = guarded({ foldBack: { startC: 36, endC: 40, leastShare: 0.6 } }, at)
    expect(touch(oneNode(at))).toBe(45)
    const judged = judgedRuns(runOf(longer).mode)
    expect(judged.map((m) => m.name)).toEqual(['On', 'On, protection working'])
    expect(judged.map((m) => Math.ceil(Math.max(...m.curves.plateMaxC)))).toEqual([45, 47])
    // Nobody there: hotter than either, and the same with a protection that fails as without one.
    const left = (of: Lamp) => rules(of).find((f) => f.rule === 'touch-hot')?.title
    expect(left(longer)).toMatch(/^Plate and sink get to 45 °C in “On”, left on past its limit to 5\d °C/)
    expect(left(longer)).toBe(left(oneNode(at)))
  })
  test('worst-case table, wires and the traced light are those without it', () => {
    expect(worstCaseOf(makeModel(lamp, null))).toEqual(worstCaseOf(makeModel(bare, null)))
    expect(ran().report.wiring).toEqual(runOf(bare).report.wiring)
    expect(modeOperatingPoint(lamp, 'on', 1e6)).toEqual(modeOperatingPoint(bare, 'on', 1e6))
    const heat = { kind: 'mode' as const, mode: 'on', seconds: 60 }
    const words = (of: Lamp) => lightWords(lightTraced({ ...of, heat }))
    expect(words(lamp)).toBe(`${words(bare)}, cut-out and fold-back taken as failed`)
  })
})

describe('findings on the protection', () => {
  const find = (lamp: Lamp, rule: string) => rules(lamp).find((f) => f.rule === rule)

  test('a cut-out that opens after the junctions’ limit is severe, with what it reads then', () => {
    const f = find(guarded({ cutOut: { openC: 90 } }, { maxJunctionC: 45 }), 'cut-out-too-high')
    expect(f?.severity).toBe('severe')
    // The junction rides 0.5 K/W · 11 W = 5.5 K over the plate: its 45 °C are met at 39.5 °C, less what the front is hotter.
    expect(f?.title).toMatch(
      /^“On”: the cut-out opens at 90 °C, too late for the emitters of board B1, at their limit after [\d.]+ min, when it reads 3[89] °C\.$/,
    )
    expect(find(guarded({ cutOut: { openC: 35 } }, { maxJunctionC: 45 }), 'cut-out-too-high')).toBeUndefined()
  })
  test('a cut-out that keeps a mode under its limit is not to be the only protection', () => {
    const f = find(guarded({ cutOut: { openC: 35 } }, { maxJunctionC: 45 }), 'protection-alone')
    expect(f?.title).toMatch(
      /^In “On” the cut-out keeps the emitters under their limit in normal operation; it must not/,
    )
    expect(find(guarded({ cutOut: { openC: 35 } }), 'protection-alone')).toBeUndefined()
    // The mode's own line says what happens without it; where nothing does, it says no more.
    const failed = /; with that protection failed [\d.]+ min until board B1 reaches 45 °C/
    expect(modeWords(runOf(guarded({ cutOut: { openC: 35 } }, { maxJunctionC: 45 })).mode)).toMatch(failed)
    expect(modeWords(runOf(guarded({ cutOut: { openC: 35 } })).mode)).not.toMatch(/failed/)
  })
  test('a fold-back that leaves too much', () => {
    const weak = { foldBack: { startC: 35, endC: 36, leastShare: 0.95 } }
    expect(find(guarded(weak, { maxJunctionC: 45 }), 'protection-too-weak')?.severity).toBe('warning')
    expect(find(guarded(weak), 'protection-too-weak')).toBeUndefined()
  })
  test('a fold-back that never comes into play, and one that does', () => {
    const at = (startC: number) => find(guarded({ foldBack: { startC, endC: 200, leastShare: 0 } }), 'fold-back-idle')
    expect(at(150)?.severity).toBe('note')
    expect(at(30)).toBeUndefined()
  })
  test('a cut-out that opens within the first minute: 11.4 mK/s bring the plate from 20 to 20.5 °C in 44 s', () => {
    const f = find(guarded({ cutOut: { openC: 20.5 } }), 'cut-out-low')
    expect(f?.severity).toBe('note')
    expect(f?.title).toMatch(/which the plate passes after 4\d(\.\d)? s\.$/)
    expect(find(guarded({ cutOut: { openC: 30 } }), 'cut-out-low')).toBeUndefined()
  })
})
