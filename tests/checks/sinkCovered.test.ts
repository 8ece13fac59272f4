// A lamp switched on in a bag: the rule by hand, and a run between two bounds.
import { describe, expect, test } from 'vitest'
import { sinkCovered as sinkCoveredRule } from '../../src/checks/power/sinkCovered.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { table } from '../kit/fakeWorst.ts'
import { lampWith } from '../kit/lampWith.ts'
import { metricRule } from '../kit/metricRules.ts'

const sinkCovered = metricRule(sinkCoveredRule)

const gannet = gannetHead()
const rated = { kind: 'rated', resistanceKW: 0.3, heatCapacityJK: 900, flow: 'forced' } as const
type Covered = NonNullable<PowerParts['covered']>
const COVERED: Covered = {
  ...{ modeId: 'a', mode: 'A', junctionS: 90, plateC: 180.2, coverC: 99, limit: { kind: 'empty' } },
}
const parts = (covered: Covered | null, kind = 'steady'): PowerParts => ({
  ...table({}),
  modes: [
    {
      ...{ id: 'a', name: 'A', limit: { kind, atS: 100, boardIndex: 0 }, steppedDown: null, sagsFromS: null },
      ...{ letGoFromS: null, steady: null, channels: [], limits: [], watchedC: [20], protection: null },
      curves: { plateMaxC: [20], junctionMaxC: [20], tS: [0] },
    },
  ],
  wiring: [],
  covered,
  sink: { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 },
})
const of = (over: Partial<Covered>, kind?: string) => sinkCovered(gannet, parts({ ...COVERED, ...over }, kind))[0]

describe('the rule', () => {
  test('a mode that only a cover takes to its limit is a warning, with all three figures', () => {
    expect(of({})).toMatchObject({ rule: 'sink-covered', severity: 'warning', place: { kind: 'part', part: 'heat' } })
    expect(of({})!.title).toBe(
      'In a bag, under a cloth or in a closed case “A” takes the emitters to their limit after 90 s, which it never does in the open; left on, the plate gets to 181 °C and what covers it to 99 °C.',
    )
  })
  test('one that gets there in the open too: a note, until the cover melts (polyethylene, 105 °C: memory)', () => {
    expect([of({}, 'junction')!.severity, of({ coverC: 105.1 }, 'junction')!.severity]).toEqual(['note', 'warning'])
    expect(of({ junctionS: 0 }, 'junction')!.title).toContain('to their limit at once; left on')
    expect(of({ limit: { kind: 'beyond' } })!.title).toContain('the plate gets past 400 °C (the model ends there) and')
  })
  test('under the limit: said from 60 °C of the cover on (ISO 13732-1, a minute: memory)', () => {
    expect(of({ junctionS: null, coverC: 59.9 })).toBeUndefined()
    expect(of({ junctionS: null, coverC: 60 })!.title).toMatch(
      / “A” keeps the emitters under their limit; the plate gets to/,
    )
  })
  test('not computed for a sink by its data sheet: that is said; nothing without boards or modes', () => {
    const bought = lampWith({ cooling: { sink: rated } }, gannet)
    expect(sinkCovered(bought, parts(null))[0]!.title).toMatch(/isn’t computed\.$/)
    expect([sinkCovered(gannet, parts(null)), sinkCovered({ ...bought, boards: [] }, parts(null))]).toEqual([[], []])
    expect(sinkCovered(bought, { ...parts(null), modes: [] })).toEqual([])
  })
})

test('the example: sooner than in the open, later than without any loss; the mode that draws most', () => {
  const report = runPower(gannet)
  const { covered, modes, sink } = report
  const turbo = modes.find((m) => m.id === 'turbo')!
  expect(covered).toMatchObject({ modeId: 'turbo', mode: 'Turbo' })
  expect(covered!.junctionS!).toBeLessThan(turbo.limit.atS)
  // Stored heat of plate and fins (896 J/kgK) up to the plate's mean at the limit, by the most that flows in.
  const { plateMeanC, tS } = turbo.curves
  const { storedJ, toAirJ } = turbo.energy
  const watts = (storedJ[1]! + toAirJ[1]!) / tS[1]!
  const joule = (sink.plateKg + sink.finKg) * 896 * (plateMeanC[plateMeanC.length - 1]! - 20)
  expect(covered!.junctionS!).toBeGreaterThan((0.95 * joule) / watts)
  expect(powerFindings(gannet, report).filter((f) => f.rule === 'sink-covered')).toHaveLength(1)
  expect(runPower(gannet, { mode: '' }).covered).toBeNull()
})
