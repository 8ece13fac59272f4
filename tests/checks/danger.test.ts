import { describe, expect, test } from 'vitest'
import { checkDanger } from '../../src/checks/danger.ts'
import type { DangerReading } from '../../src/job/danger/result.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

const lamp = gannetHead()
const findings = (change: (d: DangerReading) => Partial<DangerReading> = () => ({}), of = lamp, kWm2 = 20) => {
  const d = fakeDanger(of, kWm2)
  return checkDanger(of, { ...d, ...change(d) })
}
const rule = (name: string, all: ReturnType<typeof findings>) => all.find((f) => f.rule === name)

describe('findings of the danger sheet', () => {
  test('severe first; every one has its why, its cure and numbers with units', () => {
    const all = findings()
    const rank = all.map((f) => ['severe', 'warning', 'note'].indexOf(f.severity))
    expect(rank).toEqual([...rank].sort((a, b) => a - b))
    expect(all.length).toBeGreaterThan(6)
    for (const f of all) {
      expect(f.title, f.rule).toMatch(/\d/)
      expect(f.why.length, f.rule).toBeGreaterThan(20)
      expect(f.cure.length, f.rule).toBeGreaterThan(20)
      expect(`${f.title}${f.why}${f.cure}`).not.toMatch(/NaN|undefined|null|Infinity/)
    }
  })
  test('things in the way: fire is severe, plastic that softens and a hand with time to draw back warn', () => {
    const hot = rule('in-the-way', findings())!
    expect(hot.severity).toBe('severe')
    expect(hot.title).toMatch(/catches fire|chars and glows/)
    expect(rule('in-the-way', findings(undefined, lamp, 1.6))!.severity).toBe('warning')
    expect(rule('in-the-way', findings(undefined, lamp, 0.3))).toBeUndefined()
  })
  test('the sun from a side names the board and how far off it still lights plastic', () => {
    const found = rule('sun-from-a-side', findings())!
    expect(found).toMatchObject({ severity: 'severe', place: { kind: 'point', on: 'inside' } })
    expect(found.title).toMatch(/5° off the axis .* on board B\d+; enough to light plastic up to 60° off/)
    const weak = findings((d) => ({ sunMap: d.sunMap.map((p) => ({ ...p, kWm2: 0.5, se: 0 })) }))
    expect(rule('sun-from-a-side', weak)).toBeUndefined()
  })
  test('a day in the sun and the bare lens', () => {
    expect(rule('sun-over-the-day', findings())!.title).toMatch(/latitude 45°, lens 90° up/)
    expect(rule('bare-lens', findings())!.title).toMatch(/1\.1 m behind it|1100 mm|1096 mm/)
    const none = findings(undefined, stileLamp())
    expect(rule('bare-lens', none)).toBeUndefined()
  })
  test('parts: the lens where even clean it is too hot, the lining by what holds it', () => {
    expect(rule('lens-softens', findings())).toBeUndefined()
    const hot = (cleanC: number) => findings((d) => ({ parts: { ...d.parts, lens: { ...d.parts.lens!, cleanC } } }))
    expect(rule('lens-softens', hot(80))).toMatchObject({ severity: 'warning' })
    expect(rule('lens-softens', hot(99))).toMatchObject({ severity: 'severe' })
    expect(rule('lining', findings())!.title).toMatch(/rubber-based adhesive \(60 °C\)/)
  })
  test('a threshold set by the user is reported, as a warning where it is the softer one', () => {
    const own = (paper: number) => {
      const of = { ...lamp, danger: { thresholdsKWm2: { paper } } }
      return rule('thresholds-changed', findings(undefined, of))!
    }
    expect(own(15)).toMatchObject({ severity: 'warning' })
    expect(own(3)).toMatchObject({ severity: 'note' })
    expect(own(15).title).toMatch(/paper 15 kW\/m² in place of 3\.94 kW\/m²/)
    expect(rule('thresholds-changed', findings())).toBeUndefined()
  })
})
