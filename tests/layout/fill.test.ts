import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { LIMITS } from '../../src/lamp/limits.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { BoardType, Lamp } from '../../src/lamp/schema.ts'
import { findLayoutFaults } from '../../src/layout/clearance.ts'
import { type FillOptions, fillFace } from '../../src/layout/fill.ts'
import { gannetHead, iceRink } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { lampWith, type Overrides } from '../kit/lampWith.ts'

const DISC: FillOptions = { boardType: 'seven', pattern: 'hexagonal', clearanceMm: 0.5, marginMm: 2, currentA: 2 }
const boardFaults = (lamp: Lamp) => findLayoutFaults(lamp).filter((f) => f.kind !== 'opticsOverlap')
const outlined = (outline: BoardType['outline'], face: Overrides<Lamp>['face'] = {}): Lamp =>
  lampWith({ face, boardTypes: [{ ...gannetHead().boardTypes[0]!, sites: [{ xMm: 0, yMm: 0 }], outline }], boards: [] })

describe('the example face: discs of 35 mm with 0.5 mm between on 200 mm', () => {
  test('hexagonal holds the example’s own 19, in order from the centre', () => {
    const fill = fillFace(gannetHead(), DISC)
    expect(fill.placed).toBeGreaterThanOrEqual(19)
    expect(fillFace(gannetHead(), { ...DISC, wanted: 19 }).boards[0]).toEqual({
      id: 'B1',
      type: 'seven',
      xMm: 0,
      yMm: 0,
      turnDeg: 0,
      currentA: 2,
    })
  })
  test('7 wanted: one and six around it, as near the axis as they go', () => {
    const { boards, placed, didNotFit, words } = fillFace(gannetHead(), { ...DISC, wanted: 7 })
    expect([placed, didNotFit]).toEqual([7, 0])
    expect(Math.max(...boards.map((b) => Math.hypot(b.xMm, b.yMm)))).toBeCloseTo(35.5, 3)
    expect(words).toBe('All 7 boards placed, with 0.5 mm between boards and 2 mm to the edge.')
  })
  test.each([8, 9, 10, 12, 15])('%i wanted: a last ring that isn’t full is taken all round', (wanted) => {
    const { boards } = fillFace(gannetHead(), { ...DISC, pattern: 'rings', wanted })
    expect(boards).toHaveLength(wanted)
    const outMm = Math.max(...boards.map((b) => Math.hypot(b.xMm, b.yMm)))
    const outer = boards.filter((b) => Math.hypot(b.xMm, b.yMm) > outMm - 0.01)
    // Of n places round a ring, m taken all round: their middle is off the axis by at most one place's length over m.
    const middle = (key: 'xMm' | 'yMm') => outer.reduce((sum, b) => sum + b[key], 0) / outer.length
    if (outer.length > 1) expect(Math.hypot(middle('xMm'), middle('yMm'))).toBeLessThan((2 * 35.5) / outer.length)
  })
  test('more than fit: says how many did not', () => {
    const fill = fillFace(gannetHead(), { ...DISC, wanted: 40 })
    expect(fill.placed + fill.didNotFit).toBe(40)
    expect(fill.didNotFit).toBeGreaterThan(10)
    expect(fill.words).toContain(`${fill.didNotFit} boards did not fit.`)
  })
  test('none wanted, or a board larger than the face: none placed, and no error', () => {
    expect(fillFace(gannetHead(), { ...DISC, wanted: 0 })).toMatchObject({ placed: 0, didNotFit: 0, boards: [] })
    const huge = outlined({ shape: 'disc', diameterMm: 300 })
    for (const pattern of ['hexagonal', 'square', 'rings', 'most'] as const) {
      expect(fillFace(huge, { ...DISC, pattern }).placed).toBe(0)
    }
  })
  test('the same twice', () => {
    const once = fillFace(gannetHead(), { ...DISC, pattern: 'most' })
    expect(fillFace(gannetHead(), { ...DISC, pattern: 'most' })).toEqual(once)
  })
  test('an unknown board type is an error', () => {
    expect(() => fillFace(gannetHead(), { ...DISC, boardType: 'nine' })).toThrow('no board type called "nine"')
  })
})

describe('around what is there', () => {
  test.each(['hexagonal', 'square', 'rings', 'most'] as const)('boards that stay, %s', (pattern) => {
    const keep = gannetHead().boards.slice(3, 5)
    const fill = fillFace(gannetHead(), { ...DISC, pattern, keep })
    expect(findLayoutFaults({ ...gannetHead(), boards: [...keep, ...fill.boards] })).toEqual([])
  })
  test('a cable hole and boards that stay: nothing touches them, names stay unique', () => {
    const keep = gannetHead().boards.slice(3, 5)
    const lamp = lampWith({ face: { keepOuts: [{ shape: 'hole', xMm: 0, yMm: 0, diameterMm: 10, why: 'Cable' }] } })
    const fill = fillFace(lamp, { ...DISC, keep })
    const boards = [...keep, ...fill.boards]
    expect(fill.placed).toBeGreaterThan(9)
    expect(new Set(boards.map((b) => b.id)).size).toBe(boards.length)
    expect(findLayoutFaults({ ...lamp, boards })).toEqual([])
  })
  test('a lamp’s limits hold, and are reported', () => {
    const tiny = outlined({ shape: 'disc', diameterMm: 0.5 }, { sizeMm: 2000 })
    const fill = fillFace(tiny, DISC)
    expect(fill.placed).toBe(LIMITS.boards)
    expect(fill.words).toContain('as many as one lamp may hold')
    expect(readLamp({ ...tiny, boards: fill.boards }).ok).toBe(true)
    expect(fillFace(tiny, { ...DISC, pattern: 'rings' }).placed).toBe(LIMITS.boards)
  })
})

describe('plates', () => {
  test('rectangles tile a square face exactly', () => {
    const lamp = outlined({ shape: 'rectangle', widthMm: 30, heightMm: 14 }, { shape: 'square', sizeMm: 104 })
    const fill = fillFace(lamp, { ...DISC, pattern: 'square', clearanceMm: 2, marginMm: 3, turnDeg: 0 })
    expect(fill.placed).toBe(3 * 6) // 3 × 30 + 2 × 2 = 94 ≤ 98; 6 × 14 + 5 × 2 = 94 ≤ 98
  })
  test('hexagons on a hexagon: 1 + 6 + 12 flat to flat', () => {
    const lamp = outlined({ shape: 'hexagon', acrossMm: 20 }, { shape: 'round', sizeMm: 120 })
    const fill = fillFace(lamp, { ...DISC, clearanceMm: 1, marginMm: 0, turnDeg: 0 })
    expect(fill.placed).toBeGreaterThanOrEqual(19)
    expect(boardFaults({ ...lamp, boards: fill.boards, face: { ...lamp.face, clearanceMm: 1, marginMm: 0 } })).toEqual(
      [],
    )
  })
  test('the ice rink’s boards: at least the ten of the example', () => {
    const fill = fillFace(iceRink(), { ...DISC, boardType: 'three', pattern: 'square', clearanceMm: 2, marginMm: 5 })
    expect(fill.placed).toBeGreaterThanOrEqual(10)
  })
  test('plates on rings face outwards', () => {
    const lamp = outlined({ shape: 'rectangle', widthMm: 20, heightMm: 30 })
    const { boards } = fillFace(lamp, { ...DISC, pattern: 'rings' })
    const outer = boards.filter((b) => Math.hypot(b.xMm, b.yMm) > 60)
    expect(outer.length).toBeGreaterThan(8)
    for (const b of outer) {
      const off = ((Math.atan2(b.yMm, b.xMm) * 180) / Math.PI - b.turnDeg) % 360
      expect(Math.abs(((off + 540) % 360) - 180)).toBeLessThan(0.01)
    }
  })
})

// The size of a board against the face is limited to a few hundred boards, so that the property runs in seconds.
const anyOutline = fc.oneof(
  fc.record({ shape: fc.constant('disc' as const), diameterMm: fc.double({ min: 12, max: 80, noNaN: true }) }),
  fc.record({
    shape: fc.constant('rectangle' as const),
    widthMm: fc.double({ min: 12, max: 90, noNaN: true }),
    heightMm: fc.double({ min: 12, max: 90, noNaN: true }),
  }),
  fc.record({ shape: fc.constant('hexagon' as const), acrossMm: fc.double({ min: 12, max: 80, noNaN: true }) }),
  fc.record({
    shape: fc.constant('star' as const),
    acrossMm: fc.double({ min: 12, max: 80, noNaN: true }),
    points: fc.integer({ min: 3, max: 12 }),
    notchMm: fc.constant(3),
  }),
)
const anyHole = fc.record({
  shape: fc.constant('hole' as const),
  xMm: fc.double({ min: -90, max: 90, noNaN: true }),
  yMm: fc.double({ min: -90, max: 90, noNaN: true }),
  diameterMm: fc.double({ min: 1, max: 40, noNaN: true }),
  why: fc.constant(''),
})

test('whatever the face, a fill has no fault of its own at the wanted clearance and margin', () => {
  fc.assert(
    fc.property(
      anyOutline,
      fc.constantFrom('round' as const, 'square' as const, 'hexagon' as const),
      fc.double({ min: 40, max: 220, noNaN: true }),
      fc.constantFrom('hexagonal' as const, 'square' as const, 'rings' as const, 'most' as const),
      fc.tuple(fc.double({ min: 0, max: 6, noNaN: true }), fc.double({ min: 0, max: 12, noNaN: true })),
      fc.option(fc.integer({ min: 0, max: 40 }), { nil: undefined }),
      fc.option(fc.double({ min: -90, max: 90, noNaN: true }), { nil: undefined }),
      fc.array(anyHole, { maxLength: 3 }),
      (outline, shape, sizeMm, pattern, [clearanceMm, marginMm], wanted, turnDeg, keepOuts) => {
        const lamp = outlined(outline, { shape, sizeMm, keepOuts, clearanceMm, marginMm })
        const fill = fillFace(lamp, {
          ...DISC,
          pattern,
          clearanceMm,
          marginMm,
          ...(wanted === undefined ? {} : { wanted }),
          ...(turnDeg === undefined ? {} : { turnDeg }),
        })
        expect(boardFaults({ ...lamp, boards: fill.boards })).toEqual([])
        expect(readLamp({ ...lamp, boards: fill.boards }).ok).toBe(true)
        expect(fill.placed).toBe(fill.boards.length)
        if (wanted !== undefined) expect(fill.placed + fill.didNotFit).toBe(wanted)
      },
    ),
    { numRuns: amount(30, 120), seed: 11 },
  )
})
