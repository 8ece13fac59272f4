import { expect, test } from 'vitest'
import { noTouch, type Touch, type TouchInput, type TouchOutput, touchStep } from '../../../../src/app/common/touch.ts'
import {
  idle,
  type PlanCommand,
  type PlanHit,
  type PlanInput,
  planDrag,
} from '../../../../src/app/plan/gestures/drag.ts'

const finger = (is: 'down' | 'move' | 'up', id: number, xPx: number, yPx: number): TouchInput => ({
  ...{ is, finger: { id, xPx, yPx } },
})
function play(...inputs: TouchInput[]): { state: Touch; outputs: (TouchOutput | null)[] } {
  let state = noTouch
  const outputs: (TouchOutput | null)[] = []
  for (const input of inputs) {
    const [next, output] = touchStep(state, input)
    state = next
    outputs.push(output)
  }
  return { state, outputs }
}
const doings = (outputs: readonly (TouchOutput | null)[]) => outputs.map((o) => o?.do ?? null)

test('one finger is a pointer', () => {
  const { state, outputs } = play(finger('down', 1, 0, 0), finger('move', 1, 5, 0), finger('up', 1, 5, 0))
  expect(doings(outputs)).toEqual(['press', 'move', 'release'])
  expect(state).toEqual(noTouch)
})

test('a second finger calls off what the first began; apart, both scale about their middle', () => {
  const { outputs } = play(
    finger('down', 1, 100, 100),
    finger('down', 2, 200, 100),
    finger('move', 2, 300, 100),
    finger('move', 1, 100, 140),
  )
  expect(doings(outputs)).toEqual(['press', 'cancel', 'view', 'view'])
  // 100 px apart, then 200; the middle goes from 150 to 200.
  expect(outputs[2]).toEqual({ do: 'view', dxPx: 50, dyPx: 0, factor: 2, xPx: 200, yPx: 100 })
  expect(outputs[3]).toMatchObject({ dxPx: 0, dyPx: 20, factor: Math.hypot(200, 40) / 200 })
})

test('the finger that is left moves the view on, and never becomes a pointer', () => {
  const two = [finger('down', 1, 0, 0), finger('down', 2, 10, 0)]
  const { state, outputs } = play(...two, finger('up', 1, 0, 0), finger('move', 2, 17, 3), finger('up', 2, 17, 3))
  expect(outputs.slice(2)).toEqual([null, { do: 'view', dxPx: 7, dyPx: 3, factor: 1, xPx: 17, yPx: 3 }, null])
  expect(state).toEqual(noTouch)
})

test('a finger that the browser takes away calls off; one that was never down is nothing', () => {
  expect(doings(play(finger('down', 1, 0, 0), { is: 'gone', id: 1 }).outputs)).toEqual(['press', 'cancel'])
  expect(doings(play({ is: 'gone', id: 4 }, finger('move', 4, 0, 0), finger('up', 4, 0, 0)).outputs)).toEqual([
    ...[null, null, null],
  ])
})

const at = (x: number, y: number) => ({ xPx: x, yPx: -y, xMm: x, yMm: y, shift: false, alt: false })
const board: PlanHit = { on: 'board', id: 'B1' }
const nothing: PlanHit = { on: 'nothing' }
const press = (hit: PlanHit, chosen = false): PlanInput => ({
  ...{ is: 'press', at: at(0, 0), hit, chosen, pan: false, tool: 'pick', pickMode: 'boards', touch: true },
})
const move = (x: number, y: number): PlanInput => ({ is: 'move', at: at(x, y) })
const release = (x: number, y: number): PlanInput => ({ is: 'release', at: at(x, y) })
function drag(...inputs: PlanInput[]): PlanCommand[] {
  let state = idle
  const all: PlanCommand[] = []
  for (const input of inputs) {
    const [next, commands] = planDrag(state, input)
    state = next
    all.push(...commands)
  }
  return all
}
const steps = (commands: readonly PlanCommand[]) => commands.map((c) => c.do)

test('a finger drags boards that are selected, and the view everywhere else', () => {
  expect(steps(drag(press(board, true), move(20, 0), release(20, 0)))).toEqual([
    ...['beginDrag', 'shift', 'shift', 'commit'],
  ])
  expect(drag(press(board), move(20, 0), release(20, 0))).toMatchObject([{ do: 'pan', dxPx: 20 }])
  expect(steps(drag(press(nothing), move(20, 0), move(25, 0), release(25, 0)))).toEqual(['pan', 'pan'])
})

test('a fingertip that rolls by 8 px has tapped', () => {
  expect(drag(press(board), move(8, 0), release(8, 0))).toEqual([{ do: 'choose', hit: board, how: 'only' }])
})

test('a long press adds a board or takes it out, and the release does nothing; on nothing it begins a box that adds', () => {
  expect(drag(press(board), { is: 'hold' }, move(30, 0), release(30, 0))).toEqual([
    { do: 'choose', hit: board, how: 'toggle' },
  ])
  expect(drag(press(nothing), { is: 'hold' }, move(30, 20), release(30, 20))).toEqual([
    { do: 'chooseBox', fromX: 0, fromY: 0, toX: 30, toY: 20, add: true },
  ])
  expect(drag(press(board, true), move(20, 0), { is: 'hold' }, release(20, 0)).at(-1)).toEqual({ do: 'commit' })
})
