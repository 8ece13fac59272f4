import { describe, expect, test } from 'vitest'
import {
  idle,
  nearHalfTurn,
  type PlanCommand,
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

function play(...inputs: PlanInput[]): { state: PlanDrag; commands: PlanCommand[] } {
  let state: PlanDrag = idle
  const commands: PlanCommand[] = []
  for (const input of inputs) {
    const [next, more] = planDrag(state, input)
    state = next
    commands.push(...more)
  }
  return { state, commands }
}
const doings = (commands: PlanCommand[]) => commands.map((d) => d.do)

const board: PlanHit = { on: 'board', id: 'B1' }
const nothing: PlanHit = { on: 'nothing' }

describe('pointer gestures on the plan', () => {
  test('a press and release is a click; shift toggles', () => {
    expect(play(press(at(0, 0), board), release(at(1, 1))).commands).toEqual([
      { do: 'choose', hit: board, how: 'only' },
    ])
    const shifted = at(0, 0, { shift: true })
    expect(play(press(shifted, board), release(shifted)).commands).toEqual([
      { do: 'choose', hit: board, how: 'toggle' },
    ])
  })

  test('a tremble under four px is still a click', () => {
    const { commands } = play(press(at(0, 0), board), move(at(2, 2)), move(at(-1, 2)), release(at(1, 0)))
    expect(doings(commands)).toEqual(['choose'])
  })

  test('dragging a board that is not chosen selects it first, then begins a drag, shifts and commits once', () => {
    const { state, commands } = play(press(at(0, 0), board), move(at(5, 0)), move(at(9, 3)), release(at(9, 4)))
    expect(doings(commands)).toEqual(['choose', 'beginDrag', 'shift', 'shift', 'shift', 'commit'])
    expect(commands[4]).toEqual({ do: 'shift', dxMm: 9, dyMm: 4, free: false })
    expect(state).toEqual(idle)
  })

  test('dragging a selected board keeps the selection, so that all of it moves', () => {
    const { commands } = play(press(at(0, 0), board, { chosen: true }), move(at(8, 0)), release(at(8, 0)))
    expect(doings(commands)).toEqual(['beginDrag', 'shift', 'shift', 'commit'])
  })

  test('alt lets it go freely, at any moment of the drag', () => {
    const { commands } = play(press(at(0, 0), board), move(at(8, 0)), move(at(9, 0, { alt: true })))
    expect(commands.filter((d) => d.do === 'shift').map((d) => d.free)).toEqual([false, true])
  })

  test('cancel puts everything back, and what follows of the drag is ignored', () => {
    const { state, commands } = play(
      press(at(0, 0), board),
      move(at(8, 0)),
      { is: 'cancel' },
      move(at(20, 0)),
      release(at(20, 0)),
    )
    expect(doings(commands)).toEqual(['choose', 'beginDrag', 'shift', 'cancel'])
    expect(state).toEqual(idle)
  })

  test('cancel before the pointer has moved does nothing at all', () => {
    expect(play(press(at(0, 0), board), { is: 'cancel' }, release(at(0, 0))).commands).toEqual([])
  })

  test('from empty ground a drag is a box, and shift adds', () => {
    const { commands } = play(
      press(at(0, 0, { shift: true }), nothing),
      move(at(5, 5)),
      move(at(10, 20)),
      release(at(10, 20)),
    )
    expect(commands).toEqual([{ do: 'chooseBox', fromX: 0, fromY: 0, toX: 10, toY: 20, add: true }])
  })

  test('while single emitters are picked, a drag never moves a board', () => {
    const hit: PlanHit = { on: 'emitter', id: 'B1', key: 'B1:0' }
    const { commands } = play(
      press(at(0, 0), hit, { pickMode: 'emitters', chosen: true }),
      move(at(9, 9)),
      release(at(9, 9)),
    )
    expect(doings(commands)).toEqual(['chooseBox'])
  })

  test('a click on empty ground deselects', () => {
    expect(play(press(at(0, 0), nothing), release(at(0, 0))).commands).toEqual([
      { do: 'choose', hit: nothing, how: 'only' },
    ])
  })

  test('the middle button pans, whatever lies under it', () => {
    const { commands } = play(press(at(0, 0), board, { pan: true }), move(at(7, 3)), move(at(8, 3)), release(at(8, 3)))
    expect(commands).toEqual([
      { do: 'pan', dxPx: 7, dyPx: -3 },
      { do: 'pan', dxPx: 1, dyPx: 0 },
    ])
  })

  test('the turn handle turns about the middle of what is chosen, anticlockwise positive', () => {
    const handle: PlanHit = { on: 'turnHandle', xMm: 100, yMm: 0 }
    const { commands } = play(press(at(100, 50), handle), move(at(50, 0)), release(at(50, 0, { shift: true })))
    expect(doings(commands)).toEqual(['beginDrag', 'turn', 'turn', 'commit'])
    expect(commands[1]).toMatchObject({ do: 'turn', pivotX: 100, pivotY: 0, stepped: false })
    expect((commands[1] as { byDeg: number }).byDeg).toBeCloseTo(90, 9)
    expect(commands[2]).toMatchObject({ stepped: true })
  })

  test('turning past the far side goes on the short way', () => {
    const handle: PlanHit = { on: 'turnHandle', xMm: 0, yMm: 0 }
    const { commands } = play(press(at(-50, 10), handle), move(at(-50, -10)))
    expect((commands[1] as { byDeg: number }).byDeg).toBeCloseTo((2 * Math.atan(0.2) * 180) / Math.PI, 9)
  })

  test('placing a board: it follows the pointer while pressed, and is placed at the release', () => {
    const { commands } = play(press(at(0, 0), board, { tool: 'place' }), move(at(9, 9)), release(at(10, 9)))
    expect(doings(commands)).toEqual(['aim', 'aim', 'place'])
    expect(commands[2]).toEqual({ do: 'place', xMm: 10, yMm: 9, free: false })
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

describe('corners of an outline', () => {
  const corner: PlanHit = { on: 'corner', index: 2 }
  const edge: PlanHit = { on: 'edge', index: 1 }

  test('a click on a corner selects it; a drag takes it along, Alt freely, and is one step', () => {
    expect(play(press(at(0, 0), corner), release(at(1, 1))).commands).toEqual([
      { do: 'choose', hit: corner, how: 'only' },
    ])
    const { commands } = play(press(at(0, 0), corner), move(at(8, 3)), release(at(20, 5, { alt: true })))
    expect(commands).toEqual([
      { do: 'beginCorner', hit: corner },
      { do: 'shift', dxMm: 8, dyMm: 3, free: false },
      { do: 'shift', dxMm: 20, dyMm: 5, free: true },
      { do: 'commit' },
    ])
  })

  test('the mark of an edge adds a corner: by a click where it is, by a drag where it is let go; Escape leaves none', () => {
    expect(play(press(at(0, 0), edge), release(at(1, 1))).commands).toEqual([{ do: 'addCorner', index: 1 }])
    expect(play(press(at(0, 0), edge), move(at(9, 0)), { is: 'cancel' }).commands).toEqual([
      { do: 'beginCorner', hit: edge },
      { do: 'shift', dxMm: 9, dyMm: 0, free: false },
      { do: 'cancel' },
    ])
  })

  test('a finger drags the selected corner only, taps a mark to add one, and a long press on a mark does nothing', () => {
    const finger = { touch: true }
    const taken = play(press(at(0, 0), corner, { ...finger, chosen: true }), move(at(20, 0)))
    expect(doings(taken.commands)).toEqual(['beginCorner', 'shift'])
    expect(doings(play(press(at(0, 0), corner, finger), move(at(20, 0))).commands)).toEqual(['pan'])
    expect(doings(play(press(at(0, 0), edge, finger), move(at(20, 0))).commands)).toEqual(['pan'])
    expect(doings(play(press(at(0, 0), edge, finger), release(at(0, 0))).commands)).toEqual(['addCorner'])
    expect(play(press(at(0, 0), edge, finger), { is: 'hold' }).commands).toEqual([])
  })
})
