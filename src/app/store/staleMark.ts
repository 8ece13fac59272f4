// When the figures on screen are marked as those of the lamp before the edit: at once after an edit, but during a drag only once they lag
// by more than a frame or two, and then until they have kept up for a while. A mark that came and went with every sheet of a drag would
// flicker, and the browser would restyle the whole column twice for each sheet.
import type { Design } from './design.ts'
import type { Result } from './result.ts'

/** A little over two frames. */
const LATE_MS = 40
const CALM_MS = 150

/** Updates the result's `marked`. Returns a function that stops. */
export function followStaleMark(d: Design, r: Result): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined
  const cancel = () => {
    clearTimeout(timer)
    timer = undefined
  }
  const mark = () => {
    cancel()
    const { stale, marked } = r.getState()
    if (marked !== stale) r.setState({ marked: stale })
  }
  const update = () => {
    const { stale, marked } = r.getState()
    if (stale === marked) cancel()
    else if (!d.isDragging()) mark()
    else timer ??= setTimeout(mark, stale ? LATE_MS : CALM_MS)
  }
  const leave = [r.subscribe(update), d.store.temporal.subscribe(update), cancel]
  return () => {
    for (const l of leave) l()
  }
}
