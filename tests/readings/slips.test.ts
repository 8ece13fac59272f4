import { expect, test } from 'vitest'
import type { LineSet, Readings } from '../../src/lamp/readings.ts'
import { checkReadings } from '../../src/readings/check.ts'

const places = [0, 100, 200, 300, 400, 500, 600, 700]
const bell = (mm: number) => Math.round(8000 * Math.exp(-((mm / 350) ** 2)))
const line = (change: (lx: number, i: number) => number): Readings => ({
  sets: [
    {
      id: 'line',
      kind: 'line',
      along: 'across',
      faces: 'wall',
      aimed: 'axis',
      distanceM: 10,
      rows: places.map((atMm, i) => ({ atMm, lx: change(bell(atMm), i) })),
    } satisfies LineSet,
  ],
})
const expected = new Map([['line', { lx: places.map(bell), halfMm: 350 * Math.sqrt(Math.LN2) }]])

test('clean readings raise nothing, with and without a prediction', () => {
  expect(checkReadings(line((lx) => lx))).toEqual([])
  expect(
    checkReadings(
      line((lx) => 0.9 * lx),
      expected,
    ),
  ).toEqual([])
})

// 5771 lx at 200 mm: a digit twice, the point a place off; 2167 lx at 400 mm: two digits swapped.
test.each([
  ['digit', 2, 57771, 5771],
  ['point', 2, 577.1, 5771],
  ['swapped', 4, 1267, 2167],
])('a slip of one reading is named: %s', (kind, row, typed, likely) => {
  // A factor under two is no more than a curve's own steps: only the prediction tells it.
  for (const by of kind === 'swapped' ? [expected] : [undefined, expected]) {
    const slipped = line((lx, i) => (i === row ? typed : lx))
    const found = checkReadings(slipped, by).filter((w) => w.kind === 'standsOut')
    expect(found.map((w) => w.row)).toEqual([row])
    expect(found[0]).toMatchObject({ lx: typed, slip: { kind, likely } })
  }
})

test('the steep edges of an even beam are no slip, a digit twice in its middle is', () => {
  const at = [-1500, -1200, -900, -600, -400, -200, 0, 200, 400, 600, 900, 1200, 1500]
  const lx = [128, 397, 12290, 28770, 29810, 29160, 30260, 29250, 29910, 28320, 12270, 375, 132]
  const set = (change: (v: number, i: number) => number) => {
    const [first] = line((v) => v).sets
    if (first?.kind !== 'line') throw new Error('a line')
    return { sets: [{ ...first, rows: at.map((atMm, i) => ({ atMm, lx: change(lx[i] ?? 0, i) })) }] }
  }
  expect(checkReadings(set((v) => v))).toEqual([])
  expect(checkReadings(set((v, i) => (i === 6 ? 302600 : v)))).toMatchObject([{ row: 6, slip: { likely: 30260 } }])
})

test('units that would put all readings right', () => {
  expect(
    checkReadings(
      line((lx) => lx * 0.3048 ** 2),
      expected,
    ),
  ).toEqual([{ kind: 'unit', set: 'line', slip: expect.objectContaining({ is: 'fc', taken: 'lx' }) }])
  expect(
    checkReadings(
      line((lx) => lx / 1000),
      expected,
    )[0],
  ).toMatchObject({ slip: { is: 'klx' } })
})

test('places typed in inches as if they were millimetres', () => {
  const [set] = line((lx) => lx).sets
  if (set?.kind !== 'line') throw new Error('a line')
  const inches = { ...set, rows: set.rows.map((r) => ({ ...r, atMm: r.atMm / 25.4 })) }
  const drawn = new Map([['line', { lx: inches.rows.map((r) => bell(r.atMm)), halfMm: 291 }]])
  expect(checkReadings({ sets: [inches] }, drawn)).toEqual([
    { kind: 'length', set: 'line', slip: { is: 'in', factor: 25.4 } },
  ])
})

test('inches are named before anything is traced at the places: the beam’s width is enough', () => {
  const [set] = line((lx) => lx).sets
  if (set?.kind !== 'line') throw new Error('a line')
  const inches = { ...set, rows: set.rows.map((r) => ({ ...r, atMm: r.atMm / 25.4 })) }
  expect(checkReadings({ sets: [inches] }, new Map([['line', { lx: [], halfMm: 291 }]]))).toMatchObject([
    { kind: 'length', slip: { is: 'in' } },
  ])
  // A digit twice among them hides neither.
  const slipped = { ...inches, rows: inches.rows.map((r, i) => (i === 1 ? { ...r, lx: 73722 } : r)) }
  expect(checkReadings({ sets: [slipped] }, new Map([['line', { lx: [], halfMm: 291 }]]))).toMatchObject([
    { kind: 'length', slip: { is: 'in' } },
    { kind: 'standsOut', row: 1 },
  ])
})

test('a reading at the end of the meter’s range', () => {
  const found = checkReadings({ ...line((lx) => lx), meter: { maxLx: 8000 } })
  expect(found).toEqual([{ kind: 'overRange', set: 'line', row: 0, where: 0, lx: 8000 }])
})
