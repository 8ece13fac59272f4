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
const lampPlace = {
  ...{ kWm2: 40, se: 0, xMm: 0, yMm: 0, zMm: 0, discMm: 10 },
  ...{ dx: 0, dy: 0, dz: -1, zone: 'outside' as const, spreadRad: 0.2 },
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
    // The others stand in its why.
    expect(hot.title).toMatch(/\. \d more things come to harm\.$/)
    expect(hot.why).toContain('A hand before the lens hurts in')
    expect(rule('in-the-way', findings(undefined, lamp, 1.6))!.severity).toBe('warning')
    expect(rule('in-the-way', findings(undefined, lamp, 0.3))).toBeUndefined()
  })
  test('the sun from a side names the board and how far off it still lights plastic', () => {
    const found = rule('sun-from-a-side', findings())!
    expect(found).toMatchObject({ severity: 'severe', place: { kind: 'point', on: 'inside' } })
    expect(found.title).toMatch(/5° off the axis .* on board B\d+\. It can light plastic up to 60° off/)
    const weak = findings((d) => ({ sunMap: d.sunMap.map((p) => ({ ...p, kWm2: 0.5, se: 0 })) }))
    expect(rule('sun-from-a-side', weak)).toBeUndefined()
  })
  test('a day too weak as it was laid still says what happens when it is turned', () => {
    const weak = findings((d) => ({ sunDay: { ...d.sunDay!, plasticSeconds: null } }))
    const found = rule('sun-over-the-day', weak)!
    expect(found.severity).toBe('warning')
    expect(found.title).toMatch(
      /too weak to light plastic inside\. Turned so that the sun passes on the axis, it lights plastic in .*: up to/,
    )
    const none = findings((d) => ({
      sunDay: { ...d.sunDay!, plasticSeconds: null, turned: { ...d.sunDay!.turned!, plasticSeconds: null } },
    }))
    expect(rule('sun-over-the-day', none)).toBeUndefined()
  })
  test('sun focused beside the lamp and thrown back before it, by zone, with smaller discs and the time for paper', () => {
    const place = { ...lampPlace, tiltDeg: 12, azimuthDeg: 0, byDisc: [{ discMm: 3.5, kWm2: 90, se: 0 }] }
    const both = findings(() => ({
      sunPlaces: [
        { ...place, zone: 'outside', xMm: 130, zMm: -24 },
        { ...place, zone: 'front', zMm: 1600 },
      ],
    }))
    const beside = rule('sun-beside', both)!
    expect(beside).toMatchObject({ severity: 'severe' })
    expect(beside.title).toMatch(
      /12° off the axis .*: up to 40 kW\/m², 130 mm off its axis and 24 mm behind the face\. Paper/,
    )
    expect(beside.why).toMatch(/over 3\.5 mm up to 90 kW\/m²/)
    const back = rule('sun-thrown-back', both)!
    expect(back.title).toMatch(
      /^The lens throws sunlight back \(sun 12° off the axis\): up to 40 kW\/m², 550 mm before it\. Paper/,
    )
    // Paper lights from 3.94 kW/m² on: under it a warning, under 2 nothing.
    const at = (kWm2: number) => findings(() => ({ sunPlaces: [{ ...place, zone: 'outside', kWm2 }] }))
    expect(rule('sun-beside', at(3.9))!.severity).toBe('warning')
    expect(rule('sun-beside', at(3.9))!.title).not.toMatch(/paper/i)
    expect(rule('sun-beside', at(1.9))).toBeUndefined()
    expect(rule('sun-thrown-back', at(40))).toBeUndefined()
  })
  test('light beside the lamp: how far what burns must keep, and what the rest is harmed by', () => {
    const beside = (kWm2: number) => ({
      leakedW: 30,
      worst: { ...lampPlace, zone: 'outside' as const, kWm2, xMm: 130, zMm: -24 },
      curve: [30, 300].map((distanceMm, k) => ({ distanceMm, kWm2: kWm2 / (1 + 9 * k), se: 0, discMm: 10 })),
    })
    const found = rule(
      'light-beside',
      findings(() => ({ beside: beside(20) })),
    )!
    expect(found.severity).toBe('severe')
    expect(found.title).toMatch(
      /^30 W leaves beside the beam.* up to 20 kW\/m², 130 mm off the axis and 24 mm behind the face/,
    )
    expect(found.why).toMatch(/300 mm away meets up to 2 kW\/m²/)
    expect(
      rule(
        'light-beside',
        findings(() => ({ beside: beside(3) })),
      )!.severity,
    ).toBe('warning')
    expect(
      rule(
        'light-beside',
        findings(() => ({ beside: beside(0.3) })),
      ),
    ).toBeUndefined()
    expect(rule('light-beside', findings())).toBeUndefined()
  })
  test('a day in the sun and the bare lens', () => {
    const laid = (plasticSeconds: number) =>
      rule(
        'sun-over-the-day',
        findings((d) => ({ sunDay: { ...d.sunDay!, plasticSeconds } })),
      )!
    // Where it is no worse turned, that stands in the why.
    expect(laid(0.01).title).toMatch(
      /^Left lying at latitude 45°, lens 90° up, the sun lights plastic inside for [\d.]+ h of the day\. At the worst it takes less than a second\.$/,
    )
    expect(laid(0.01).why).toMatch(
      /^Turned so that the sun passes on the axis, it lights plastic in less than a second/,
    )
    expect(laid(40).title).toMatch(/At the worst it takes 40 s\. Turned so that the sun passes on the axis/)
    expect(laid(40).why).not.toMatch(/Turned/)
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
