// Channels of a lamp: who hangs on which driver, and through how much wire.
import { describe, expect, test } from 'vitest'
import type { Board, Lamp, Power } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { channelsOf, emittersInSeries, parallelStrings } from '../../src/power/channels.ts'
import { expectWithin } from '../kit/expect.ts'

/** AWG 20 at 75 °C: 33.308 Ω/km (NBS Handbook 100) · 1.21615. */
const OHM_M = 0.033308 * 1.21615
const PRINTED = { rel: 1e-4, because: 'printed digits of the wire' }

function lampOf(wired: 'each' | 'series' | 'parallel', power: Partial<Power> = {}): Lamp {
  const lamp = gannetHead()
  const at = (xMm: number, yMm: number, id: string, group?: string): Board => {
    const { group: _, ...board } = lamp.boards[0]!
    return { ...board, id, xMm, yMm, ...(group ? { group } : {}) }
  }
  const groups = [
    { id: 'g', name: 'G', driver: 'buck', wired },
    { id: 'none', name: 'None', driver: 'buck', wired },
    { id: 'h', name: 'H', driver: 'buck', wired: 'each' as const },
  ]
  return {
    ...lamp,
    boards: [at(0, 0, 'a'), at(9, 9, 'x', 'h'), at(30, 40, 'b'), at(30, 0, 'c', 'g')],
    power: { ...lamp.power!, groups, ...power },
  }
}
const of = (lamp: Lamp) => channelsOf(lamp, lamp.power!)

describe('channels', () => {
  test('a driver each: in the order of groups, then boards; boards without a group are of the first; empty groups give none', () => {
    const channels = of(lampOf('each'))
    expect(channels.map((c) => [c.id, c.boards, c.group.id, c.wired, c.linksMm])).toEqual([
      ['a', [0], 'g', 'each', []],
      ['b', [2], 'g', 'each', []],
      ['c', [3], 'g', 'each', []],
      ['x', [1], 'h', 'each', []],
    ])
    expect(channels[0]!.driver.id).toBe('buck')
  })
  test('one driver for the group, under the group’s name', () => {
    expect(of(lampOf('series')).map((c) => [c.id, c.boards])).toEqual([
      ['g', [0, 2, 3]],
      ['x', [1]],
    ])
  })
  test('wires: 600 mm and one contact to the driver, 200 mm on; a length of its own by the channel’s name', () => {
    const lamp = lampOf('each')
    const [a] = of(lamp)
    expect(a!.lengthMm).toBe(600)
    expectWithin(a!.inOhm, 1.2 * OHM_M + 0.002, PRINTED)
    expectWithin(a!.outOhm, 0.4 * OHM_M, PRINTED)
    const own = of({
      ...lamp,
      power: { ...lamp.power!, harness: { ...lamp.power!.harness, channelLengthMm: { b: 900 } } },
    })
    expect(own.map((c) => c.lengthMm)).toEqual([600, 900, 600, 600])
    expectWithin(own[1]!.inOhm, 1.8 * OHM_M + 0.002, PRINTED)
  })
  test('links: 50 mm, 40 mm, and in series 30 mm back to the first; each one wire', () => {
    const [series] = of(lampOf('series'))
    expect(series!.linksMm).toEqual([50, 40, 30])
    expectWithin(series!.outOhm, (0.4 + 0.12) * OHM_M, PRINTED)
    const [parallel] = of(lampOf('parallel'))
    expect(parallel!.linksMm).toEqual([50, 40])
    expectWithin(parallel!.outOhm, 0.4 * OHM_M, PRINTED)
  })
  test('a group of one board has no links', () => {
    const lamp = lampOf('series')
    expect(of({ ...lamp, boards: lamp.boards.slice(0, 1) })[0]!.linksMm).toEqual([])
  })
})

describe('strings', () => {
  test('as the type has it, no more than emitters; the longest string where they do not divide', () => {
    const lamp = lampOf('each')
    const [type] = lamp.boardTypes
    const with_ = (strings: number) => ({ ...lamp, boardTypes: [{ ...type!, strings }] })
    expect([1, 2, 7, 9].map((n) => parallelStrings(with_(n), 0))).toEqual([1, 2, 7, 7])
    expect([1, 2, 3, 7].map((n) => emittersInSeries(with_(n), 0))).toEqual([7, 4, 3, 1])
    expect(parallelStrings(lamp, 0)).toBe(1)
  })
})
