// Fingers as a state machine: one finger is a pointer; two or more move and scale the view, and whatever the first began is called off. Pure.

interface Finger {
  id: number
  xPx: number
  yPx: number
}

export interface Touch {
  /** one: a single finger that acts as a pointer. view: two or more, or what is left of them. */
  now: 'none' | 'one' | 'view'
  fingers: readonly Finger[]
}

export type TouchInput = { is: 'down' | 'move' | 'up'; finger: Finger } | { is: 'gone'; id: number }

/** press, move, release, cancel are those of the single finger; view shifts by px and scales about a point. */
export type TouchOutput =
  | { do: 'press' }
  | { do: 'move' }
  | { do: 'release' }
  | { do: 'cancel' }
  | { do: 'view'; dxPx: number; dyPx: number; factor: number; xPx: number; yPx: number }

export const noTouch: Touch = { now: 'none', fingers: [] }

export function touchStep(state: Touch, input: TouchInput): [Touch, TouchOutput | null] {
  if (input.is === 'gone') return lift(state, input.id, 'cancel')
  const { finger } = input
  if (input.is === 'up') return lift(state, finger.id, 'release')
  if (input.is === 'down') return land(state, finger)
  if (!state.fingers.some((f) => f.id === finger.id)) return [state, null]
  const fingers = state.fingers.map((f) => (f.id === finger.id ? finger : f))
  if (state.now === 'one') return [{ now: 'one', fingers }, { do: 'move' }]
  return [{ now: 'view', fingers }, viewOf(state.fingers, fingers)]
}

function land(state: Touch, finger: Finger): [Touch, TouchOutput | null] {
  const fingers = [...state.fingers.filter((f) => f.id !== finger.id), finger]
  if (state.now === 'none') return [{ now: 'one', fingers }, { do: 'press' }]
  return [{ now: 'view', fingers }, state.now === 'one' ? { do: 'cancel' } : null]
}

/** The last of several fingers goes on moving the view: it never becomes a pointer. */
function lift(state: Touch, id: number, how: 'release' | 'cancel'): [Touch, TouchOutput | null] {
  if (!state.fingers.some((f) => f.id === id)) return [state, null]
  const fingers = state.fingers.filter((f) => f.id !== id)
  if (state.now === 'one') return [noTouch, { do: how }]
  return [fingers.length === 0 ? noTouch : { now: 'view', fingers }, null]
}

/** By the middle of the first two fingers and their distance. */
function viewOf(before: readonly Finger[], after: readonly Finger[]): TouchOutput | null {
  const [a, b] = [pairOf(before), pairOf(after)]
  if (!a || !b) return null
  return {
    do: 'view',
    dxPx: b.xPx - a.xPx,
    dyPx: b.yPx - a.yPx,
    factor: a.apartPx > 0 && b.apartPx > 0 ? b.apartPx / a.apartPx : 1,
    xPx: b.xPx,
    yPx: b.yPx,
  }
}

function pairOf([a, b]: readonly Finger[]): { xPx: number; yPx: number; apartPx: number } | null {
  if (!a) return null
  if (!b) return { xPx: a.xPx, yPx: a.yPx, apartPx: 0 }
  return {
    xPx: (a.xPx + b.xPx) / 2,
    yPx: (a.yPx + b.yPx) / 2,
    apartPx: Math.hypot(a.xPx - b.xPx, a.yPx - b.yPx),
  }
}
