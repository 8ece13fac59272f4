// Browsers send the same event for a mouse wheel and for a two-finger scroll, so the deltas decide which it is.

export interface WheelTurn {
  deltaX: number
  deltaY: number
  /** 0 pixels, 1 lines, 2 pages. */
  deltaMode: number
  ctrlKey: boolean
  shiftKey: boolean
  timeMs: number
}
export interface WheelMeaning {
  means: 'zoom' | 'pan'
  timeMs: number
}

/** Events closer than this belong to one gesture and keep its meaning. */
const SAME_GESTURE_MS = 180

export function wheelMeaning(turn: WheelTurn, before: WheelMeaning | null): WheelMeaning {
  const { timeMs } = turn
  if (turn.ctrlKey) return { means: 'zoom', timeMs } // a pinch arrives as a wheel with ctrl
  if (turn.shiftKey) return { means: 'pan', timeMs }
  if (before && timeMs - before.timeMs < SAME_GESTURE_MS) return { means: before.means, timeMs }
  const notched = turn.deltaMode !== 0 || (turn.deltaX === 0 && Math.abs(turn.deltaY) >= 50)
  return { means: notched ? 'zoom' : 'pan', timeMs }
}

export function zoomFactor(turn: WheelTurn): number {
  const px = turn.deltaMode === 0 ? turn.deltaY : turn.deltaY * 33
  return Math.exp(-Math.max(-240, Math.min(240, px)) * (turn.ctrlKey ? 0.008 : 0.0018))
}
