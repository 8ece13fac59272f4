import { describe, expect, test } from 'vitest'
import { migrate } from '../../src/lamp/migrate.ts'
import { readLamp } from '../../src/lamp/read.ts'
import { LAMP_VERSION } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

/** A document of version 0: one current for the whole lamp, none on the boards. */
function versionZero(currentA?: number) {
  const { boards, ...rest } = gannetHead()
  const bare = boards.map(({ currentA: _, ...board }) => board)
  return { ...rest, version: 0, boards: bare, ...(currentA === undefined ? {} : { currentA }) }
}

describe('version 0: the lamp’s current goes to each board', () => {
  test('and the lamp is otherwise what it was', () => {
    const read = readLamp(versionZero(1.5))
    const boards = gannetHead().boards.map((b) => ({ ...b, currentA: 1.5 }))
    expect(read).toEqual({ ok: true, lamp: { ...gannetHead(), boards } })
  })

  test('a board’s own current wins; without any it is 1 A', () => {
    const old = versionZero()
    const read = readLamp({ ...old, boards: [{ ...old.boards[0], currentA: 0.7 }, old.boards[1]] })
    expect(read.ok && read.lamp.boards.map((b) => b.currentA)).toEqual([0.7, 1])
  })

  test('an old file that doesn’t fit is refused in the same words', () => {
    expect(readLamp({ ...versionZero(500) })).toMatchObject({
      ok: false,
      why: expect.arrayContaining(['boards[0].currentA: 500 does not fit; expected at most 200.']),
    })
    expect(readLamp({ ...versionZero(), boards: 'none' })).toMatchObject({ ok: true })
  })
})

test('version 1, before heat and power: read as it is, nothing invented', () => {
  const { cooling: _, power: __, ...old } = gannetHead()
  const read = readLamp({ ...old, version: 1 })
  expect(read).toEqual({ ok: true, lamp: old })
})

test('the document that comes in is left as it was', () => {
  const old = versionZero(2)
  const before = structuredClone(old)
  migrate(old)
  expect(old).toEqual(before)
})

test.each([
  [LAMP_VERSION + 1, `version: ${LAMP_VERSION + 1} is newer than this program reads (up to ${LAMP_VERSION}).`],
  [1e300, `version: 1e+300 is newer than this program reads (up to ${LAMP_VERSION}).`],
  [-1, 'version: expected a whole number.'],
  [0.5, 'version: expected a whole number.'],
  ['1', 'version: expected a whole number.'],
  [undefined, 'version: expected a whole number.'],
])('version %j is refused', (version, why) => {
  expect(migrate({ ...gannetHead(), version })).toEqual({ ok: false, why })
})
