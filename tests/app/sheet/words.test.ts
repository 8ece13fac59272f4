import { describe, expect, test } from 'vitest'
import { THIN } from '../../../src/app/common/format.ts'
import {
  announcement,
  countFindings,
  lineWords,
  percent,
  placeWords,
  progress,
  ratioOf,
  STATE_TITLES,
  stateOf,
  stateSentence,
  stillTraced,
  traceFacts,
  unfinishedWords,
  variantEffects,
  viewOf,
} from '../../../src/app/sheet/words.ts'
import type { Finding } from '../../../src/checks/finding.ts'
import type { Variant } from '../../../src/job/beam/sheet.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { slipLight } from '../../../src/library/demosAssembled.ts'
import { mappedWords } from '../../../src/library/lensSystem.ts'
import { T95 } from '../../../src/num/stats.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

const lamp = gannetHead()
const finding = (severity: Finding['severity'], rule: string): Finding => ({
  rule,
  severity,
  title: rule,
  why: '',
  cure: '',
  place: { kind: 'part', part: 'lens' },
})

describe('state', () => {
  test.each([
    [null, false, 'waiting', 'waiting'],
    [null, false, 'failed', 'failed'],
    ['rough', false, 'tracing', 'rough'],
    ['settled', false, 'settled', 'settled'],
    ['settled', true, 'tracing', 'old'],
    ['settling', false, 'paused', 'paused'],
    ['settled', false, 'paused', 'settled'],
    ['settled', true, 'failed', 'failed'],
  ] as const)('sheet %s, stale %s, trace %s is %s', (sheet, stale, trace, word) =>
    expect(stateOf(sheet && { state: sheet }, stale, trace, false)).toBe(word),
  )
  test('a failure says why, or that it does not know', () => {
    expect(stateSentence('failed', 'The lens is behind the face.')).toBe('The lens is behind the face.')
    expect(stateOf({ state: 'settling' }, false, 'paused', true)).toBe('held')
    expect(stateSentence('held', '', false, ['optimize'])).toBe('Waits for the search; ± stays.')
    expect(stateSentence('failed', '')).toBe('No reason was given.')
    expect([STATE_TITLES.fault, stateSentence('fault', 'The lamp gives no light.')]).toEqual([
      'Nothing to trace',
      'The lamp gives no light.',
    ])
    expect(stateSentence('settled', '')).toBe('As sharp as was asked for.')
    expect(stateSentence('settled', '', false)).toBe('Ended before the wanted ± was reached.')
    expect(stateSentence('settling', '', false)).toBe('Getting sharper.')
    expect(stateSentence('settling', '', true)).toBe('The rest is on its way.')
  })
  test('facts of the trace', () =>
    expect(traceFacts(fakeSheet(lamp)).map((f) => f.replaceAll(THIN, ' '))).toEqual([
      '6.29 million rays',
      '200 000 rays/s',
      'seed 1',
    ]))
  test('progress goes by the square of ±, and ends at the requested precision', () => {
    const sheet = fakeSheet(lamp)
    sheet.figures.axialIntensityCd = { value: 100, se: 1 } // ± 2.131 %
    expect(progress(sheet, 0.010655)).toBeCloseTo(0.25, 9)
    expect(progress(sheet, 0.022)).toBe(1)
    expect(progress(null, 0.01)).toBe(0)
    // A dark axis is judged against the peak.
    expect(progress({ ...sheet, reached: { wanted: 0.01, share: 0.02, of: 'peak', rays: 4e6 } }, 0.01)).toBeCloseTo(
      0.25,
      9,
    )
  })
})

describe('findings', () => {
  test('are counted in words', () => {
    expect(countFindings([])).toBe('no finding')
    expect(countFindings([finding('severe', 'a')])).toBe('1 severe')
    expect(countFindings([finding('note', 'a'), finding('warning', 'b'), finding('note', 'c')])).toBe(
      '1 warning, 2 notes',
    )
  })
  test('places in words, and the view that shows them', () => {
    expect(placeWords({ kind: 'board', boardIndex: 11 }, lamp.boards)).toBe('Board B12')
    expect(placeWords({ kind: 'board', boardIndex: 99 }, lamp.boards)).toBe('Board 100')
    expect(placeWords({ kind: 'emitter', boardIndex: 0, siteIndex: 3 }, lamp.boards)).toBe('Board B1, emitter 4')
    const point = { kind: 'point', xMm: -0.3, yMm: 12.6, zMm: 1670, on: 'front' } as const
    expect(placeWords(point, lamp.boards)).toBe(`In front, x 0, y 13, z 1670${THIN}mm`)
    // A thousandth of a millimetre beside the axis is no place of its own, in inches neither.
    expect(placeWords({ ...point, xMm: 0.0007 }, lamp.boards, 'the lens', 'inch')).toBe(
      `In front, x 0, y 0.5, z 65.7${THIN}in`,
    )
    const onPane = placeWords({ ...point, on: 'lens' }, lamp.boards, mappedWords(slipLight()))
    expect(onPane).toBe(`On “Clear pane”, x 0, y 13, z 1670${THIN}mm`)
    expect(placeWords({ ...point, on: 'lens' }, lamp.boards)).toMatch(/^On the lens, /)
    expect(viewOf(point)).toBe('section')
    expect(viewOf({ kind: 'board', boardIndex: 0 })).toBe('plan')
    expect(viewOf({ kind: 'part', part: 'target' })).toBe('night')
    expect(viewOf({ kind: 'part', part: 'lens' })).toBe('section')
    expect(viewOf({ kind: 'part', part: 'face' })).toBe('plan')
  })
})

describe('effect of each part', () => {
  const variant = (name: Variant['name'], cd: number, lm: number, share = 0.001): Variant => ({
    name,
    rays: 1,
    figures: { axialIntensityCd: { value: cd, se: cd * share }, fluxOutLm: { value: lm, se: 1 } },
  })
  test('a lens that helps', () =>
    expect(variantEffects([variant('as designed', 400, 50_000), variant('without lens', 100, 60_000)])).toEqual([
      `The lens makes the axis 4 times as bright and costs 10${THIN}000${THIN}lm of flux out.`,
    ]))
  test('a lens that makes it worse is reported', () =>
    expect(variantEffects([variant('as designed', 100, 50_000), variant('without lens', 150, 60_000)])).toEqual([
      'The lens makes the axis darker: left out, the axis would be 1.5 times as bright.',
    ]))
  test('a dark axis', () => {
    const { axialIntensityCd: _, ...dark } = variant('as designed', 1, 50_000).figures
    const designed = { ...variant('as designed', 1, 50_000), figures: dark }
    expect(variantEffects([designed, variant('without lens', 150, 60_000)])).toEqual([
      `The lens keeps the axis dark, as far as rays have shown: left out, it would have 150${THIN}cd.`,
    ])
    expect(variantEffects([{ ...designed, figures: {} }, variant('without lens', 150, 60_000)])).toEqual([])
  })
  test('no claim inside ±', () =>
    expect(
      variantEffects([variant('as designed', 100, 50_000, 0.1), variant('without tunnel', 90, 40_000, 0.1)])[0],
    ).toBe(
      `The tunnel changes the brightness on the axis by less than can be told here and adds 10${THIN}000${THIN}lm of flux out.`,
    ))
  test('says nothing before the real lamp has been traced', () => expect(variantEffects([])).toEqual([]))
  test('the errors of a ratio add in squares', () => {
    const r = ratioOf({ value: 10, se: 0.3 }, { value: 5, se: 0.2 })!
    expect(r.value).toBe(2)
    expect(r.half).toBeCloseTo(T95 * 2 * 0.05, 12)
    expect(ratioOf({ value: 1, se: 0 }, { value: 0, se: 0 })).toBeNull()
  })
})

test('short words for drawings; an unknown line keeps its own', () => {
  const line = { name: 'A long sentence', share: { value: 0, se: 0 }, lm: 0, w: 0 }
  expect(lineWords({ ...line, line: 'wall' })).toBe('Tunnel wall')
  expect(lineWords({ ...line, line: 'mystery' })).toBe('A long sentence')
  expect(percent(0.005)).toBe(`0.5${THIN}%`)
})

test('only an end is announced', () => {
  const sheet = fakeSheet(lamp)
  expect(announcement(sheet, 'rough')).toBe('')
  expect(announcement(sheet, 'old')).toBe('')
  expect(announcement(null, 'waiting')).toBe('')
  expect(announcement(sheet, 'settled').replaceAll(THIN, ' ')).toBe(
    'Figures: 58 653 ± 39 lm, 5.985 ± 0.040 Mcd; dangers: 2 severe, 2 warnings, 1 note.',
  )
})

test('the dangers are the last word only when settled', () => {
  expect(unfinishedWords('settled')).toBe('')
  for (const state of ['rough', 'settling', 'paused', 'old', 'failed'] as const) {
    expect(unfinishedWords(state)).toContain('the upper end of ± is used'.slice(4))
  }
})

test('comparisons still to come', () => {
  const all = { hasLens: true, hasTunnel: true, hasOptics: true }
  const done = fakeSheet(lamp).variants
  expect(stillTraced([], all)).toEqual(['as designed', 'without lens', 'without tunnel', 'bare emitters'])
  expect(stillTraced(done.slice(0, 2), all)).toEqual(['without tunnel', 'bare emitters'])
  expect(stillTraced(done.slice(0, 1), { hasLens: false, hasTunnel: false, hasOptics: false })).toEqual([])
})
