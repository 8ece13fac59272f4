// Pointer gestures of the plan as a state machine: an input and a state give the next state and a list of commands. It touches
// neither the page nor the lamp.

/** edge: the mark at its middle, after the corner of this index. */
export interface CornerHit {
  on: 'corner' | 'edge'
  index: number
}

export type PlanHit =
  | CornerHit
  | { on: 'board'; id: string }
  | { on: 'emitter'; id: string; key: string }
  | { on: 'turnHandle'; xMm: number; yMm: number }
  | { on: 'nothing' }

export interface PlanPoint {
  xPx: number
  yPx: number
  xMm: number
  yMm: number
  shift: boolean
  alt: boolean
}

export type PlanInput =
  | {
      is: 'press'
      at: PlanPoint
      hit: PlanHit
      /** The item hit is selected already. */
      chosen: boolean
      /** Middle button, or the space bar is held. */
      pan: boolean
      /** place, draw: a press places a board, or a corner. */
      tool: 'pick' | 'place' | 'draw'
      pickMode: 'boards' | 'emitters'
      /** A finger: it drags boards and corners that are selected already, and the view everywhere else. */
      touch?: boolean
    }
  /** A press that has lasted without moving. */
  | { is: 'hold' }
  | { is: 'move'; at: PlanPoint }
  | { is: 'release'; at: PlanPoint }
  | { is: 'cancel' }

export type PlanDrag =
  | { now: 'idle' }
  | { now: 'pressed'; from: PlanPoint; hit: PlanHit; chosen: boolean; pickMode: 'boards' | 'emitters'; touch: boolean }
  | { now: 'panning'; last: PlanPoint }
  | { now: 'boxing'; from: PlanPoint; to: PlanPoint }
  | { now: 'moving'; from: PlanPoint; dxMm: number; dyMm: number; free: boolean }
  | { now: 'turning'; pivotX: number; pivotY: number; startDeg: number; byDeg: number; stepped: boolean }
  | { now: 'placing'; at: PlanPoint }

export type PlanCommand =
  | { do: 'choose'; hit: PlanHit; how: 'only' | 'toggle' | 'add' }
  | { do: 'chooseBox'; fromX: number; fromY: number; toX: number; toY: number; add: boolean }
  | { do: 'pan'; dxPx: number; dyPx: number }
  /** Move the selected boards to the drag layer. */
  | { do: 'beginDrag'; label: string }
  /** The selected corner, or a new one, follows the shifts. */
  | { do: 'beginCorner'; hit: CornerHit }
  | { do: 'addCorner'; index: number }
  | { do: 'shift'; dxMm: number; dyMm: number; free: boolean }
  | { do: 'turn'; byDeg: number; pivotX: number; pivotY: number; stepped: boolean }
  | { do: 'commit' }
  | { do: 'cancel' }
  | { do: 'place'; xMm: number; yMm: number; free: boolean }
  | { do: 'aim'; xMm: number; yMm: number; free: boolean }

/** A press that moves less than this is a click. */
const SLOP_PX = 4
/** A fingertip rolls. */
const TOUCH_SLOP_PX = 10
const TURN_STEP_DEG = 15
export const idle: PlanDrag = { now: 'idle' }

type Step = [PlanDrag, PlanCommand[]]

export function planDrag(state: PlanDrag, input: PlanInput): Step {
  switch (input.is) {
    case 'press':
      return state.now === 'idle' ? press(input) : [state, []]
    case 'hold':
      return hold(state)
    case 'move':
      return move(state, input.at)
    case 'release':
      return release(state, input.at)
    case 'cancel':
      return [idle, state.now === 'moving' || state.now === 'turning' ? [{ do: 'cancel' }] : []]
  }
}

function press(input: Extract<PlanInput, { is: 'press' }>): Step {
  const { at, hit } = input
  if (input.pan) return [{ now: 'panning', last: at }, []]
  if (input.tool !== 'pick') return [{ now: 'placing', at }, [{ do: 'aim', xMm: at.xMm, yMm: at.yMm, free: at.alt }]]
  const { chosen, pickMode, touch = false } = input
  return [{ now: 'pressed', from: at, hit, chosen, pickMode, touch }, []]
}

/** A long press adds a board or an emitter to the selection, or takes it out; where nothing lies it begins a selection box. */
function hold(state: PlanDrag): Step {
  if (state.now !== 'pressed' || state.hit.on === 'turnHandle' || state.hit.on === 'edge') return [state, []]
  if (state.hit.on === 'nothing') {
    const from = { ...state.from, shift: true }
    return [{ now: 'boxing', from, to: from }, []]
  }
  return [idle, [{ do: 'choose', hit: state.hit, how: 'toggle' }]]
}

function move(state: PlanDrag, at: PlanPoint): Step {
  switch (state.now) {
    case 'idle':
      return [state, []]
    case 'panning':
      return [
        { now: 'panning', last: at },
        [{ do: 'pan', dxPx: at.xPx - state.last.xPx, dyPx: at.yPx - state.last.yPx }],
      ]
    case 'pressed':
      return Math.hypot(at.xPx - state.from.xPx, at.yPx - state.from.yPx) < (state.touch ? TOUCH_SLOP_PX : SLOP_PX)
        ? [state, []]
        : begin(state, at)
    case 'boxing':
      return [{ ...state, to: at }, []]
    case 'moving': {
      const next = { ...state, dxMm: at.xMm - state.from.xMm, dyMm: at.yMm - state.from.yMm, free: at.alt }
      return [next, [{ do: 'shift', dxMm: next.dxMm, dyMm: next.dyMm, free: next.free }]]
    }
    case 'turning': {
      const raw = nearHalfTurn(angleDeg(state.pivotX, state.pivotY, at) - state.startDeg)
      const next = { ...state, byDeg: raw, stepped: at.shift }
      return [next, [{ do: 'turn', byDeg: raw, pivotX: state.pivotX, pivotY: state.pivotY, stepped: at.shift }]]
    }
    case 'placing':
      return [{ now: 'placing', at }, [{ do: 'aim', xMm: at.xMm, yMm: at.yMm, free: at.alt }]]
  }
}

/** The press has become a drag: of the turn handle, of boards, of a corner, or of a selection box. */
function begin(state: Extract<PlanDrag, { now: 'pressed' }>, at: PlanPoint): Step {
  const { hit, from } = state
  if (hit.on === 'turnHandle') {
    const startDeg = angleDeg(hit.xMm, hit.yMm, from)
    const turning: PlanDrag = {
      now: 'turning',
      pivotX: hit.xMm,
      pivotY: hit.yMm,
      startDeg,
      byDeg: 0,
      stepped: at.shift,
    }
    const [next, commands] = move(turning, at)
    return [next, [{ do: 'beginDrag', label: 'Turn' }, ...commands]]
  }
  const isGrabbed = state.chosen && (hit.on === 'board' || hit.on === 'corner')
  if (state.touch && !isGrabbed) return move({ now: 'panning', last: from }, at)
  if (hit.on === 'corner' || hit.on === 'edge') {
    const [next, commands] = move({ now: 'moving', from, dxMm: 0, dyMm: 0, free: at.alt }, at)
    return [next, [{ do: 'beginCorner', hit }, ...commands]]
  }
  if (hit.on === 'nothing' || state.pickMode === 'emitters') return [{ now: 'boxing', from, to: at }, []]
  const first: PlanCommand[] = state.chosen ? [] : [{ do: 'choose', hit, how: from.shift ? 'add' : 'only' }]
  const [next, commands] = move({ now: 'moving', from, dxMm: 0, dyMm: 0, free: at.alt }, at)
  return [next, [...first, { do: 'beginDrag', label: 'Move' }, ...commands]]
}

function release(state: PlanDrag, at: PlanPoint): Step {
  switch (state.now) {
    case 'pressed':
      if (state.hit.on === 'turnHandle') return [idle, []]
      if (state.hit.on === 'edge') return [idle, [{ do: 'addCorner', index: state.hit.index }]]
      return [idle, [{ do: 'choose', hit: state.hit, how: state.from.shift ? 'toggle' : 'only' }]]
    case 'boxing': {
      const box = { fromX: state.from.xMm, fromY: state.from.yMm, toX: at.xMm, toY: at.yMm }
      return [idle, [{ do: 'chooseBox', ...box, add: state.from.shift || at.shift }]]
    }
    case 'moving':
    case 'turning': {
      const [, commands] = move(state, at)
      return [idle, [...commands, { do: 'commit' }]]
    }
    case 'placing':
      return [idle, [{ do: 'place', xMm: at.xMm, yMm: at.yMm, free: at.alt }]]
    default:
      return [idle, []]
  }
}

const angleDeg = (pivotX: number, pivotY: number, at: PlanPoint) =>
  (Math.atan2(at.yMm - pivotY, at.xMm - pivotX) * 180) / Math.PI

/** The same turn, in (-180, 180]. */
export const nearHalfTurn = (deg: number): number => {
  const t = ((deg % 360) + 360) % 360
  return t > 180 ? t - 360 : t
}

export const steppedTurn = (deg: number): number => Math.round(deg / TURN_STEP_DEG) * TURN_STEP_DEG + 0
