// The beam sheet: everything the run says about the lamp, most needed first.
import { useEffect, useRef, useState } from 'react'
import type { Place } from '../../checks/finding.ts'
import type { Sheet } from '../../job/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { result, useDesign, useResult, view } from '../store/stores.ts'
import { Buys } from './Buys.tsx'
import { Dangers } from './Dangers.tsx'
import { Headline, OtherFigures, PatternWarning } from './Figures.tsx'
import { Ledger } from './Ledger.tsx'
import { Maps } from './Maps.tsx'
import { Part } from './Part.tsx'
import { Profile } from './Profile.tsx'
import { StateLine } from './StateLine.tsx'
import './sheet.css'
import { countFindings, type StateWord, stateOf, viewOf } from './sheetWords.ts'

const SIDE_PX = 16

function show(place: Place) {
  view.setState({ pointed: place, view: viewOf(place) })
}

export function SheetColumn() {
  const sheet = useResult((s) => s.sheet)
  const stale = useResult((s) => s.stale)
  const trace = useResult((s) => s.trace)
  const why = useResult((s) => s.why)
  const precision = useResult((s) => s.precision)
  const lamp = useDesign((s) => s.lamp)
  const column = useRef<HTMLElement>(null)
  const widthPx = useInnerWidth(column)
  const state = stateOf(sheet, stale, trace)
  const toDangers = () => {
    const head = column.current?.querySelector<HTMLElement>('#sheet-dangers button')
    head?.scrollIntoView({ block: 'start' })
    head?.focus({ preventScroll: true })
  }
  return (
    <aside ref={column} className="sheet-column" aria-label="Beam sheet" data-state={state}>
      <StateLine
        sheet={sheet}
        state={state}
        why={why}
        precision={precision}
        onPrecision={(share) => result.setState({ precision: share })}
        onDangers={toDangers}
      />
      {sheet && <SheetBody sheet={sheet} lamp={lamp} state={state} widthPx={widthPx} onPlace={show} />}
    </aside>
  )
}

interface BodyProps {
  sheet: Sheet
  lamp: Lamp
  state: StateWord
  widthPx: number
  onPlace: (place: Place) => void
}

export function SheetBody({ sheet, lamp, state, widthPx, onPlace }: BodyProps) {
  return (
    <div className="sheet-body" aria-busy={state === 'old'}>
      <PatternWarning sheet={sheet} />
      <Headline sheet={sheet} coneHalfDeg={lamp.reading.axialConeHalfDeg} targetM={lamp.target.distanceM} />
      <div id="sheet-dangers">
        <Part title="Dangers" aside={countFindings(sheet.findings)}>
          <Dangers sheet={sheet} lamp={lamp} unfinished={state !== 'settled'} onPlace={onPlace} />
        </Part>
      </div>
      <Part title="Intensity profile">
        <Profile sheet={sheet} widthPx={widthPx} />
      </Part>
      <Part title="Where each lumen goes">
        <Ledger sheet={sheet} widthPx={widthPx} />
      </Part>
      <Part title="Maps">
        <Maps sheet={sheet} widthPx={widthPx} />
      </Part>
      <Part title="What each part buys">
        <Buys sheet={sheet} />
      </Part>
      <Part title="All other figures" aside="± at 95 %">
        <OtherFigures sheet={sheet} />
      </Part>
    </div>
  )
}

/** Width inside the column's margins; plots are drawn to it. */
function useInnerWidth(of: { current: HTMLElement | null }): number {
  const [widthPx, setWidthPx] = useState(384 - 2 * SIDE_PX - 10)
  useEffect(() => {
    if (!of.current) return
    const watch = new ResizeObserver(([entry]) => {
      if (entry) setWidthPx(Math.max(240, Math.floor(entry.contentRect.width) - 2 * SIDE_PX))
    })
    watch.observe(of.current)
    return () => watch.disconnect()
  }, [of])
  return widthPx
}
