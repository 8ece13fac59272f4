// Parts joined are the run in one go, to the last byte.
import { expect, test } from 'vitest'
import { indicesOf, joinParts, type PartFile, parsePart, readPart, writePart } from '../../../src/job/part/part.ts'
import { benchCheck } from '../../../src/library/demos.ts'

interface Traced {
  index: number
  reading: { value: number; se: number }
}

/** Numbers that a text could lose: a third, the smallest step at 1, none at all. */
const cell = (index: number): Traced => ({
  index,
  reading: { value: index === 3 ? Number.NaN : (1 + index * 2 ** -52) / 3, se: index === 4 ? Infinity : 5e-324 },
})

const made = (part: number, of: number, change: Partial<PartFile<Traced>> = {}): PartFile<Traced> => ({
  format: 'lamp-part',
  version: 1,
  kind: 'tolerances',
  program: '0.1.0',
  settings: { seed: 1, rays: 1024 },
  all: 11,
  lamp: benchCheck(),
  part,
  of,
  cells: indicesOf(11, { part, of }).map(cell),
  ...change,
})
const again = (part: PartFile): PartFile => {
  const read = readPart(writePart(part))
  if (!read.ok) throw new Error(read.why)
  return read.part
}
const named = (...parts: PartFile[]) => parts.map((part, i) => ({ name: `p${i + 1}.json`, part: again(part) }))

test('every cell lies in one part, and parts are about equally long', () => {
  const parts = [1, 2, 3, 4].map((part) => indicesOf(11, { part, of: 4 }))
  expect(parts).toEqual([
    [0, 4, 8],
    [1, 5, 9],
    [2, 6, 10],
    [3, 7],
  ])
  expect(indicesOf(2, { part: 3, of: 4 })).toEqual([])
})

test('"3/8" is a part; others are none', () => {
  expect(parsePart('3/8')).toEqual({ part: 3, of: 8 })
  for (const text of ['0/8', '9/8', '3', '3/', '1.5/8', ' 3/8', '3/0']) expect(parsePart(text), text).toBeNull()
})

test('joined parts have the bytes of the whole, in whatever order and however often they come', () => {
  const whole = writePart(made(1, 1))
  for (const order of [
    [1, 2, 3],
    [3, 1, 2],
    [2, 2, 3, 1],
  ]) {
    const joined = joinParts(named(...order.map((part) => made(part, 3))))
    expect(joined.ok && writePart(joined.whole)).toBe(whole)
  }
  expect(again(made(1, 1)).cells[4]).toEqual(cell(4))
})

test('parts that are missing are named', () => {
  expect(joinParts(named(made(2, 4)))).toEqual({ ok: false, why: '3 parts are missing: 1/4, 3/4, 4/4.' })
  expect(joinParts(named(made(1, 2)))).toEqual({ ok: false, why: 'Part 2/2 is missing.' })
})

test('parts of different runs are refused, with what differs', () => {
  const why = (other: PartFile) => {
    const joined = joinParts(named(made(1, 2), other))
    return joined.ok ? 'joined' : joined.why
  }
  expect(why(made(2, 2, { settings: { seed: 2, rays: 1024 } }))).toBe(
    'p2.json is of another run than p1.json: seed differs.',
  )
  expect(why(made(2, 2, { lamp: { ...benchCheck(), name: 'Other' } }))).toContain('the lamp is another')
  expect(why(made(2, 2, { kind: 'sweep' }))).toContain('one is of tolerances, the other of sweep')
  expect(why(made(2, 3))).toContain('cut into 2 parts, the other into 3')
  expect(why(made(2, 2, { program: '0.2.0' }))).toContain('two versions of the program, 0.1.0 and 0.2.0')
  const changed = made(1, 2).cells.map((c, i) => (i === 2 ? { ...c, reading: { value: 7, se: 0 } } : c))
  expect(why(made(1, 2, { cells: changed }))).toBe('p1.json and p2.json are both part 1/2, and differ.')
})

test('a damaged file is no part', () => {
  const text = writePart(made(1, 2))
  const why = (of: string) => {
    const read = readPart(of)
    return read.ok ? 'a part' : read.why
  }
  expect(why(text.slice(0, -30))).toContain('not all of it')
  expect(why('{}')).toBe('this is no part of a run')
  expect(why(text.replace('"index":4', '"index":5'))).toBe('cells of it are missing')
  expect(why(text.replace('"part":1', '"part":3'))).toBe('there is no part 3/2')
})
