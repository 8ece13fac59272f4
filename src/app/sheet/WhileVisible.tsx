// A part of the sheet follows every run while it can be seen. Out of sight it keeps the run it has until no other comes any more: a dragged
// handle brings a sheet a frame, and a frame has no time for what nobody sees.
import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react'
import { flushSync } from 'react-dom'
import type { Sheet } from '../../job/beam/sheet.ts'
import { redraw } from '../frame.ts'
import { ShownContext, useShown } from './contexts.ts'

/** So long without another sheet, and the hand rests. */
const CALM_MS = 200
/** A part this near to the edge is drawn before it is scrolled into sight. */
const NEAR = '240px 0px'
const ALL = Number.POSITIVE_INFINITY

/** How many parts out of sight may take up the newest sheet: those with a lower turn. */
export const TurnsContext = createContext(ALL)
/** The turn of the part that stands about this one. */
const TurnContext = createContext(0)

/** After the last sheet the parts out of sight come one a frame, so that the hand can take hold again at any moment; paper gets all at once. */
export function useTurns(sheet: Sheet, parts: number): number {
  const [given, give] = useState({ sheet, turns: ALL })
  useEffect(() => {
    let stopped = false
    const next = (turns: number) => {
      if (stopped) return
      const all = turns >= parts
      give({ sheet, turns: all ? ALL : turns })
      if (!all) redraw('sheet turn', () => next(turns + 1))
    }
    const timer = setTimeout(() => next(1), CALM_MS)
    const paper = () => flushSync(() => give({ sheet, turns: ALL }))
    window.addEventListener('beforeprint', paper)
    return () => {
      stopped = true
      clearTimeout(timer)
      window.removeEventListener('beforeprint', paper)
    }
  }, [sheet, parts])
  return given.sheet === sheet ? given.turns : 0
}

/** Without a turn of its own (a folded table within a part) it has that of its part. */
export function InSight({ turn: own, children }: { turn?: number; children: ReactNode }) {
  const about = useContext(TurnContext)
  const turn = own ?? about
  const box = useRef<HTMLDivElement>(null)
  const near = useNear(box)
  const newest = useShown()
  const turns = useContext(TurnsContext)
  const kept = useRef(newest.sheet)
  if (near || turn < turns) kept.current = newest.sheet
  const sheet = kept.current
  const { widthPx } = newest
  const shown = useMemo(() => ({ sheet, widthPx }), [sheet, widthPx])
  return (
    <div ref={box} aria-busy={sheet !== newest.sheet || undefined}>
      <TurnContext value={turn}>
        <ShownContext value={shown}>{children}</ShownContext>
      </TurnContext>
    </div>
  )
}

/** Whether any of it is in sight of the column, or nearly. True until that is known. */
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
