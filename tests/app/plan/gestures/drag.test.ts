import { describe, expect, test } from 'vitest'
import {
  idle,
  nearHalfTurn,
  type PlanDeed,
  type PlanDrag,
  type PlanHit,
  type PlanInput,
  type PlanPoint,
  planDrag,
  steppedTurn,
} from '../../../../src/app/plan/gestures/drag.ts'

/** px and mm alike, y down in px and up in mm. */
const at = (x: number, y: number, more: Partial<PlanPoint> = {}): PlanPoint => ({
  xPx: x,
  yPx: -y,
  xMm: x,
  yMm: y,
  shift: false,
  alt: false,
  ...more,
})
const press = (p: PlanPoint, hit: PlanHit, more: Partial<Extract<PlanInput, { is: 'press' }>> = {}): PlanInput => ({
  is: 'press',
  at: p,
  hit,
  chosen: false,
  pan: false,
  tool: 'pick',
  pickMode: 'boards',
  ...more,
})
const move = (p: PlanPoint): PlanInput => ({ is: 'move', at: p })
const release = (p: PlanPoint): PlanInput => ({ is: 'release', at: p })

function play(...inputs: PlanInput[]): { state: PlanDrag; deeds: PlanDeed[] } {
  let state: PlanDrag = idle
  const deeds: PlanDeed[] = []
  for (const input of inputs) {
    const [next, more] = planDrag(state, input)
    state = next
    deeds.push(...more)
  }
  return { state, deeds }
}
const doings = (deeds: PlanDeed[]) => deeds.map((d) => d.do)

const board: PlanHit = { on: 'board', id: 'B1' }
const nothing: PlanHit = { on: 'nothing' }

describe('the hand on the plan', () => {
  test('a press and release is a click; shift toggles', () => {
    expect(play(press(at(0, 0), board), release(at(1, 1))).deeds).toEqual([{ do: 'choose', hit: board, how: 'only' }])
    const shifted = at(0, 0, { shift: true })
    expect(play(press(shifted, board), release(shifted)).deeds).toEqual([{ do: 'choose', hit: board, how: 'toggle' }])
  })

  test('a tremble under four px is still a click', () => {
    const { deeds } = play(press(at(0, 0), board), move(at(2, 2)), move(at(-1, 2)), release(at(1, 0)))
    expect(doings(deeds)).toEqual(['choose'])
  })

  test('dragging a board that is not chosen chooses it first, then lifts, shifts and drops once', () => {
    const { state, deeds } = play(press(at(0, 0), board), move(at(5, 0)), move(at(9, 3)), release(at(9, 4)))
    expect(doings(deeds)).toEqual(['choose', 'lift', 'shift', 'shift', 'shift', 'drop'])
    expect(deeds[4]).toEqual({ do: 'shift', dxMm: 9, dyMm: 4, free: false })
    expect(state).toEqual(idle)
  })

  test('dragging a chosen board keeps the choice, so that many go together', () => {
    const { deeds } = play(press(at(0, 0), board, { chosen: true }), move(at(8, 0)), release(at(8, 0)))
    expect(doings(deeds)).toEqual(['lift', 'shift', 'shift', 'drop'])
  })

  test('alt lets it go freely, at any moment of the drag', () => {
    const { deeds } = play(press(at(0, 0), board), move(at(8, 0)), move(at(9, 0, { alt: true })))
    expect(deeds.filter((d) => d.do === 'shift').map((d) => d.free)).toEqual([false, true])
  })

  test('cancel puts everything back, and what follows of the drag is ignored', () => {
    const { state, deeds } = play(
      press(at(0, 0), board),
      move(at(8, 0)),
      { is: 'cancel' },
      move(at(20, 0)),
      release(at(20, 0)),
    )
    expect(doings(deeds)).toEqual(['choose', 'lift', 'shift', 'putBack'])
    expect(state).toEqual(idle)
  })

  test('cancel before the hand has moved does nothing at all', () => {
    expect(play(press(at(0, 0), board), { is: 'cancel' }, release(at(0, 0))).deeds).toEqual([])
  })

  test('from empty ground a drag is a box, and shift adds', () => {
    const { deeds } = play(
      press(at(0, 0, { shift: true }), nothing),
      move(at(5, 5)),
      move(at(10, 20)),
      release(at(10, 20)),
    )
    expect(deeds).toEqual([{ do: 'chooseBox', fromX: 0, fromY: 0, toX: 10, toY: 20, add: true }])
  })

  test('while single emitters are picked, a drag never moves a board', () => {
    const hit: PlanHit = { on: 'emitter', id: 'B1', key: 'B1:0' }
    const { deeds } = play(
      press(at(0, 0), hit, { pickMode: 'emitters', chosen: true }),
      move(at(9, 9)),
      release(at(9, 9)),
    )
    expect(doings(deeds)).toEqual(['chooseBox'])
  })

  test('a click on empty ground lets go', () => {
    expect(play(press(at(0, 0), nothing), release(at(0, 0))).deeds).toEqual([
      { do: 'choose', hit: nothing, how: 'only' },
    ])
  })

  test('the middle button pans, whatever lies under it', () => {
    const { deeds } = play(press(at(0, 0), board, { pan: true }), move(at(7, 3)), move(at(8, 3)), release(at(8, 3)))
    expect(deeds).toEqual([
      { do: 'pan', dxPx: 7, dyPx: -3 },
      { do: 'pan', dxPx: 1, dyPx: 0 },
    ])
  })

  test('the turn handle turns about the middle of what is chosen, anticlockwise positive', () => {
    const handle: PlanHit = { on: 'turnHandle', xMm: 100, yMm: 0 }
    const { deeds } = play(press(at(100, 50), handle), move(at(50, 0)), release(at(50, 0, { shift: true })))
    expect(doings(deeds)).toEqual(['lift', 'turn', 'turn', 'drop'])
    expect(deeds[1]).toMatchObject({ do: 'turn', pivotX: 100, pivotY: 0, stepped: false })
    expect((deeds[1] as { byDeg: number }).byDeg).toBeCloseTo(90, 9)
    expect(deeds[2]).toMatchObject({ stepped: true })
  })

  test('turning past the far side goes on the short way', () => {
    const handle: PlanHit = { on: 'turnHandle', xMm: 0, yMm: 0 }
    const { deeds } = play(press(at(-50, 10), handle), move(at(-50, -10)))
    expect((deeds[1] as { byDeg: number }).byDeg).toBeCloseTo((2 * Math.atan(0.2) * 180) / Math.PI, 9)
  })

  test('putting a board down: it is aimed while held, and placed where let go', () => {
    const { deeds } = play(press(at(0, 0), board, { tool: 'place' }), move(at(9, 9)), release(at(10, 9)))
    expect(doings(deeds)).toEqual(['aim', 'aim', 'place'])
    expect(deeds[2]).toEqual({ do: 'place', xMm: 10, yMm: 9, free: false })
  })

  test('a second press while one is under way is not heard', () => {
    const { state } = play(press(at(0, 0), board), move(at(9, 0)), press(at(50, 50), nothing))
    expect(state.now).toBe('moving')
  })
})

test('turns come back into half a circle either way, and step by 15°', () => {
  expect([nearHalfTurn(270), nearHalfTurn(-190), nearHalfTurn(180), nearHalfTurn(0)]).toEqual([-90, 170, 180, 0])
  expect([steppedTurn(22), steppedTurn(23), steppedTurn(-8), steppedTurn(-7)]).toEqual([15, 30, -15, 0])
})
