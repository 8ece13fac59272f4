/** Adds an event listener that may prevent the default. Returns a function that removes it. */
export function listen<K extends keyof HTMLElementEventMap>(
  on: HTMLElement,
  type: K,
  run: (e: HTMLElementEventMap[K]) => void,
) {
  on.addEventListener(type, run, { passive: false })
  return () => on.removeEventListener(type, run)
}
