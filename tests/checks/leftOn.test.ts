// What is judged at the limit of the emitters, and when nobody switches the lamp off there: by curves by hand, and once by a run.
import { describe, expect, test } from 'vitest'
import { opticsOverFace as opticsOverFaceRule } from '../../src/checks/power/opticsOverFace.ts'
import { packFire as packFireRule } from '../../src/checks/power/packFire.ts'
import { ratedSink as ratedSinkRule } from '../../src/checks/power/ratedSink.ts'
import { touchHot as touchHotRule } from '../../src/checks/power/touchHot.ts'
import { wires as wiresRule } from '../../src/checks/power/wires.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Lamp, Pack } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { leftOnWords } from '../../src/report/power.ts'
import { expectWithin } from '../kit/expect.ts'
import { fakeRun } from '../kit/fakePower.ts'
import { table, wireRun } from '../kit/fakeWorst.ts'
import { lampWith } from '../kit/lampWith.ts'
import { metricRule } from '../kit/metricRules.ts'

const opticsOverFace = metricRule(opticsOverFaceRule)
const packFire = metricRule(packFireRule)
const ratedSink = metricRule(ratedSinkRule)
const touchHot = metricRule(touchHotRule)
const wires = metricRule(wiresRule)

type ModeParts = PowerParts['modes'][number]
const gannet = gannetHead()
const curves = (tops: number[]) => ({
  ...{ plateMaxC: tops, junctionMaxC: tops, sinkC: tops, sinkW: tops, cellC: tops },
  tS: tops.map((_, i) => 60 * i),
})
/** A minute from one temperature to the next: up to the limit, then left on. */
const mode = (name: string, tops: number[], past: number[] | null, kind = 'empty'): ModeParts => ({
  ...{ id: name, name, limit: { kind: past ? 'junction' : 'steady', atS: 60 * (tops.length - 1), boardIndex: 0 } },
  ...{ steppedDown: null, sagsFromS: null, letGoFromS: null, steady: null, channels: [], limits: [] },
  ...{ watchedC: tops, protection: null, curves: curves(tops) },
  leftOn: past && { curves: curves([...tops, ...past]), limit: { kind, atS: 60 * (tops.length + past.length - 1) } },
})
const parts = (...modes: ModeParts[]): PowerParts => ({
  modes,
  ...table({}),
  wiring: [],
  sink: { speedMS: null, leftOutFins: 0, plateKg: 2, finKg: 3 },
})

describe('a touch', () => {
  const touch = (...modes: ModeParts[]) => touchHot(gannet, parts(...modes))[0]
  test('both moments are named, and the hotter one judges: ISO 13732-1, 51 °C for a minute, 65 °C for a second', () => {
    const f = touch(mode('A', [20, 53], [60, 80]))!
    expect(f.severity).toBe('severe')
    expect(f.title).toBe(
      'Plate and sink get to 53 °C in “A”, left on past its limit to 80 °C: a touch of a second or less burns.',
    )
    // 65 °C lies a quarter of the way from 60 to 80: 120 s + 15 s.
    expect(f.why).toContain('in “A” until the pack is empty, after 3 min.')
    expect(f.why).toContain('That burns from 65 °C on: in “A” after 2.25 min.')
  })
  test('only some modes are left on', () => {
    expect(touch(mode('A', [20, 70], null), mode('B', [20, 66], [90]))!.title).toBe(
      'Plate and sink get to 70 °C in “A” and “B” (most in “A”), left on past its limit to 90 °C in “B”: a touch of a second or less burns.',
    )
  })
  test('a run that gets no hotter says nothing of it', () => {
    const f = touch(mode('A', [20, 70], [60]))!
    expect(f.title).toBe('Plate and sink get to 70 °C in “A”: a touch of a second or less burns.')
    expect(f.why).not.toContain('Left on')
  })
  test('over 90 °C it must not touch what burns; at 90 °C nothing is said', () => {
    expect(touch(mode('A', [20, 70], [90.1]))!.cure).toContain('clear of everything that burns')
    expect(touch(mode('A', [20, 90], null))!.cure).not.toContain('everything that burns')
  })
})

test('plastic optics: cool at the limit and over 95 °C left on is severe', () => {
  const [f] = opticsOverFace(gannet, parts(mode('A', [20, 60], [80, 100], 'beyond')))
  expect(f).toMatchObject({ severity: 'severe' })
  expect(f!.title).toBe(
    'The face passes the 70 °C that plastic optics on it bear in “A” after 90 s, and gets to 60 °C, left on past its limit to 100 °C.',
  )
  expect(f!.why).toContain('until it passes 400 °C, where the model ends')
  const two = opticsOverFace(gannet, parts(mode('A', [20, 90], null), mode('B', [20, 60], [80])))
  expect(two[0]!.title).toMatch(/and gets to 90 °C in “A”, left on past its limit to 80 °C in “B”\.$/)
})

test('cells that would be too warm: 60 °C between 50 and 90', () => {
  const lamp = lampWith({ power: { supply: { ...(gannet.power!.supply as Pack), maxCellC: 60 } } }, gannet)
  const [f] = packFire(lamp, parts(mode('A', [20, 50], [90])))
  expect(f).toMatchObject({ rule: 'cells-hot', severity: 'severe' })
  expect(f!.title).toBe('“A”, left on past its limit: the cells reach their 60 °C after 75 s, and get to 90 °C.')
  expect(packFire(lamp, parts(mode('A', [20, 50], [59])))[0]!.rule).toBe('pack-fire')
})

test('a sink by its data sheet takes more left on', () => {
  const sink = { kind: 'rated', resistanceKW: 1, heatCapacityJK: 0, flow: 'natural', maxW: 70 } as const
  const lamp: Lamp = { ...gannet, cooling: { ...gannet.cooling!, sink } }
  const over = (past: number[]) =>
    ratedSink(lamp, parts(mode('A', [20, 60], past))).find((f) => f.rule === 'sink-over-rating')
  expect(over([80])!.title).toMatch(/^The sink takes 80 W in “A”/)
  expect(over([70])).toBeUndefined()
})

test('a lead that bears the plate at the limit and not left on; its ampacity is that at the limit', () => {
  const lead = (leftOnC: number | null) => wireRun({ part: 'board', airC: 121, leftOnC, insulationC: 180 })
  const find = (leftOnC: number | null) =>
    wires(gannet, { ...parts(mode('A', [20, 121], [233])), wiring: [lead(leftOnC)] }).find(
      (f) => f.rule === 'insulation-over-place',
    )
  expect(find(233)!.title).toBe(
    '1 wire with insulation for 180 °C on a plate that gets to 121 °C, left on past its limit to 233 °C.',
  )
  expect(find(233)!.cure).toContain('insulation for 253 °C or more')
  expect([find(179), find(null)]).toEqual([undefined, undefined])
})

test('a run: the example’s turbo mode, from a pack entered nearly empty', () => {
  const supply = { ...(gannet.power!.supply as Pack), charged: 0.05 }
  const lamp = lampWith({ power: { supply } }, gannet)
  const report = runPower(lamp, { mode: 'turbo' })
  const [run] = report.modes
  const { leftOn, full } = run!
  const count = full!.curves.tS.length
  expect(leftOn!.limit.kind).toBe('empty')
  expect(leftOn!.curves.plateMaxC.slice(0, count)).toEqual(full!.curves.plateMaxC)
  // 671 Wh at half charge (the finding on the pack) over 19 × 2 A × 20.5 V / 0.93 = 838 W, the strings hot.
  expectWithin(leftOn!.limit.atS / 60, 48, { rel: 0.1, because: 'wires, and voltages as they warm' })
  expect(leftOnWords(run!)).toMatch(/^Left on past its limit, should its emitters go on: the plate gets to 23\d °C/)
  const findings = powerFindings(lamp, report)
  const plate = report.wiring.find((w) => w.part === 'board')!
  expect([plate.airC < 125, plate.leftOnC! > 225]).toEqual([true, true])
  for (const rule of ['touch-hot', 'optics-over-hot-face', 'insulation-over-place'])
    expect(findings.find((f) => f.rule === rule)!.title).toContain('left on past its limit to 23')
})

test('in words: how hot, until when; with a protection that it failed; nothing where the mode ends by itself', () => {
  const tops = Float64Array.of(20, 180)
  const of = { tS: Float64Array.of(0, 3600), junctionMaxC: tops, plateMaxC: Float64Array.of(20, 160) }
  const rest = { plateMinC: tops, sinkC: tops, sinkW: tops, cellC: tops }
  const leftOn = {
    ...{ limit: { kind: 'steady' as const, atS: 3600, boardIndex: null }, limits: [], steppedDown: null },
    ...{ steady: null, curves: { ...of, ...rest }, watchedC: tops },
  }
  const words =
    'should its emitters go on: the plate gets to 160 °C, junctions to 180 °C; 60 min until nothing changes any more.'
  expect(leftOnWords(fakeRun({ leftOn }))).toBe(`Left on past its limit, ${words}`)
  const protection = {
    ...{ firstOpenS: 9, openings: 1, staysOpen: true, cycle: null, foldsFromS: null, leastShare: null, shareAtEnd: 0 },
  }
  expect(leftOnWords(fakeRun({ leftOn, protection }))).toBe(`Left on past its limit, the protection failed, ${words}`)
  expect(leftOnWords(fakeRun())).toBeNull()
})
