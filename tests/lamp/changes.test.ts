// Changes between two documents: applied they give the other one, reversed the first; what is not changed stays the same object.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { changesBetween, reversed, withChanges } from '../../src/lamp/changes.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'

/** As what was stored comes back. */
const stored = <T>(value: T): T => JSON.parse(JSON.stringify(value))
/** Text knows no −0. */
const json = fc.jsonValue({ maxDepth: 4 }).map(stored)

describe('of any two documents', () => {
  test('forwards they give the second, backwards the first, also after they have been stored as text', () => {
    fc.assert(
      fc.property(json, json, (a, b) => {
        const changes = stored(changesBetween(a, b))
        expect(withChanges(a, changes)).toEqual({ value: b })
        expect(withChanges(b, reversed(changes))).toEqual({ value: a })
      }),
      { seed: 11, numRuns: 500 },
    )
  })

  test('equal ones have none', () => {
    fc.assert(
      fc.property(json, (a) => {
        expect(changesBetween(a, stored(a))).toEqual([])
      }),
      { seed: 12, numRuns: 300 },
    )
  })

  test('they are refused where the document is not the one that they were made from', () => {
    expect(withChanges({ x: 2 }, changesBetween({ x: 1 }, { x: 3 }))).toBeNull()
    expect(withChanges({ rows: [1, 9] }, changesBetween({ rows: [1, 2] }, { rows: [1] }))).toBeNull()
    expect(withChanges({}, changesBetween({ deep: { x: 1 } }, { deep: { x: 2 } }))).toBeNull()
  })
})

describe('of a lamp', () => {
  const lamp = gannetHead()

  test('one moved board among many is one number', () => {
    const moved = { ...lamp, boards: lamp.boards.map((b, i) => (i === 2 ? { ...b, xMm: 12.5 } : b)) }
    const changes = changesBetween(lamp, moved)
    expect(changes).toEqual([{ at: ['boards', 2, 'xMm'], from: lamp.boards[2]!.xMm, to: 12.5 }])
    const back = withChanges(moved, reversed(changes))!.value as typeof lamp
    expect(back).toEqual(lamp)
    expect(back.boards[3]).toBe(lamp.boards[3])
    expect(back.lens).toBe(lamp.lens)
  })

  test('boards taken away in the middle are those rows alone', () => {
    const fewer = { ...lamp, boards: lamp.boards.toSpliced(3, 2) }
    expect(changesBetween(lamp, fewer)).toEqual([
      { at: ['boards'], index: 3, removed: lamp.boards.slice(3, 5), added: [] },
    ])
  })

  test('one lamp becomes another', () => {
    const changes = stored(changesBetween(lamp, stileLamp()))
    expect(withChanges(lamp, changes)!.value).toEqual(stileLamp())
  })
})
