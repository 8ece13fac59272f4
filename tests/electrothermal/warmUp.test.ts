// The power-up list's readings must be able to fail: at twice the current, and with a dry joint.
import { describe, expect, test } from 'vitest'
import { makeModel } from '../../src/electrothermal/model.ts'
import { meanFlow, warmUpOf } from '../../src/electrothermal/warmUp.ts'
import { DEMOS, gannetHead } from '../../src/library/demos.ts'
import type { WarmUp } from '../../src/power/powerUp.ts'
import { expectWithin } from '../kit/expect.ts'

const outside = ({ fromK, toK }: WarmUp['plate'], k: number) => k < fromK || k > toK

describe('a reading that a fault would give lies outside of a band', () => {
  test.each(Object.entries(DEMOS))('%s', (_, make) => {
    const model = makeModel(make(), null)
    const bands = warmUpOf(model, [model.channels.map((c) => c.id)])
    expect(bands.size).toBe(model.channels.length)
    for (const readings of bands.values()) {
      expect(readings.map((r) => r.atS)).toEqual([1, 5, 10, 60])
      for (const { plate, board } of readings) {
        expect(outside(plate, plate.twiceK) || outside(board, board.twiceK)).toBe(true)
        expect(outside(plate, plate.dryK) || outside(board, board.dryK)).toBe(true)
        for (const b of [plate, board]) {
          expect(b.fromK).toBeGreaterThan(0)
          expect(b.toK).toBeGreaterThan(b.fromK)
          expect(b.twiceK).toBeGreaterThan(b.toK)
        }
        // A dry joint: the board hotter than its band.
        expect(board.dryK).toBeGreaterThan(board.toK)
      }
      // At first the plate hardly notices a board that does not touch it.
      const [first] = readings
      expect(first!.plate.dryK).toBeLessThan(first!.plate.fromK)
    }
  })
  test('a model of its own with the fault falls outside of the sound lamp’s band', () => {
    const lamp = gannetHead()
    const bandsOf = (l: typeof lamp) => {
      const model = makeModel(l, null)
      return warmUpOf(model, [[model.channels[0]!.id]]).get('B1')![2]!
    }
    const sound = bandsOf(lamp)
    const twice = bandsOf({ ...lamp, boards: lamp.boards.map((b) => ({ ...b, currentA: 4 })) })
    const dry = bandsOf({
      ...lamp,
      boardTypes: lamp.boardTypes.map((t) => ({ ...t, thermal: { padKW: 1, jointKcm2W: 3 } })),
    })
    // The geometric middle of another lamp's band is near its own sound reading.
    const middle = ({ fromK, toK }: WarmUp['plate']) => Math.sqrt(fromK * toK)
    expect(middle(twice.board)).toBeGreaterThan(sound.board.toK)
    expect(middle(dry.board)).toBeGreaterThan(sound.board.toK)
    expectWithin(middle(twice.plate), sound.plate.twiceK, { rel: 0.1, because: 'a band is not quite even in ratio' })
  })
})

test('channels that share a band: the innermost and the outermost widen it; an unknown one has none', () => {
  const model = makeModel(gannetHead(), null)
  const [inner, outer] = [['B1'], ['B19']].map((ids) => warmUpOf(model, [ids]).get(ids[0]!)![2]!)
  const both = warmUpOf(model, [['B1', 'B19', 'nobody']])
  for (const of of ['plate', 'board'] as const) {
    expect(both.get('B1')![2]![of].fromK).toBeLessThanOrEqual(Math.min(inner![of].fromK, outer![of].fromK) + 1e-9)
    expect(both.get('B1')![2]![of].toK).toBeGreaterThanOrEqual(Math.min(inner![of].toK, outer![of].toK) - 1e-9)
  }
  expect(warmUpOf(model, [['nobody']]).size).toBe(0)
})

describe('what passes a joint behind which heat is stored, mean of 1 − e^(−t/τ)', () => {
  test.each([
    [0, 1, 0, 1],
    [0, 1, 1, 1 / Math.E],
    [0, 2, 1, 1 - (1 - Math.E ** -2) / 2],
    [1, 2, 1, 1 - Math.E ** -1 + Math.E ** -2],
    [3, 5, 0.5, 1 - (0.5 * (Math.E ** -6 - Math.E ** -10)) / 2],
  ])('%f to %f s, τ %f s: %f', (from, to, tau, share) => {
    expectWithin(meanFlow(from, to, tau), share, { abs: 1e-12, because: 'the integral by hand' })
  })
})
