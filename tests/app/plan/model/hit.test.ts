import { describe, expect, test } from 'vitest'
import { boardAt, boardsBox, boardsIn, emitterAt, emitterOf, emittersIn } from '../../../../src/app/plan/model/hit.ts'
import type { Lamp } from '../../../../src/lamp/schema.ts'
import { gannetHead, iceRink } from '../../../../src/library/demos.ts'

const gannet = gannetHead() // discs of 35 mm on a hexagonal pitch of 36 mm, seven emitters each
const rink = iceRink() // plates of 64 × 22 mm, three emitters in a row

const turned = (lamp: Lamp, turnDeg: number): Lamp => ({ ...lamp, boards: lamp.boards.map((b) => ({ ...b, turnDeg })) })

describe('what lies under the pointer', () => {
  test('a disc is hit inside its rim and missed outside it', () => {
    expect(boardAt(gannet, 17.4, 0)?.id).toBe('B1')
    expect(boardAt(gannet, 0, 17.6)).toBeNull()
    expect(boardAt(gannet, 0, 17.6, 0.2)?.id).toBe('B1')
  })

  test('a plate is hit as it is turned', () => {
    const alone = { ...rink, boards: [{ ...rink.boards[0]!, xMm: 0, yMm: -42 }] }
    expect(boardAt(alone, 30, -42)?.id).toBe('B1')
    const upright = turned(alone, 90)
    expect(boardAt(upright, 30, -42)).toBeNull()
    expect(boardAt(upright, 0, -70)?.id).toBe('B1')
  })

  test('of boards that overlap, the last drawn is on top', () => {
    const lamp = { ...gannet, boards: [gannet.boards[0]!, { ...gannet.boards[1]!, xMm: 10, yMm: 0 }] }
    expect(boardAt(lamp, 5, 0)?.id).toBe(gannet.boards[1]!.id)
  })

  test('a square hit on one board beats a near miss on another above it', () => {
    expect(boardAt(gannet, 17.4, 0, 5)?.id).toBe('B1')
  })

  test('the nearest emitter is hit within its optic’s rim', () => {
    expect(emitterAt(gannet, 12 + 4.9, 0)?.key).toBe('B1:1')
    expect(emitterAt(gannet, 6, 0.1)).toBeNull() // half way between two rims of 5 mm, 12 mm apart
    expect(emitterAt(gannet, 95, 0)).toBeNull()
  })

  test('an emitter is found where its board has been turned to', () => {
    const e = emitterOf(turned(rink, 90), rink.boards[0]!.id, 2)!
    expect(e.xMm).toBeCloseTo(rink.boards[0]!.xMm, 9)
    expect(e.yMm).toBeCloseTo(rink.boards[0]!.yMm + 20, 9)
    expect(emitterOf(rink, rink.boards[0]!.id, 3)).toBeNull()
    expect(emitterOf(rink, 'none', 0)).toBeNull()
  })
})

describe('a box', () => {
  test('selects the boards it touches', () => {
    expect(boardsIn(gannet, { minX: 17, maxX: 19, minY: -1, maxY: 1 })).toEqual(['B1', 'B2'])
    expect(boardsIn(gannet, { minX: 13, maxX: 14, minY: 13, maxY: 14 })).toEqual([]) // the corner of B1's square, off its disc
    expect(boardsIn(gannet, { minX: -200, maxX: 200, minY: -200, maxY: 200 })).toHaveLength(gannet.boards.length)
  })

  test('of no width still selects what it crosses', () => {
    expect(boardsIn(gannet, { minX: 0, maxX: 0, minY: -2, maxY: 2 })).toEqual(['B1'])
    expect(boardsIn(gannet, { minX: 3, maxX: 3, minY: 3, maxY: 3 })).toEqual(['B1'])
  })

  test('selects the emitters whose middle lies in it', () => {
    expect(emittersIn(gannet, { minX: -1, maxX: 12.5, minY: -1, maxY: 1 })).toEqual(['B1:0', 'B1:1'])
  })

  test('around boards reaches to their rims', () => {
    expect(boardsBox(gannet, gannet.boards.slice(0, 1))).toEqual({ minX: -17.5, maxX: 17.5, minY: -17.5, maxY: 17.5 })
    expect(boardsBox(gannet, [])).toBeNull()
  })
})
