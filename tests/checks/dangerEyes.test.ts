import { describe, expect, test } from 'vitest'
import { DANGER_EYES } from '../../src/checks/dangerEyes.ts'
import { groupSentence as groupSentenceInBoth, groupWords, leadTime, riskWords } from '../../src/checks/eyeWords.ts'
import type { EyeDistances, EyeSheet } from '../../src/hazard/eyeSheet.ts'
import type { Flicker } from '../../src/hazard/flicker.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { eyeLeadSentence, trafficSentence } from '../../src/report/danger.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { metricRule, metricWords } from '../kit/metricRules.ts'

const groupSentence = metricWords(groupSentenceInBoth)

const lamp = gannetHead()
const sheet = (over: Partial<EyeSheet> = {}): EyeSheet => ({ ...fakeDanger(lamp).eye!, ...over })
const findings = (eye: EyeSheet | null) => DANGER_EYES.flatMap((rule) => metricRule(rule)(lamp, { eye }))
const rule = (name: string, eye: EyeSheet | null) => findings(eye).find((f) => f.rule === name)
const row = (blink: number, ten: number, hundred: number, noLimitM: number, angleDeg = 0): EyeDistances => ({
  ...{ angleDeg, metres: { blink, tenSeconds: ten, hundredSeconds: hundred }, noLimitM },
})
const exempt = (): EyeSheet['risk'] => {
  const { at500lx } = sheet().risk
  return { at200: { ...at500lx, distanceMm: 200 }, at500lx }
}

describe('eyes', () => {
  test('the longest distance leads, with its time; then what a look does, and a passer-by', () => {
    const found = rule(
      'eye',
      sheet({ distances: [row(0.61, 5.7, 77, 240), row(0, 0, 4.7, 23, 10), row(0, 2.2, 4.7, 23, 20)] }),
    )!
    expect(found.severity).toBe('severe')
    expect(found.title).toBe(
      'Eyes: keep 240 m away: no limit is reached beyond. Looking in harms in a blink nearer than 610 mm, in 10 s nearer than 5.7 m. 20° or more off the axis it harms in 10 s nearer than 2.2 m.',
    )
    expect(found.why).toContain('By screening: risk group')
    expect(found.why).toContain('a classification belongs to a laboratory')
    expect(found.cure).toContain('field glasses')
  })
  test('severe where a blink harms or ten seconds beyond 2 m, a warning nearer, a note for longer looks alone', () => {
    const severity = (d: EyeDistances) => rule('eye', sheet({ distances: [d] }))!.severity
    expect(severity(row(0.3, 1, 2, 3))).toBe('severe')
    expect(severity(row(0, 2.1, 2, 3))).toBe('severe')
    expect(severity(row(0, 2, 2, 3))).toBe('warning')
    expect(severity(row(0, 0, 2, 3))).toBe('note')
  })
  test('nothing reached and exempt: no finding; nothing reached but beyond the exempt group: said', () => {
    const dark = [row(0, 0, 0, 0)] as const
    expect(rule('eye', sheet({ distances: dark, risk: exempt() }))).toBeUndefined()
    const close = rule('eye', sheet({ distances: dark }))!
    expect(close.title).toBe('Eyes: nearer than 200 mm too bright.')
    expect(rule('eye', null)).toBeUndefined()
  })
  test('drivers and aircraft from 250,000 cd on', () => {
    const { interference } = sheet()
    const found = rule('eye-traffic', sheet())!
    expect(found).toMatchObject({ severity: 'warning' })
    expect(found.title).toMatch(/flash blindness to .+ m, glare to .+ m, distraction to .+ m\.$/)
    expect(found.why).toContain('5 Mcd')
    expect(rule('eye-traffic', sheet({ interference: { ...interference, peakCd: 249_999 } }))).toBeUndefined()
    expect(rule('eye-traffic', sheet({ interference: { ...interference, peakCd: 250_000 } }))).toBeDefined()
    expect(rule('eye-traffic', null)).toBeUndefined()
  })
  test('flicker beyond low risk warns, without a frequency it is a note, else nothing', () => {
    const flicker: Flicker = {
      ...{ driver: 'Buck', modes: ['Low', 'Mid'], hz: 500, modulationPercent: 100 },
      ...{ lowRiskPercent: 40, noEffectPercent: 16.65, verdict: 'beyond low risk' },
    }
    const of = (over: Partial<Flicker>) => rule('flicker', sheet({ flicker: [{ ...flicker, ...over }] }))
    expect(of({})).toMatchObject({ severity: 'warning' })
    expect(of({})!.title).toBe(
      'Flicker: Buck (Low, Mid): 100 % deep at 500 Hz, beyond low risk; low risk to 40 %, no effect to 16.6 % (IEEE 1789-2015, from memory).',
    )
    expect(of({})!.cure).toContain('1250 Hz')
    const unknown = of({ hz: null, lowRiskPercent: null, noEffectPercent: null, verdict: 'frequency not stated' })!
    expect(unknown.severity).toBe('note')
    expect(unknown.title).toContain('its frequency isn’t stated, so flicker is not computed')
    expect(unknown.cure).toContain('State the frequency')
    expect(of({ verdict: 'low risk' })).toBeUndefined()
    expect(rule('flicker', null)).toBeUndefined()
  })
})

describe('words', () => {
  test('times of the lead', () => {
    expect(leadTime({ metres: 1, seconds: null })).toBe('no limit is reached beyond')
    expect(leadTime({ metres: 1, seconds: 0.25 })).toBe('for a blink of 0.25 s')
    expect(leadTime({ metres: 1, seconds: 100 })).toBe('for a look of 100 s')
  })
  test('groups and rows, and what isn’t computed', () => {
    expect(groupWords('RG3')).toBe('risk group 3 (high)')
    expect(groupSentence(exempt())).toBe(
      'By screening: the exempt group at 200 mm; the exempt group at 100 m, where the beam gives 500 lx',
    )
    const [blue, heat, actinic, , infrared] = sheet().risk.at200.rows
    expect(riskWords(blue!)).toBe('up to 100 000 W/m²sr: risk group 2 (moderate)')
    expect(riskWords(heat!)).toMatch(/W\/m²sr·rad: risk group/)
    expect(riskWords(actinic!)).toBe('up to 0.0003 W/m²; from 380 nm on, not computed below')
    // The largest of the groups’ is said, wherever it stands.
    for (const emission of [
      [0.1, 0.2, 0.3],
      [0.3, 0.2, 0.1],
    ] as const)
      expect(riskWords({ ...actinic!, emission })).toMatch(/^up to 0\.3 W\/m²;/)
    expect(riskWords(infrared!)).toBe('not computed: the spectrum ends at 780 nm')
  })
  test('a lead sentence for every lamp: never only “not reached”', () => {
    expect(eyeLeadSentence(sheet())).toBe('Keep 240 m away: no limit is reached beyond.')
    expect(eyeLeadSentence(sheet({ distances: [row(0, 0, 0, 0)] }))).toMatch(
      /at 200 mm it is beyond the exempt group: risk group \d/,
    )
    expect(eyeLeadSentence(sheet({ distances: [row(0, 0, 0, 0)], risk: exempt() }))).toBe(
      'Past 200 mm no limit is reached.',
    )
    const { interference } = sheet()
    const none = { ...interference, levels: interference.levels.map((l) => ({ ...l, metres: 0 })) }
    expect(trafficSentence(sheet({ interference: none }))).toContain('glare nowhere')
  })
})
