// A press begins by leaving a field: what was typed is then taken or refused, lines come or go above, and the button would be let go beside the
// pointer, its press lost. While anything is pressed, its column scrolls along with it.

const PRESSED = 'button, summary, label, input, a, [role="button"], [role="radio"], [role="option"]'

/** Keeps what is pressed inside a scrolling box under the pointer. Returns what ends it. */
export function holdPressed(box: HTMLElement): () => void {
  let pressed: { what: Element; topPx: number } | null = null
  const watch = new MutationObserver(() => {
    if (!pressed?.what.isConnected) return
    const movedPx = pressed.what.getBoundingClientRect().top - pressed.topPx
    if (Math.abs(movedPx) >= 1) box.scrollTop += movedPx
  })
  const end = () => {
    pressed = null
    watch.disconnect()
  }
  const begin = (event: PointerEvent) => {
    const what = event.target instanceof Element ? event.target.closest(PRESSED) : null
    if (!what) return
    pressed = { what, topPx: what.getBoundingClientRect().top }
    watch.observe(box, { subtree: true, childList: true, characterData: true, attributes: true })
  }
  // The click comes after this, in the same task.
  const letGo = () => setTimeout(end)
  box.addEventListener('pointerdown', begin, true)
  window.addEventListener('pointerup', letGo, true)
  window.addEventListener('pointercancel', end, true)
  return () => {
    end()
    box.removeEventListener('pointerdown', begin, true)
    window.removeEventListener('pointerup', letGo, true)
    window.removeEventListener('pointercancel', end, true)
  }
}
