// How far the lamps of a comparison are read: a lamp that waits says for which, and how far that is.
import { expect, test } from 'vitest'
import { stateWords } from '../../../src/app/compare/stateWords.ts'
import type { ComparedLamp } from '../../../src/app/store/compare.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { fakeColumn } from '../../kit/fakeColumn.ts'

type State = Parameters<typeof stateWords>[0]
const whole = fakeColumn(gannetHead())
const rough = { ...whole, danger: { ...whole.danger, rough: true } } as NonNullable<ComparedLamp['read']>
const of = (part: Partial<State>): State => ({ read: rough, state: 'waiting', stage: null, why: '', ...part })
const plain = (text: string) => text.replaceAll('\u202f', ' ')

test('what is read, how far, and for what a lamp waits', () => {
  const reading = of({ state: 'reading', stage: { name: 'sun', share: 0.426 } })
  const [a, b] = [reading, of({})]
  expect(plain(stateWords(a, [a, b]))).toBe('dangers: the sun from every side… 42 %')
  expect(plain(stateWords(b, [a, b]))).toBe('dangers in full: waits for A 42 %')
  const front = of({ state: 'reading', stage: { name: 'front', share: 0 } })
  expect(plain(stateWords(b, [front, b, reading]))).toBe('dangers in full: waits for A and C 42 %')
  expect(stateWords(b, [b])).toBe('dangers in full: waits')
  expect(stateWords(of({ read: null }), [a, b])).toMatch(/^light: waits for A/)
  expect(stateWords(of({ read: whole }), [a, b])).toBe('')
  expect(stateWords(of({ state: 'failed', why: 'No light.' }), [a, b])).toBe('failed: No light.')
})
