// What would burn and only a run of the modes shows: leads on the hot plate, packs entered nearly empty.
import { describe, expect, test } from 'vitest'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Pack } from '../../src/lamp/schema.ts'
import { gannetHead, iceRink } from '../../src/library/demos.ts'
import { powerOf } from '../../src/library/typicalPower.ts'
import { wiringCsv, wiringRows } from '../../src/report/wiringTable.ts'
import { lampWith } from '../kit/lampWith.ts'

const pack = gannetHead().power!.supply as Pack
const awg = (number: number) => ({ system: 'awg' as const, number })

describe('what only a run of the modes knows', () => {
  test('a lead of 75 °C on a plate of 121 °C', () => {
    const lamp = lampWith({ power: { harness: { board: { insulationC: 75 } } } })
    const report = runPower(lamp, { mode: 'turbo' })
    const findings = powerFindings(lamp, report)
    expect(findings.find((f) => f.rule === 'insulation-over-place')?.title).toMatch(
      /^19 wires with insulation for 75 °C on a plate that gets to 121 °C, left on past its limit to 2[34]\d °C\.$/,
    )
    const rows = wiringRows(report.wiring, powerOf(lamp).value, findings)
    expect(wiringCsv(rows)).toContain('SEVERE: 19 wires with insulation for 75 °C on a plate')
  })
  test('a pack entered nearly empty, whose run ends before anything is hot: judged from full', () => {
    const supply = { ...pack, charged: 0.05 }
    const lamp = lampWith({ power: { supply } })
    const report = runPower(lamp, { mode: 'turbo' })
    expect(report.modes[0]!.limit.kind).toBe('empty')
    expect(report.modes[0]!.full!.limit.kind).toBe('junction')
    const findings = powerFindings(lamp, report)
    const whole = powerFindings(gannetHead(), runPower(gannetHead(), { mode: 'turbo' }))
    const title = (of: typeof findings, rule: string) => of.find((f) => f.rule === rule)?.title
    for (const rule of ['junction-over-limit', 'touch-hot', 'optics-over-hot-face', 'touch-voltage']) {
      expect(title(findings, rule)).toBeDefined()
      expect(title(findings, rule)).toBe(title(whole, rule))
    }
    expect(findings.find((f) => f.rule === 'junction-over-limit')!.why).toContain('The pack counts as full')
    expect(whole.find((f) => f.rule === 'junction-over-limit')!.why).not.toContain('counts as full')
    // The lead on the plate is judged by the full run as well.
    expect(report.wiring.find((w) => w.part === 'board')!.airC).toBeGreaterThan(110)
  })
  test('thin as well: both are said', () => {
    const lamp = lampWith({ power: { harness: { board: { insulationC: 75, gauge: awg(26) } } } })
    const findings = powerFindings(lamp, runPower(lamp, { mode: 'turbo' }))
    expect(findings.map((f) => f.rule)).toContain('insulation-over-place')
    expect(findings.find((f) => f.rule === 'wire-over-current')?.title).toBe(
      '19 runs to a board: 2 A through AWG 26, which bears 1 A.',
    )
  })
  test('no mode of any example draws more than the table says', () => {
    for (const lamp of [gannetHead(), iceRink()]) {
      const { modes, worst } = runPower(lamp)
      for (const [i, m] of modes.entries()) expect(m.mostA).toBeLessThanOrEqual(worst.modes[i]!.supplyA.value)
    }
  })
})
