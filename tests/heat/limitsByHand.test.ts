// Limits at their boundaries: on a limit nothing is passed, ties, first moments, and every field of a row.
import { describe, expect, test } from 'vitest'
import { type LimitRun, limitsOf, type PartsOnPlate, passesAt } from '../../src/heat/limits.ts'

const nothing: PartsOnPlate = { plasticOptics: [], leadInsulationC: null, boardNames: [], sinkMaxW: null }
const curves = (tS: number[], plateMaxC: number[]) => ({ tS, plateMaxC })
const cool = (over: Partial<LimitRun> = {}): LimitRun => ({
  limit: { kind: 'steady', atS: 100, boardIndex: null },
  sagsFromS: null,
  letGoFromS: null,
  curves: curves([0, 100], [20, 20]),
  ...over,
})

describe('when a curve passes a limit', () => {
  test('between two moments by a straight line: 60 of 100 K after 2 s, a fifth of the next 10 s', () => {
    expect(passesAt(curves([0, 2, 12, 20], [20, 60, 110, 300]), 70)).toBe(4)
  })
  test('it has passed at the first moment', () => {
    expect(passesAt(curves([3, 9], [80, 90]), 70)).toBe(3)
  })
  test('on the limit it hasn’t passed; above it, from when it left the limit', () => {
    expect(passesAt(curves([0, 5, 10], [20, 70, 70]), 70)).toBe(null)
    expect(passesAt(curves([0, 5, 10], [20, 70, 70.001]), 70)).toBe(5)
    expect(passesAt(curves([], []), 70)).toBe(null)
  })
})

describe('rows in full', () => {
  const none = { celsius: null, contactS: null, ends: false }
  test('optics at 70 °C by all their names, leads at the limit of their insulation', () => {
    const run = cool({ curves: curves([0, 10], [69, 79]) })
    const rows = limitsOf(run, { ...nothing, plasticOptics: ['Cup', 'Lid'], leadInsulationC: 75 })
    expect(rows.filter((r) => r.limit !== 'touch')).toEqual([
      { ...none, limit: 'optic', part: '“Cup”, “Lid”', atS: 1, celsius: 70 },
      { ...none, limit: 'insulation', part: 'the boards’ leads', atS: 6, celsius: 75 },
    ])
  })
  test('on 70 °C the optics are borne', () => {
    const run = cool({ curves: curves([0, 10], [69, 70]) })
    expect(limitsOf(run, { ...nothing, plasticOptics: ['Cup'] }).map((r) => r.limit)).toEqual(['touch'])
  })
  test('the sink’s heat: 50 W are passed halfway from 25 to 75 W; 75 W are not', () => {
    const run = cool({ curves: { ...curves([0, 10], [20, 20]), sinkW: [25, 75] } })
    expect(limitsOf(run, { ...nothing, sinkMaxW: 50 })).toEqual([
      { ...none, limit: 'sink', part: 'the sink takes more than the 50 W of its data sheet', atS: 5 },
    ])
    expect(limitsOf(run, { ...nothing, sinkMaxW: 75 })).toEqual([])
    expect(limitsOf(run, nothing)).toEqual([])
    expect(limitsOf(cool(), { ...nothing, sinkMaxW: 75 })).toEqual([])
  })
  test('drivers: sagging and letting go, each with its time', () => {
    expect(limitsOf(cool({ sagsFromS: 0, letGoFromS: 4 }), nothing)).toEqual([
      { ...none, limit: 'driver', part: 'a driver can’t hold its current', atS: 0 },
      { ...none, limit: 'driver', part: 'a driver switches off', atS: 4 },
    ])
  })
  test('the earliest first, whatever is looked for first; a driver that lets go as the pack is empty is listed beside it', () => {
    const times = (run: LimitRun) => limitsOf(run, nothing).map((r) => [r.part, r.atS])
    expect(times(cool({ sagsFromS: 5, letGoFromS: 4 }))).toEqual([
      ['a driver switches off', 4],
      ['a driver can’t hold its current', 5],
    ])
    const empty = { kind: 'empty', atS: 9, boardIndex: null }
    expect(times(cool({ letGoFromS: 9, limit: empty }))).toEqual([
      ['a driver switches off', 9],
      ['the pack is empty', 9],
    ])
  })
  test('the last driver that lets go ends the run and is listed once; an earlier one stands beside it', () => {
    const end = { kind: 'drivers', atS: 7, boardIndex: null }
    const parts = (letGoFromS: number | null) =>
      limitsOf(cool({ letGoFromS, limit: end }), nothing).map((r) => [r.part, r.atS, r.ends])
    expect(parts(7)).toEqual([['the drivers switch off', 7, true]])
    expect(parts(null)).toEqual([['the drivers switch off', 7, true]])
    expect(parts(6)).toEqual([
      ['a driver switches off', 6, false],
      ['the drivers switch off', 7, true],
    ])
  })
  test.each([
    ['cells', 'pack', 'the cells are too warm'],
    ['empty', 'pack', 'the pack is empty'],
    ['supply', 'pack', 'more than the supply can give'],
    ['drivers', 'driver', 'the drivers switch off'],
    ['junction', 'junction', 'board 1'],
  ])('%s ends a run', (kind, limit, part) => {
    const run = cool({ limit: { kind, atS: 9, boardIndex: null } })
    expect(limitsOf(run, nothing)).toEqual([{ ...none, limit, part, atS: 9, ends: true }])
  })
  test('a board by its name, else by its number; where none is known, the first', () => {
    const part = (boardIndex: number | null, boardNames: string[]) =>
      limitsOf(cool({ limit: { kind: 'junction', atS: 9, boardIndex } }), { ...nothing, boardNames })[0]?.part
    expect(part(1, ['A', 'B'])).toBe('board B')
    expect(part(null, ['A', 'B'])).toBe('board A')
    expect(part(2, ['A', 'B'])).toBe('board 3')
    expect(part(null, [])).toBe('board 1')
  })
})

describe('the earliest burn', () => {
  test('of two at the same time the shorter touch: 65 °C at 10 s + 1 s, 55 °C at 1 s + 10 s', () => {
    const run = cool({ curves: curves([0, 1, 10, 11], [20, 55, 65, 75]) })
    expect(limitsOf(run, nothing)).toEqual([
      { limit: 'touch', part: 'a second or less', atS: 11, celsius: 65, contactS: 1, ends: false },
    ])
  })
  test('a little earlier the longer one: 65 °C at 10.5 s', () => {
    const run = cool({ curves: curves([0, 1, 10.5, 11], [20, 55, 65, 75]) })
    expect(limitsOf(run, nothing)).toEqual([
      { limit: 'touch', part: 'ten seconds', atS: 11, celsius: 55, contactS: 10, ends: false },
    ])
  })
  test('at 43 °C and below nothing burns', () => {
    expect(limitsOf(cool({ curves: curves([0, 10], [20, 43]) }), nothing)).toEqual([])
    const run = cool({ curves: curves([0, 10], [20, 43.01]) })
    expect(limitsOf(run, nothing)[0]).toMatchObject({ contactS: 28_800, celsius: 43 })
  })
})
