// The parts of the lamp, in the order in which light meets them. The place of a finding opens its part.
import { lazy, Suspense, useEffect, useRef } from 'react'
import type { Place } from '../../checks/finding.ts'
import { type PartKey, requestPart, useRequestedPart } from '../store/openParts.ts'
import { useView, view } from '../store/stores.ts'
import { holdPressed } from '../ui/holdPressed.ts'
import { BoardsPart } from './BoardsPart.tsx'
import { EmittersPart } from './EmittersPart.tsx'
import { FacePart } from './FacePart.tsx'
import { OpticsPart } from './OpticsPart.tsx'
import { SelectionPart } from './SelectionPart.tsx'
import { TargetPart } from './TargetPart.tsx'
import './parts.css'

// They are below the first screen: the beam doesn't wait for them.
const LowerParts = lazy(() => import('./LowerParts.tsx').then((m) => ({ default: m.LowerParts })))

export function PartsColumn() {
  const pointed = useView((s) => s.focusedPlace)
  useEffect(() => {
    const key = pointed && partAt(pointed, view.getState().boards)
    if (key) requestPart(key)
  }, [pointed])
  const column = useRef<HTMLDivElement>(null)
  useEffect(() => (column.current ? holdPressed(column.current) : undefined), [])
  const request = useRequestedPart()
  useEffect(() => {
    if (!request) return
    // The group opens with the next render; only then can the column scroll to it.
    const timer = setTimeout(() => {
      const part = document.getElementById(`part-${request.key}`)
      if (!column.current || !part) return
      // Scroll only the column: scrollIntoView would scroll the page as well.
      const top = part.getBoundingClientRect().top - column.current.getBoundingClientRect().top
      column.current.scrollBy({ top, behavior: 'smooth' })
      if (request.focusField)
        part.querySelector<HTMLElement>('input, .ui-group-body button')?.focus({ preventScroll: true })
    }, 60)
    return () => clearTimeout(timer)
  }, [request])
  return (
    <div className="parts-column" ref={column}>
      <h2 className="ui-hidden">Parts, in the order light meets them</h2>
      <SelectionPart />
      <TargetPart />
      <EmittersPart />
      <BoardsPart />
      <FacePart />
      <OpticsPart />
      <Suspense fallback={null}>
        <LowerParts />
      </Suspense>
    </div>
  )
}

/** The part that a place belongs to. */
export function partAt(place: Place, selected: readonly string[]): PartKey {
  if (place.kind === 'part') return place.part
  if (place.kind === 'emitter') return 'optics'
  if (place.kind === 'board') return selected.length > 0 ? 'selection' : 'boards'
  const on = { lens: 'lens', wall: 'tunnel', face: 'face', front: 'target', inside: 'lens' } as const
  return on[place.on]
}
