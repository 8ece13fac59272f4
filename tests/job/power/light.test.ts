// The light that the beam is traced with: from the coupled run, with the light that comes back into the lamp.
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../../src/beam/beam.ts'
import { readLedger } from '../../../src/beam/ledger.ts'
import type { ModeRun } from '../../../src/electrothermal/result.ts'
import { retainedByPilot, retainedFromLedger } from '../../../src/job/beam/retainedLight.ts'
import { lampOperatingPoint, lightTraced, modeOperatingPoint, runOfMode } from '../../../src/job/power/light.ts'
import { runPower } from '../../../src/job/power/run.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { DEMOS, gannetHead } from '../../../src/library/demos.ts'
import { lightWords } from '../../../src/report/light.ts'
import { expectWithin } from '../../kit/expect.ts'
import { oneEmitter, traceHere } from '../../kit/traceHere.ts'

const modeOf = (lamp: Lamp, mode: string, over = {}): ModeRun => runPower(lamp, { mode, ...over }).modes[0]!
const last = (x: ArrayLike<number>): number => x[x.length - 1]!

describe('flux for the beam', () => {
  test('of a mode’s moment: what the run gave, emitter by emitter', () => {
    const lamp = gannetHead()
    const run = runOfMode(lamp, 'turbo')!
    const cold = modeOperatingPoint(lamp, 'turbo', 0)!.fluxLm
    const hot = modeOperatingPoint(lamp, 'turbo', 1e6)!.fluxLm
    expect(cold).toHaveLength(133)
    const sum = (x: Float64Array) => x.reduce((a, b) => a + b, 0)
    expectWithin(sum(cold), run.curves.lm[0]!, { rel: 1e-5, because: 'single precision' })
    expectWithin(sum(hot), last(run.curves.lm), { rel: 1e-5, because: 'single precision' })
    expect(sum(hot)).toBeLessThan(0.9 * sum(cold))
    expect(modeOperatingPoint(lamp, 'no such', 0)).toBeNull()
  })
  test('the document’s heat decides', () => {
    const lamp = gannetHead()
    const moment: Lamp = { ...lamp, heat: { kind: 'mode', mode: 'low', seconds: 100 } }
    expect(lampOperatingPoint(moment).fluxLm[0]!).toBeLessThan(0.3 * lampOperatingPoint(lamp).fluxLm[0]!)
  })
})

describe('the pilot keeps what a trace keeps', () => {
  test.each(Object.entries(DEMOS))('%s', (_, make) => {
    const lamp = make()
    const run = traceHere(lamp, { rays: 65_536 })
    const traced = retainedFromLedger(readLedger(run, readBeam(run, lamp).angles))
    const pilot = retainedByPilot(lamp)
    for (const part of ['face', 'optics', 'wall'] as const)
      expectWithin(pilot[part], traced[part], {
        abs: 0.02,
        because: 'four standard errors of a share near one half from 8192 plain rays, √(0.25 / 8192) each; fewer here',
      })
    expect(pilot).toEqual(retainedByPilot(make()))
  })
  test('without light nothing stays', () => {
    const dark = { ...oneEmitter(), boards: [] }
    expect(retainedByPilot(dark)).toEqual({ face: 0, optics: 0, wall: 0, traced: true })
  })
})

describe('the beam of a moment', () => {
  const at = (lamp: Lamp, seconds: number): Lamp => ({ ...lamp, heat: { kind: 'mode', mode: 'turbo', seconds } })
  const sum = (x: Float64Array) => x.reduce((a, b) => a + b, 0)

  test('is that of the run with the light that comes back, not of the optics’ stated losses', () => {
    const lamp = gannetHead()
    const seconds = 150
    const withTrace = modeOf(lamp, 'turbo', { retained: retainedByPilot(lamp) })
    const without = modeOf(lamp, 'turbo')
    const lm = sum(lampOperatingPoint(at(lamp, seconds)).fluxLm)
    const onCurve = (r: ModeRun) => {
      const i = r.curves.tS.findIndex((t) => t > seconds)
      const part = (seconds - r.curves.tS[i - 1]!) / (r.curves.tS[i]! - r.curves.tS[i - 1]!)
      return r.curves.lm[i - 1]! + part * (r.curves.lm[i]! - r.curves.lm[i - 1]!)
    }
    expectWithin(lm, onCurve(withTrace), { rel: 1e-5, because: 'single precision' })
    expect(lm).toBeLessThan(0.999 * onCurve(without))
  })

  test('another lens, other light in the lamp: the run is made anew with the same boards', () => {
    const lamp = gannetHead()
    const open = { ...lamp, lens: null }
    expect(open.boards).toBe(lamp.boards)
    const closedC = last(runOfMode(lamp, 'high')!.curves.plateMeanC)
    expect(last(runOfMode(open, 'high')!.curves.plateMeanC)).not.toBe(closedC)
  })

  test('says which light it is', () => {
    const lamp = gannetHead()
    const endS = runOfMode(lamp, 'turbo')!.limit.atS
    expect(lightWords(lightTraced(lamp))).toMatch(/^Light as rated/)
    expect(lightWords(lightTraced(at(lamp, 0)))).toMatch(/^Light of Turbo, at switch-on: hottest junction \d+ °C$/)
    expect(lightWords(lightTraced(at(lamp, 30)))).toMatch(/^Light of Turbo, 30 s after switch-on/)
    expect(lightWords(lightTraced(at(lamp, 10 * endS)))).toMatch(
      /^Light of Turbo, after its end at .*: hottest junction 140 °C$/,
    )
    expect(lightWords({ kind: 'board', boardC: 60 })).toMatch(/^Light with boards at 60 °C/)
  })
})

test('light that stays in the lamp, from a ledger', () => {
  const retained = retainedFromLedger([
    { line: 'opticLoss', w: 10 },
    { line: 'face', w: 2 },
    { line: 'limit', w: 1 },
    { line: 'lensReturnedLost', w: 2 },
    { line: 'wall', w: 25 },
    { line: 'delivered', w: 60 },
  ])
  expect(retained).toEqual({ face: 0.05, optics: 0.1, wall: 0.25, traced: true })
  const lamp = gannetHead()
  const without = modeOf(lamp, 'turbo', { retained: { face: 0, optics: 0, wall: 0, traced: true } })
  const hotter = modeOf(lamp, 'turbo', { retained })
  expect(hotter.limit.atS).toBeLessThan(0.97 * without.limit.atS)
  expectWithin(last(hotter.energy.wallJ) / last(hotter.energy.lightJ), 25 / 60, { rel: 1e-9, because: 'shares' })
})
