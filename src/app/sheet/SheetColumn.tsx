// The beam sheet: all results of the run, the most important first.

import { useEffect, useMemo, useRef, useState } from 'react'
import type { Finding } from '../../checks/finding.ts'
import type { Sheet } from '../../job/beam/sheet.ts'
import { shownFindings } from '../common/shownFindings.ts'
import { missingSentence, useMissing } from '../store/missing.ts'
import { requestPart } from '../store/openParts.ts'
import { usePower } from '../store/power.ts'
import { joinFindings } from '../store/severe.ts'
import { result, useDesign, useResult } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Answers } from './Answers.tsx'
import { DangerCount, Dangers, FindingList } from './Dangers.tsx'
import { LightLine, OtherFigures, PatternWarning } from './Figures.tsx'
import { Ledger } from './Ledger.tsx'
import { Maps } from './Maps.tsx'
import { Part } from './Part.tsx'
import { Profile } from './Profile.tsx'
import { StateLine } from './StateLine.tsx'
import { Variants } from './Variants.tsx'
import { UpdatedPartsContext, useStaggeredUpdate, WhileVisible } from './WhileVisible.tsx'
import './sheet.css'
import './sheetDangers.css'
import './sheetPlots.css'
import './sheetPrint.css'
import { SheetContext, StateContext } from './contexts.ts'
import { WorstFindings } from './WorstFindings.tsx'
import { countFindings, type StateWord, stateOf } from './words.ts'

const SIDE_PX = 16

export function SheetColumn() {
  const traced = useResult((s) => s.sheet)
  // Heat and power run in parallel to the trace; their findings join the dangers as soon as they are known.
  const found = usePower((s) => s.findings)
  const gone = useMissing((s) => s)
  const system = useUnitSystem()
  const findings = useMemo(
    () => shownFindings(joinFindings({ beam: traced?.findings ?? null, heat: found, missing: gone }), system),
    [traced, found, gone, system],
  )
  const sheet = useMemo(() => traced && { ...traced, findings: [...findings] }, [traced, findings])
  const stale = useResult((s) => s.marked)
  const trace = useResult((s) => s.trace)
  const heldBy = useResult((s) => s.heldBy)
  const why = useResult((s) => s.why)
  const precision = useResult((s) => s.precision)
  const column = useRef<HTMLElement>(null)
  const widthPx = useInnerWidth(column)
  const isEmpty = useDesign((s) => s.lamp.boards.length === 0)
  const traceState = stateOf(sheet, stale, trace, heldBy.length > 0)
  const state = isEmpty ? 'empty' : gone.beam ? (gone.beam.ofLamp ? 'fault' : 'failed') : traceState
  const toDangers = () => {
    const head = column.current?.querySelector<HTMLElement>('#sheet-dangers button')
    head?.scrollIntoView({ block: 'start' })
    head?.focus({ preventScroll: true })
  }
  return (
    <aside ref={column} className="sheet-column" aria-label="Beam sheet" data-state={state}>
      <StateLine
        sheet={isEmpty ? null : sheet}
        findings={!isEmpty && (sheet || findings.length > 0) ? findings : null}
        state={state}
        heldBy={heldBy}
        why={gone.beam ? missingSentence(gone.beam) : why}
        precision={precision}
        onPrecision={(share) => result.setState({ precision: share })}
        onDangers={toDangers}
      />
      {isEmpty && <EmptyFace />}
      {!isEmpty && sheet && <SheetBody sheet={sheet} state={state} widthPx={widthPx} />}
      {!isEmpty && !sheet && findings.length > 0 && <FindingsAlone findings={findings} />}
    </aside>
  )
}

/** Scrolls to a finding of the list and focuses it. */
function toDanger(index: number) {
  const dangers = document.getElementById('sheet-dangers')
  const fold = dangers?.querySelector<HTMLElement>('button[aria-expanded]')
  if (fold?.getAttribute('aria-expanded') === 'false') fold.click()
  // A folded list opens with the next render.
  setTimeout(() => {
    const finding = dangers?.querySelectorAll<HTMLElement>('.sheet-findings > li')[index]
    finding?.scrollIntoView({ block: 'start' })
    finding?.querySelector('button')?.focus({ preventScroll: true })
  }, 0)
}

/** Constant, since the leaves read the sheet from context. The order is that in which parts out of view are updated. */
const PARTS = [
  <>
    <PatternWarning />
    <Answers />
    <LightLine />
    <WorstFindings onDanger={toDanger} />
  </>,
  <div key="dangers" id="sheet-dangers">
    <Part title="Dangers" aside={<DangerCount />}>
      <Dangers />
    </Part>
  </div>,
  <Part key="profile" title="Intensity profile">
    <Profile />
  </Part>,
  <Part key="ledger" title="Where each lumen goes">
    <Ledger />
  </Part>,
  <Part key="maps" title="Maps">
    <Maps />
  </Part>,
  <Part key="buys" title="What each part adds">
    <Variants />
  </Part>,
  <Part key="others" title="All other figures" aside="± at 95 %">
    <OtherFigures />
  </Part>,
].map((part, order) => (
  // biome-ignore lint/suspicious/noArrayIndexKey: a list that never changes
  <WhileVisible key={order} order={order}>
    {part}
  </WhileVisible>
))

/** Figures of the lamp before would mislead: what to do instead. */
export function EmptyFace() {
  return (
    <div className="sheet-body sheet-empty">
      <p>
        There are no boards on the face, so there is no beam to compute. Choose a board type, a pattern and how many,
        and fill the face; or place boards one by one in Plan.
      </p>
      <Button onPress={() => requestPart('fill', true)}>Fill the face…</Button>
      <p>Sunlight falls into an empty lamp too: the dangers in full (key D) still show where it focuses.</p>
    </div>
  )
}

/** Without a beam sheet there are still findings: that it is missing, and those of heat and power. */
function FindingsAlone({ findings }: { findings: readonly Finding[] }) {
  return (
    <div className="sheet-body" id="sheet-dangers">
      <Part title="Dangers" aside={countFindings(findings)}>
        <FindingList findings={findings} />
      </Part>
    </div>
  )
}

export function SheetBody({ sheet, state, widthPx }: { sheet: Sheet; state: StateWord; widthPx: number }) {
  const shown = useMemo(() => ({ sheet, widthPx }), [sheet, widthPx])
  const updated = useStaggeredUpdate(sheet, PARTS.length)
  return (
    <div className="sheet-body" aria-busy={state === 'old'}>
      <StateContext value={state}>
        <UpdatedPartsContext value={updated}>
          <SheetContext value={shown}>{PARTS}</SheetContext>
        </UpdatedPartsContext>
      </StateContext>
    </div>
  )
}

/** Width inside the column's margins, px: the width of the plots. */
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
