// The power-up list's readings must be able to fail: at twice the current, and with a dry joint.
import { describe, expect, test } from 'vitest'
import { makeModel } from '../../src/electrothermal/model.ts'
import { warmUpOf } from '../../src/electrothermal/warmUp.ts'
import { DEMOS, gannetHead } from '../../src/library/demos.ts'
import type { WarmUp } from '../../src/power/powerUp.ts'
import { expectWithin } from '../kit/expect.ts'

const outside = ({ fromK, toK }: WarmUp['plate'], k: number) => k < fromK || k > toK

describe('a reading that a fault would give lies outside of a band', () => {
  test.each(Object.entries(DEMOS))('%s', (_, make) => {
    const model = makeModel(make(), null)
    const bands = warmUpOf(model)
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
    const gannet = gannetHead()
    const of = (currentA: number) => ({ ...gannet, boards: gannet.boards.map((b) => ({ ...b, currentA })) })
    const bandsOf = (l: typeof gannet) => warmUpOf(makeModel(l, null)).get('B1')![2]!
    // Twice the current of either lies within the emitter's table, which ends at 4 A.
    const lamp = of(1)
    const sound = bandsOf(lamp)
    const twice = bandsOf(of(2))
    const dry = bandsOf({
      ...lamp,
      boardTypes: lamp.boardTypes.map((t) => ({ ...t, thermal: { padKW: 1, jointKcm2W: 3 } })),
    })
    // The geometric middle of another lamp's band is near its own sound reading.
    const middle = ({ fromK, toK }: WarmUp['plate']) => Math.sqrt(fromK * toK)
    expect(middle(twice.board)).toBeGreaterThan(sound.board.toK)
    expect(middle(dry.board)).toBeGreaterThan(sound.board.toK)
    expectWithin(middle(twice.plate), sound.plate.twiceK, {
      rel: 0.15,
      because: 'a band spans two places and is not quite even',
    })
  })
})

test('channels of one board type share a band over the innermost and the outermost, each by its own heat', () => {
  const lamp = gannetHead()
  const only = (...ids: string[]) =>
    warmUpOf(makeModel({ ...lamp, boards: lamp.boards.filter((b) => ids.includes(b.id)) }, null))
  const [inner, outer] = [only('B1').get('B1')![2]!, only('B19').get('B19')![2]!]
  const both = only('B1', 'B19')
  for (const of of ['plate', 'board'] as const) {
    expectWithin(both.get('B1')![2]![of].fromK, Math.min(inner[of].fromK, outer[of].fromK), {
      rel: 0.25,
      because: 'a limit lies between the least sound and the most faulty of both',
    })
    expect(both.get('B1')![2]![of]).toEqual(both.get('B19')![2]![of])
    expectWithin(both.get('B1')![2]![of].twiceK, Math.min(inner[of].twiceK, outer[of].twiceK), {
      rel: 1e-9,
      because: 'the fault that shows least',
    })
  }
  // Half the current on one of them: less heat there, the other's band stays.
  const dimmed = { ...lamp, boards: lamp.boards.map((b) => (b.id === 'B2' ? { ...b, currentA: 1 } : b)) }
  const bands = warmUpOf(makeModel(dimmed, null))
  const all = warmUpOf(makeModel(lamp, null))
  expectWithin(bands.get('B1')![2]!.board.toK, all.get('B1')![2]!.board.toK, { rel: 1e-9, because: 'its own heat' })
  const share = bands.get('B2')![2]!.board.fromK / all.get('B2')![2]!.board.fromK
  expect(share).toBeGreaterThan(0.35)
  expect(share).toBeLessThan(0.5)
})

test('a group on one driver warms all of its boards at once: more than one of them alone', () => {
  const lamp = gannetHead()
  const groups = lamp.power!.groups.map((g) => ({ ...g, wired: 'series' as const }))
  const near = { ...lamp, boards: lamp.boards.slice(0, 7), power: { ...lamp.power!, groups } }
  const bands = warmUpOf(makeModel(near, null))
  expect([...bands.keys()]).toEqual(['all'])
  const alone = warmUpOf(makeModel({ ...near, boards: lamp.boards.slice(0, 1) }, null)).get('all')!
  expect(bands.get('all')![2]!.plate.twiceK).toBeGreaterThan(1.5 * alone[2]!.plate.twiceK)
  expect(warmUpOf(makeModel({ ...lamp, boards: [] }, null)).size).toBe(0)
})
