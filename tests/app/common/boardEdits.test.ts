import { describe, expect, test } from 'vitest'
import {
  middleOf,
  rotatedAbout,
  shifted,
  withBoardOptic,
  withCurrent,
  withEmitterOptic,
  withMore,
  withoutBoards,
  withPose,
} from '../../../src/app/common/boardEdits.ts'
import { emitterKeysOf, readEmitterKey, readingOrder, stepped } from '../../../src/app/common/selection.ts'
import { wheelMeaning } from '../../../src/app/plan/gestures/wheel.ts'
import { faultSentence, faultsLine, orderedFaults } from '../../../src/app/plan/model/faults.ts'
import { legend, mostCommonCurrentA, opticMarks } from '../../../src/app/plan/model/marks.ts'
import { choiceText, planText } from '../../../src/app/plan/model/words.ts'
import { LIMITS } from '../../../src/lamp/limits.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { findLayoutFaults } from '../../../src/layout/clearance.ts'
import { gannetHead, iceRink } from '../../../src/library/demos.ts'

const lamp = gannetHead()
const board = (l: Lamp, id: string) => l.boards.find((b) => b.id === id)!

describe('changes by hand', () => {
  test('boards that are not meant stay the very same', () => {
    const next = shifted(lamp, ['B2'], 1, 2)
    expect([board(next, 'B2').xMm, board(next, 'B2').yMm]).toEqual([37, 2])
    expect(next.boards.filter((b, i) => b !== lamp.boards[i])).toHaveLength(1)
  })

  test('no change is the same lamp, so it is no step of history', () => {
    expect(shifted(lamp, ['B2'], 0, 0)).toBe(lamp)
    expect(shifted(lamp, ['none'], 5, 5)).toBe(lamp)
    expect(rotatedAbout(lamp, ['B2'], 0, 0, 0)).toBe(lamp)
    expect(withoutBoards(lamp, ['none'])).toBe(lamp)
    expect(withCurrent(lamp, ['B1'], 2)).toBe(lamp)
  })

  test('whatever a drag does, the document stays one that can be read', () => {
    const far = shifted(lamp, ['B1', 'B2'], 1e7, -1e7)
    const spun = rotatedAbout(far, ['B2'], 1234.5678, 3, 4)
    expect(readLamp(spun)).toMatchObject({ ok: true })
    expect(board(far, 'B1').xMm).toBe(LIMITS.lengthMm)
  })

  test('typed coordinates put one board there, and several by their middle', () => {
    expect(board(withPose(lamp, ['B2'], 'xMm', 50), 'B2').xMm).toBe(50)
    const both = withPose(lamp, ['B1', 'B2'], 'xMm', 0)
    expect([board(both, 'B1').xMm, board(both, 'B2').xMm]).toEqual([-18, 18])
    const turned = withPose(lamp, ['B1', 'B2'], 'turnDeg', 90)
    expect(board(turned, 'B1').turnDeg).toBe(90)
    expect(middleOf([board(turned, 'B1'), board(turned, 'B2')])).toEqual([18, 0])
  })

  test('new boards get names of their own, within the limits of a lamp', () => {
    const { id: _id, ...pose } = { ...board(lamp, 'B2') }
    const more = withMore(lamp, [pose, pose])
    expect(more.ids).toEqual(['B20', 'B21'])
    const full = withMore(lamp, Array(2000).fill(pose))
    expect(full.lamp).toBe(lamp)
    expect(full.why).toBe('A lamp holds at most 2000 boards.')
    expect(withMore(lamp, Array(1500).fill(pose)).why).toBe('A lamp holds at most 10000 emitters.')
  })
})

describe('optics of boards and of single emitters', () => {
  test('a single emitter takes another, and gives it back without leaving a trace', () => {
    const one = withEmitterOptic(lamp, ['B1:0', 'B1:3', 'B2:1'], 'bare')
    expect(board(one, 'B1').siteOptics).toEqual({ 0: 'bare', 3: 'bare' })
    expect(board(one, 'B2').siteOptics).toEqual({ 1: 'bare' })
    expect(readLamp(one)).toMatchObject({ ok: true })
    const back = withEmitterOptic(one, ['B1:0', 'B1:3', 'B2:1'], 'collimator-12')
    expect(back.boards).toEqual(lamp.boards)
  })

  test('a board’s optic goes for all its emitters; the lamp’s own is not written down', () => {
    const one = withEmitterOptic(lamp, ['B1:0'], 'bare')
    const all = withBoardOptic(one, ['B1'], 'bare')
    expect(board(all, 'B1')).toMatchObject({ optic: 'bare' })
    expect(board(all, 'B1').siteOptics).toBeUndefined()
    expect(withBoardOptic(all, ['B1'], 'collimator-12').boards).toEqual(lamp.boards)
  })

  test('the legend counts emitters by optic; marks stay with their optic', () => {
    const rows = legend(withEmitterOptic(lamp, ['B1:0', 'B1:1'], 'bare'))
    expect(rows.map((r) => [r.mark.id, r.emitters])).toEqual([
      ['collimator-12', 131],
      ['bare', 2],
    ])
    expect(legend(lamp)).toHaveLength(1)
    const many = Array.from({ length: 40 }, (_, i) => ({ kind: 'bare' as const, id: `o${i}`, name: '' }))
    const marks = opticMarks({ opticTypes: many }).map((m) => `${m.shape} ${m.tone}`)
    expect(new Set(marks).size).toBe(40)
  })

  test('the current that most boards have', () => {
    expect(mostCommonCurrentA(withCurrent(lamp, ['B1', 'B2'], 0.7))).toBe(2)
    expect(mostCommonCurrentA({ boards: [] })).toBeNull()
  })
})

describe('walking with keys', () => {
  test('rows from the top, each from the left, then round again', () => {
    const order = readingOrder(lamp.boards).map((b) => b.id)
    const first = board(lamp, order[0]!)
    expect(first.yMm).toBe(Math.max(...lamp.boards.map((b) => b.yMm)))
    expect(stepped(order, [], 1)).toBe(order[0])
    expect(stepped(order, [order[order.length - 1]!], 1)).toBe(order[0])
    expect(stepped(order, [order[0]!], -1)).toBe(order[order.length - 1])
    expect(stepped([], [], 1)).toBeNull()
  })

  test('emitters of chosen boards, or of all', () => {
    expect(emitterKeysOf(lamp, ['B2'])).toHaveLength(7)
    expect(emitterKeysOf(lamp, [])).toHaveLength(133)
    expect(readEmitterKey('B2:5')).toEqual({ boardId: 'B2', siteIndex: 5 })
  })
})

describe('in words', () => {
  test('faults, worst kinds first', () => {
    const few = { ...lamp, boards: ['B1', 'B2', 'B8'].map((id) => board(lamp, id)) }
    const bad = shifted(shifted(few, ['B2'], -2, 0), ['B8'], 20, 0)
    const faults = orderedFaults(findLayoutFaults(bad))
    expect(faultsLine(faults)).toBe('1 overlap, 1 over the edge')
    expect(faultSentence(bad, faults[0]!)).toBe('B1 and B2 overlap by 1 mm.')
    expect(faultSentence(bad, faults[1]!)).toBe('B8 hangs 9.5 mm over the edge of the face.')
    expect(faultsLine([])).toBe('The layout has no faults.')
  })

  test('a gap too small states what is there and what is wanted', () => {
    const close = shifted(lamp, ['B2'], -0.8, 0)
    const f = findLayoutFaults(close).find((x) => x.kind === 'clearance' && x.boards.join() === '0,1')!
    expect(faultSentence(close, f)).toBe('B1 and B2 are 0.2 mm apart; 0.5 mm are wanted.')
  })

  test('what is chosen, and the whole drawing', () => {
    expect(choiceText(lamp, ['B2'], [])).toBe(
      'Board B2, Seven on a disc, 1 + 6 at 12 mm, x 36 mm, y 0 mm, turned 0°, 2 A',
    )
    expect(choiceText(lamp, ['B1', 'B2'], [])).toBe('2 boards are selected, their middle at x 18 mm, y 0 mm')
    expect(choiceText(lamp, [], ['B2:3'])).toBe('Emitter 4 of board B2, optic Collimator 12°, 10 mm')
    expect(choiceText(lamp, ['gone'], [])).toBe('Nothing is selected.')
    expect(planText(iceRink(), 'The layout has no faults.')).toBe(
      'Hexagonal face, 240 mm across flats, seen from the target. 10 boards with 30 emitters and 1 keep-out. The layout has no faults.',
    )
  })
})

describe('wheel or two fingers', () => {
  const turn = { deltaX: 0, deltaY: 0, deltaMode: 0, ctrlKey: false, shiftKey: false, timeMs: 1000 }
  test('notches zoom, slides pan, a pinch zooms', () => {
    expect(wheelMeaning({ ...turn, deltaY: 100 }, null).means).toBe('zoom')
    expect(wheelMeaning({ ...turn, deltaY: 3, deltaMode: 1 }, null).means).toBe('zoom')
    expect(wheelMeaning({ ...turn, deltaY: 4.5, deltaX: 1 }, null).means).toBe('pan')
    expect(wheelMeaning({ ...turn, deltaY: 4.5, ctrlKey: true }, null).means).toBe('zoom')
  })
  test('a fast slide that began as a pan stays one', () => {
    expect(wheelMeaning({ ...turn, deltaY: 120 }, { means: 'pan', timeMs: 900 }).means).toBe('pan')
    expect(wheelMeaning({ ...turn, deltaY: 120 }, { means: 'pan', timeMs: 500 }).means).toBe('zoom')
  })
})
