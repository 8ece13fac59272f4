// On made-up readings: what stands first, and that nothing severe is passed over.
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { Finding, Severity } from '../../src/checks/finding.ts'
import type { Variant } from '../../src/job/beam/sheet.ts'
import { benchCheck, gannetHead, wideArray } from '../../src/library/demos.ts'
import { answerLine, type LineReadings } from '../../src/report/answerLine.ts'
import { keepAway, runTime, stopWords } from '../../src/report/answers.ts'
import { remedyWords } from '../../src/report/answerWords.ts'

const lamp = gannetHead()
const finding = (rule: string, severity: Severity = 'severe', title = 'A title.', part: 'lens' | 'heat' = 'lens') =>
  ({ rule, severity, title, why: '', cure: '', place: { kind: 'part', part } }) satisfies Finding

const figures = {
  axialIntensityCd: { value: 4_652_300, se: 9_000 },
  peakIntensityCd: { value: 4_652_300, se: 9_000 },
  beamAngleDeg: { value: 8.1931, se: 0.01 },
  halfFluxAngleDeg: { value: 5.9, se: 0.4 },
}
const variant = (name: Variant['name'], cd: number, se = cd / 1000): Variant => ({
  name,
  figures: { axialIntensityCd: { value: cd, se } },
  rays: 1000,
})
const risk = (clearDistanceMm: number) => ({ clearDistanceMm }) as NonNullable<LineReadings['sheet']>['risks'][number]
const turbo = { name: 'Turbo', limit: { kind: 'junction', atS: 5340, boardIndex: 0 }, limits: [] } as const

const readings = (over: Partial<LineReadings> = {}, sheet: Partial<NonNullable<LineReadings['sheet']>> = {}) => ({
  ...{ lamp, stale: false, findings: [], modes: [{ ...turbo, limits: [] }], danger: null },
  sheet: {
    ...{ state: 'settled' as const, figures, variants: [], risks: [risk(1600)], light: { kind: 'rated' as const } },
    ...{ patterned: false, ...sheet },
  },
  ...over,
})
const line = (...of: Parameters<typeof readings>) => answerLine(readings(...of)).text

test('a lamp in order: what it is, how long it runs, how far to keep', () => {
  expect(answerLine(readings())).toEqual({
    text: '4.65 Mcd, beam within 8.19°. 89 min in Turbo. Keep 1.6 m clear.',
    severe: false,
  })
})

test('few rays: lumens without a peak are no dark lamp', () => {
  expect(line({}, { figures: { fluxOutLm: { value: 39_976, se: 25 } } })).toMatch(
    /^40 000 lm, their beam not known yet\. /,
  )
  expect(line({}, { figures: { fluxOutLm: { value: 0, se: 0 } } })).toMatch(/^No light leaves the lamp\. /)
})

test('a part that costs light comes before what the lamp is, and says how much', () => {
  const variants = [variant('as designed', 1000), variant('without lens', 44_000), variant('bare emitters', 1400)]
  expect(line({}, { variants })).toBe(
    'Leave the lens out: 44 times brighter on the axis. 89 min in Turbo. Keep 1.6 m clear.',
  )
})

test('no part is advised against within the doubt of tracing, or for little', () => {
  const doubtful = [variant('as designed', 1000, 400), variant('without lens', 2000, 400)]
  expect(line({}, { variants: doubtful })).toContain('4.65 Mcd')
  expect(line({}, { variants: [variant('as designed', 1000), variant('without tunnel', 1040)] })).toContain('4.65 Mcd')
  // Nothing on the axis at all is no division by zero.
  expect(line({}, { variants: [variant('as designed', 0), variant('without lens', 1000)] })).toContain('4.65 Mcd')
})

test('a severe finding stands first, before any advice', () => {
  const variants = [variant('as designed', 1000), variant('without lens', 44_000)]
  expect(answerLine(readings({ findings: [finding('fuse-missing')] }, { variants }))).toEqual({
    text: 'Severe: put in the missing fuse. Leave the lens out: 44 times brighter on the axis. 89 min in Turbo; keep 1.6 m clear.',
    severe: true,
  })
})

test('what can be mended comes before how to handle the lamp, and that before a distance; the others are counted', () => {
  const findings = [finding('front-hot'), finding('sun-inside'), finding('driver-short', 'severe', 'x', 'heat')]
  expect(line({ findings })).toMatch(/^Severe: fuse each channel tighter, [^.]* \(and 2 more\)\. /)
  expect(line({ findings: findings.slice(0, 2) })).toMatch(/^Severe: cover the lens [^.]* \(and 1 more\)\. /)
  expect(line({ findings: findings.slice(0, 1) })).toMatch(/^Severe: keep people and what burns out of the beam\. /)
  // Twice the same, by two readings, is one.
  expect(line({ findings: [findings[1]!, findings[1]!] })).not.toContain('more')
  expect(line({ findings: [finding('fuse-missing', 'warning')] })).not.toContain('fuse')
})

test('a rule without words of its own is said by its title', () => {
  const findings = [finding('layout-board-overlap', 'severe', 'B3 and B4 overlap by 2.5 mm. And more of it.')]
  expect(line({ findings })).toMatch(/^Severe: B3 and B4 overlap by 2\.5 mm\. /)
})

test('not settled yet, or of the lamp before the edit: it says so', () => {
  expect(line({}, { state: 'rough' })).toMatch(/^4\.65 Mcd, beam within 8\.19° so far\./)
  expect(line({ findings: [finding('fuse-missing')] }, { state: 'settling' })).toMatch(/^Severe so far: /)
  expect(line({ stale: true })).toMatch(/° before the edit\./)
})

test('a rough figure has fewer digits', () => {
  const rough = { ...figures, peakIntensityCd: { value: 4_652_300, se: 200_000 } }
  expect(line({}, { figures: rough })).toMatch(/^4\.7 Mcd, /)
})

test('a patterned beam is said by its half-flux angle', () => {
  expect(line({}, { patterned: true })).toMatch(/^4\.65 Mcd, half the light within 5\.9°\./)
})

test('no trace: it says so, and what heat and power found all the same', () => {
  expect(line({ sheet: null, modes: null })).toBe('No light traced yet.')
  expect(line({ sheet: null, findings: [finding('fuse-missing')] })).toBe(
    'Severe: put in the missing fuse. No light traced yet. 89 min in Turbo.',
  )
  expect(line({ sheet: null, modes: null, findings: [finding('beam-not-computed')] })).toMatch(
    /^Severe: the beam is not computed, so its dangers are unknown\. /,
  )
})

test('an empty face: what to do first, and the sun that burns it all the same', () => {
  const empty = { ...lamp, boards: [] }
  expect(line({ lamp: empty, findings: [finding('no-emitters')] })).toBe(
    'Put boards on the face, the lamp gives no light.',
  )
  expect(line({ lamp: empty, findings: [finding('no-emitters'), finding('sun-inside')] })).toBe(
    'Put boards on the face, the lamp gives no light. Severe: cover the lens whenever the lamp is off, the sun burns it from inside.',
  )
})

test('never more than three sentences', () => {
  const worst = { findings: [finding('fuse-missing'), finding('sun-inside')] }
  const variants = [variant('as designed', 1000), variant('without lens', 44_000)]
  for (const text of [line(worst, { variants }), line(worst, { state: 'rough' }), line()])
    expect(text.split(/\.(?: |$)/).filter((s) => s !== '').length).toBeLessThanOrEqual(3)
})

describe('how long it runs', () => {
  const ended = (kind: string, atS: number, limits: object[] = []) =>
    ({ limit: { kind, atS, boardIndex: null }, limits }) as unknown as Parameters<typeof runTime>[0]
  const run = (...of: Parameters<typeof ended>) => runTime(ended(...of))
  test('by what ends it', () => {
    expect(run('junction', 272)).toBe('4.5 min')
    expect(run('steady', 9000)).toBe('runs on')
    expect(run('long', 18_000)).toBe('more than 5 h')
    expect(run('off', 0)).toBe('none')
  })
  test('or by what it passes before that; a touch that burns stops nothing', () => {
    expect(run('steady', 9000, [{ limit: 'optic', atS: 320 }])).toBe('5.3 min')
    expect(run('steady', 9000, [{ limit: 'touch', atS: 320 }])).toBe('runs on')
    expect(stopWords(ended('steady', 9000, [{ limit: 'optic', atS: 320 }]))).toBe('plastic optics too hot')
    expect(stopWords(ended('empty', 9000, [{ limit: 'touch', atS: 320 }]))).toBe('pack empty')
  })
})

test('of the mode that the light is of, else of the one that stops soonest', () => {
  const low = { ...turbo, name: 'Low', limit: { ...turbo.limit, kind: 'steady' as const, atS: 100 }, limits: [] }
  const modes = [low, { ...turbo, limits: [] }]
  expect(line({ modes })).toContain('89 min in Turbo')
  const light = { kind: 'mode' as const, mode: 'Low', seconds: 30, endS: 100, junctionMaxC: 60 }
  expect(line({ modes }, { light })).toContain('Runs on in Low')
})

test('the larger distance of beam sheet and dangers in full', () => {
  const sheet = { risks: [risk(1600), risk(0)] }
  expect(keepAway(sheet, null)).toEqual({ clearMm: 1600, eyesM: 0 })
  const danger = { clear: [{ clearDistanceMm: 1700 }], eye: null } as unknown as LineReadings['danger']
  expect(keepAway(sheet, danger).clearMm).toBe(1700)
  expect(keepAway(null, null).clearMm).toBeNull()
})

test('every rule that can be severe has short words of its own, but those about one board, which its title names', () => {
  const severe = readdirSync('src/checks', { recursive: true, encoding: 'utf8' }).flatMap((path) => {
    if (!path.endsWith('.ts')) return []
    const text = readFileSync(`src/checks/${path}`, 'utf8')
    return [...text.matchAll(/rule: '([a-z0-9-]+)',\s+severity: ([^\n]*)/g)].flatMap(([, rule = '', severity = '']) =>
      severity.includes("'severe'") ? [rule] : [],
    )
  })
  expect(severe.length).toBeGreaterThan(40)
  const untold = severe.filter((rule) => remedyWords({ rule, title: 'Untold.' }, lamp) === 'Untold')
  expect([...new Set(untold)].sort()).toEqual(['board-in-lens', 'board-in-wall', 'board-under-face'])
})

test('a lamp without a lens: cover its front', () => {
  expect(remedyWords({ rule: 'in-the-way', title: '' }, { ...benchCheck(), lens: null })).toContain('off the front')
  expect(remedyWords({ rule: 'in-the-way', title: '' }, wideArray())).toContain('off the lens')
})
