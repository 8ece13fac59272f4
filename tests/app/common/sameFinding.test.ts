import { expect, test } from 'vitest'
import { keepSevere, withKeys } from '../../../src/app/common/sameFinding.ts'
import { severeTitles } from '../../../src/app/store/severe.ts'
import type { Finding, Place, Severity } from '../../../src/checks/finding.ts'

const LENS: Place = { kind: 'part', part: 'lens' }
const finding = (rule: string, title: string, severity: Severity = 'severe', place: Place = LENS): Finding => ({
  rule,
  severity,
  title,
  why: 'why',
  cure: 'cure',
  place,
})
const spot = (xMm: number): Place => ({ kind: 'point', on: 'front', xMm, yMm: 0, zMm: 900 })

test('a hazard that two readings put differently counts once; two of them count twice', () => {
  const beam = [finding('front', 'Up to 40 kW/m² in front', 'severe', spot(1)), finding('wall', 'Hot wall')]
  const full = [finding('front', 'Up to 43 kW/m² in front', 'severe', spot(3)), finding('wall', 'Hot wall')]
  expect(severeTitles([beam, null, full])).toEqual(['Up to 40 kW/m² in front', 'Hot wall'])
  const two = [...full, finding('front', 'Up to 39 kW/m² in front', 'severe', spot(200))]
  expect(severeTitles([beam, two])).toHaveLength(3)
  expect(severeTitles([null, null])).toBeNull()
})

test('the same rule on two boards is two findings', () => {
  const on = (boardIndex: number) => finding('hot', 'Too hot', 'severe', { kind: 'board', boardIndex })
  expect(severeTitles([[on(0), on(1)], [on(1)]])).toHaveLength(2)
  expect(new Set(withKeys([on(0), on(1), on(1)]).map(([key]) => key)).size).toBe(3)
})

test('a first sheet removes no severe finding; it is marked as unconfirmed, once, however often it stays', () => {
  const before = [finding('front', 'Burns'), finding('cost', 'Dear', 'warning')]
  const first = keepSevere(before, [finding('other', 'Note', 'note')])
  expect(first.map((f) => f.title)).toEqual(['Note', 'Perhaps still: Burns'])
  expect(first[1]!.severity).toBe('severe')
  expect(keepSevere(first, []).map((f) => f.title)).toEqual(['Perhaps still: Burns'])
  // Seen again, it is what the look says.
  expect(keepSevere(first, [finding('front', 'Burns more')]).map((f) => f.title)).toEqual(['Burns more'])
})
