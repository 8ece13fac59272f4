// A panel over the view. What every one does alike: its title takes the focus, choosing a view or the place of a finding closes it, and so do
// Esc and the button in its head, which return the focus to where it was opened.
import { type KeyboardEvent, type ReactNode, useEffect, useRef } from 'react'
import { view } from '../store/stores.ts'
import type { ViewState } from '../store/view.ts'
import { Button } from './Button.tsx'
import './panel.css'

interface PanelProps {
  /** Beginning of its class and of its title's id; the button that opens it stands in an element of the class …-link. */
  of: 'danger' | 'power' | 'sweep' | 'compare' | 'optimize' | 'tolerances' | 'workshop' | 'handbook' | 'readings'
  title: string
  /** Of the close button. */
  closeName: string
  /** Between title and close button. */
  head?: ReactNode
  /** The whole panel scrolls, head included. */
  scrolls?: boolean
  /** Must stay the same function from render to render. */
  hide(): void
  children: ReactNode
}

export function Panel({ of, title, closeName, head, scrolls, hide, children }: PanelProps) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus()
    return view.subscribe((now, before) => {
      if (leavesPanel(now, before)) hide()
    })
  }, [hide])
  const close = () => {
    hide()
    const link = document.querySelector<HTMLElement>(`.${of}-link button`)
    // With its part folded there is no link to return the focus to.
    ;(link ?? document.querySelector<HTMLElement>('[role="tab"][aria-selected="true"]'))?.focus()
  }
  // While the focus is in the panel, keys without a modifier must not reach the view under it.
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Escape' && !event.defaultPrevented) close()
    if (!event.ctrlKey && !event.metaKey) event.stopPropagation()
  }
  return (
    <section
      className={`ui-panel ${scrolls ? 'ui-panel-scrolls ' : ''}${of}-panel`}
      aria-labelledby={`${of}-title`}
      onKeyDown={onKeyDown}
    >
      <header className="ui-panel-head">
        <h2 id={`${of}-title`} ref={heading} tabIndex={-1}>
          {title}
        </h2>
        {head}
        <Button kind="quiet" name={closeName} hint="Close (Esc)" onPress={close}>
          ✕
        </Button>
      </header>
      {children}
    </section>
  )
}

/** Another view, the same one again, or the place of a finding. */
function leavesPanel(now: ViewState, before: ViewState): boolean {
  const isReselected = (Object.keys(now) as (keyof ViewState)[]).every(
    (key) => key === 'view' || now[key] === before[key],
  )
  const hasNewPlace = now.focusedPlace !== null && now.focusedPlace !== before.focusedPlace
  return isReselected || hasNewPlace || now.view !== before.view
}
