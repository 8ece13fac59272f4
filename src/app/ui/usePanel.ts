// What every panel over the view does alike: its title takes the focus, choosing a view or the place of a finding closes it, and so does Esc.
import { type KeyboardEvent, type RefObject, useEffect, useRef } from 'react'
import { view } from '../store/stores.ts'
import type { ViewState } from '../store/view.ts'

interface Panel {
  title: RefObject<HTMLHeadingElement | null>
  onKeyDown(event: KeyboardEvent): void
}

/** `close` must stay the same function from render to render; Esc and the close button return the focus, choosing a view does not. */
export function usePanel(hide: () => void, close: () => void): Panel {
  const title = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    title.current?.focus()
    return view.subscribe((now, before) => {
      if (leavesPanel(now, before)) hide()
    })
  }, [hide])
  return {
    title,
    // While the focus is in the panel, keys without a modifier must not reach the view under it.
    onKeyDown: (event) => {
      if (event.key === 'Escape' && !event.defaultPrevented) close()
      if (!event.ctrlKey && !event.metaKey) event.stopPropagation()
    },
  }
}

/** Another view, the same one again, or the place of a finding. */
function leavesPanel(now: ViewState, before: ViewState): boolean {
  const isReselected = (Object.keys(now) as (keyof ViewState)[]).every(
    (key) => key === 'view' || now[key] === before[key],
  )
  const hasNewPlace = now.focusedPlace !== null && now.focusedPlace !== before.focusedPlace
  return isReselected || hasNewPlace || now.view !== before.view
}
