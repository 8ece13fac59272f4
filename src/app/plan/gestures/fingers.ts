// Touch events by way of the state machine of fingers, with the wait for a long press.
import { noTouch, type Touch, type TouchOutput, touchStep } from './touch.ts'

/** A long press: as usual on touch screens (common practice, no source). */
const HOLD_MS = 500

type ViewMove = Extract<TouchOutput, { do: 'view' }>

interface On {
  place(e: PointerEvent): { xPx: number; yPx: number }
  press(e: PointerEvent): void
  move(e: PointerEvent): void
  release(e: PointerEvent): void
  cancel(): void
  hold(): void
  view(by: ViewMove): void
}

export interface Fingers {
  handle(e: PointerEvent, is: 'down' | 'move' | 'up' | 'gone'): void
  /** Calls off what they do; fingers that are down count no more. */
  drop(): void
  areDown(): boolean
}

export function createFingers(on: On): Fingers {
  let touch: Touch = noTouch
  let timer = 0
  const act = (output: TouchOutput, e: PointerEvent) => {
    if (output.do === 'move') return on.move(e)
    window.clearTimeout(timer)
    switch (output.do) {
      case 'press':
        on.press(e)
        timer = window.setTimeout(on.hold, HOLD_MS)
        return
      case 'release':
        return on.release(e)
      case 'cancel':
        return on.cancel()
      case 'view':
        return on.view(output)
    }
  }
  return {
    handle(e, is) {
      const id = e.pointerId
      const [next, output] = touchStep(touch, is === 'gone' ? { is, id } : { is, finger: { id, ...on.place(e) } })
      touch = next
      if (output) act(output, e)
    },
    drop() {
      window.clearTimeout(timer)
      if (touch.now === 'one') on.cancel()
      touch = noTouch
    },
    areDown: () => touch.now !== 'none',
  }
}
