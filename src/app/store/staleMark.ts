// When the figures on screen are marked as those of the lamp before the edit: at once after an edit, but under a hand that holds on only
// once they lag by more than a frame or two, and then until they have kept up for a while. A mark that came and went with every sheet of a
// drag would be a flicker, and would make the browser style the whole column twice a sheet.
import type { Design } from './design.ts'
import type { Result } from './result.ts'

/** Two frames and a little. */
const LATE_MS = 40
const CALM_MS = 150

/** Keeps `marked` of the result; returns how to stop. */
export function keepMark(d: Design, r: Result): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined
  const drop = () => {
    clearTimeout(timer)
    timer = undefined
  }
  const mark = () => {
    drop()
    const { stale, marked } = r.getState()
    if (marked !== stale) r.setState({ marked: stale })
  }
  const judge = () => {
    const { stale, marked } = r.getState()
    if (stale === marked) drop()
    else if (!d.isDragging()) mark()
    else timer ??= setTimeout(mark, stale ? LATE_MS : CALM_MS)
  }
  const leave = [r.subscribe(judge), d.store.temporal.subscribe(judge), drop]
  return () => {
    for (const l of leave) l()
  }
}
