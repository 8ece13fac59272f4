// A visible part of the sheet follows every run. A part out of view keeps its run until no more runs arrive: a drag brings a sheet a frame,
// and there is no time in a frame to render what nobody sees.
import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react'
import { flushSync } from 'react-dom'
import type { Sheet } from '../../job/beam/sheet.ts'
import { redraw } from '../frame.ts'
import { SheetContext, useSheet } from './contexts.ts'

/** Without another sheet for so long, the drag has paused. */
const CALM_MS = 200
/** A part this near to the edge is rendered before it is scrolled into view. */
const NEAR = '240px 0px'
const ALL = Number.POSITIVE_INFINITY

/** Parts out of view with a lower order than this number show the newest sheet. */
export const UpdatedPartsContext = createContext(ALL)
/** Order of the enclosing part. */
const UpdateOrderContext = createContext(0)

/** After the last sheet, updates the parts out of view one a frame, so that a new drag can start at any time. Printing updates all at once. */
export function useStaggeredUpdate(sheet: Sheet, parts: number): number {
  const [progress, setProgress] = useState({ sheet, updated: ALL })
  useEffect(() => {
    let stopped = false
    const next = (updated: number) => {
      if (stopped) return
      const all = updated >= parts
      setProgress({ sheet, updated: all ? ALL : updated })
      if (!all) redraw('sheet turn', () => next(updated + 1))
    }
    const timer = setTimeout(() => next(1), CALM_MS)
    const paper = () => flushSync(() => setProgress({ sheet, updated: ALL }))
    window.addEventListener('beforeprint', paper)
    return () => {
      stopped = true
      clearTimeout(timer)
      window.removeEventListener('beforeprint', paper)
    }
  }, [sheet, parts])
  return progress.sheet === sheet ? progress.updated : 0
}

/** Without an `order` (a folded table within a part) it takes that of the enclosing part. */
export function WhileVisible({ order: own, children }: { order?: number; children: ReactNode }) {
  const parentOrder = useContext(UpdateOrderContext)
  const order = own ?? parentOrder
  const box = useRef<HTMLDivElement>(null)
  const near = useNear(box)
  const newest = useSheet()
  const updated = useContext(UpdatedPartsContext)
  const shownSheet = useRef(newest.sheet)
  if (near || order < updated) shownSheet.current = newest.sheet
  const sheet = shownSheet.current
  const { widthPx } = newest
  const shown = useMemo(() => ({ sheet, widthPx }), [sheet, widthPx])
  return (
    <div ref={box} aria-busy={sheet !== newest.sheet || undefined}>
      <UpdateOrderContext value={order}>
        <SheetContext value={shown}>{children}</SheetContext>
      </UpdateOrderContext>
    </div>
  )
}

/** True while any of it is visible in the column, or nearly; true until that is known. */
function useNear(box: { current: HTMLElement | null }): boolean {
  const [near, setNear] = useState(true)
  useEffect(() => {
    if (!box.current) return
    const root = box.current.closest('.sheet-column')
    const watch = new IntersectionObserver((seen) => setNear(seen.at(-1)?.isIntersecting ?? true), {
      root,
      rootMargin: NEAR,
    })
    watch.observe(box.current)
    return () => watch.disconnect()
  }, [box])
  return near
}
