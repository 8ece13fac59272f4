// The tabs of the four views. Written out, since a library's tab list would also collect the tabs inside the columns.
import { type KeyboardEvent, useRef } from 'react'
import { useView, view } from '../store/stores.ts'
import type { ViewName } from '../store/view.ts'

const VIEWS: readonly { key: ViewName; name: string }[] = [
  { key: 'plan', name: 'Plan' },
  { key: 'section', name: 'Section' },
  { key: 'solid', name: 'Solid' },
  { key: 'night', name: 'Night' },
]

/** Keys of the ARIA practices for tabs (W3C): arrows wrap around, Home and End go to the ends; the focused tab is shown. */
const STEP: Record<string, (at: number, n: number) => number> = {
  ArrowRight: (at, n) => (at + 1) % n,
  ArrowLeft: (at, n) => (at + n - 1) % n,
  Home: () => 0,
  End: (_, n) => n - 1,
}

export function ViewTabs() {
  const shown = useView((s) => s.view)
  const list = useRef<HTMLDivElement>(null)
  const onKeyDown = (event: KeyboardEvent) => {
    const step = STEP[event.key]
    if (!step || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    const next =
      VIEWS[
        step(
          VIEWS.findIndex((v) => v.key === shown),
          VIEWS.length,
        )
      ]!
    view.setState({ view: next.key })
    list.current?.querySelector<HTMLElement>(`#tab-${next.key}`)?.focus()
  }
  return (
    <div ref={list} className="shell-tabs" role="tablist" aria-label="Views of the lamp">
      {VIEWS.map((v, i) => (
        <button
          key={v.key}
          type="button"
          role="tab"
          id={`tab-${v.key}`}
          className="shell-tab"
          aria-selected={v.key === shown}
          aria-controls="view-panel"
          tabIndex={v.key === shown ? 0 : -1}
          onClick={() => view.setState({ view: v.key })}
          onKeyDown={onKeyDown}
        >
          {v.name}
          <span className="shell-tab-key" aria-hidden="true">
            {i + 1}
          </span>
        </button>
      ))}
    </div>
  )
}
