// Touch events by way of the state machine of fingers, with the wait for a long press.
import { noTouch, type Touch, type TouchOutput, touchStep } from '../common/touch.ts'

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

interface OnLookedAt {
  /** What is begun elsewhere is left alone. */
  takes(e: PointerEvent): boolean
  drag(e: PointerEvent, dxPx: number, dyPx: number): void
  view(by: ViewMove): void
}

/** A view that is only looked at: a pointer or one finger drags, two fingers move and scale it. Returns a function that stops. */
export function attachFingers(box: HTMLElement, on: OnLookedAt): () => void {
  const place = (e: PointerEvent) => {
    const rect = box.getBoundingClientRect()
    return { xPx: e.clientX - rect.left, yPx: e.clientY - rect.top }
  }
  let from = { xPx: 0, yPx: 0 }
  const nothing = () => {}
  const fingers = createFingers({
    place,
    press: (e) => {
      from = place(e)
    },
    move: (e) => {
      const to = place(e)
      on.drag(e, to.xPx - from.xPx, to.yPx - from.yPx)
      from = to
    },
    release: nothing,
    cancel: nothing,
    hold: nothing,
    view: on.view,
  })
  const down = (e: PointerEvent) => {
    const isSecond = fingers.areDown()
    if (!isSecond && !on.takes(e)) return
    // A second finger takes hold of nothing that it lands on.
    if (isSecond) e.stopPropagation()
    box.setPointerCapture(e.pointerId)
    fingers.handle(e, 'down')
  }
  const move = (e: PointerEvent) => fingers.handle(e, 'move')
  const up = (e: PointerEvent) => fingers.handle(e, 'up')
  const gone = (e: PointerEvent) => fingers.handle(e, 'gone')
  const heard = { pointerdown: down, pointermove: move, pointerup: up, pointercancel: gone } as const
  const events = Object.entries(heard) as [keyof typeof heard, (e: PointerEvent) => void][]
  for (const [name, listener] of events) box.addEventListener(name, listener)
  return () => {
    fingers.drop()
    for (const [name, listener] of events) box.removeEventListener(name, listener)
  }
}
