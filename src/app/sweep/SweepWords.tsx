// The sweep as text: the best cell, the selected cell and its dangers, and the button that applies it.
import { findingsIn } from '../../checks/finding.ts'
import type { Best, Wanted } from '../../job/sweep/best.ts'
import type { SweptName } from '../../job/sweep/figures.ts'
import type { SweepCell } from '../../job/sweep/run.ts'
import { sweptWords } from '../../report/sweep.ts'
import { formatFigure } from '../common/format.ts'
import { useResult } from '../store/stores.ts'
import type { SweepRun } from '../store/sweep.ts'
import { useSweep } from '../store/sweep.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { bestWords, countCells, figureOf, mildestBest, severeCount, whyEmpty } from './model/plot.ts'
import { placesOf } from './picture.ts'

interface Props {
  run: SweepRun
  figure: SweptName
  wanted: Wanted
  best: Best | null
  shownIndex: number | null
  onTake(index: number): string | null
}

const BESIDE: readonly SweptName[] = ['axialIntensityCd', 'fluxOutLm', 'beamAngleDeg', 'hot.front']

export function SweepWords({ run, figure, wanted, best, shownIndex, onTake }: Props) {
  const system = useUnitSystem()
  const mild = best && mildestBest(run.cells, best, figure, wanted)
  const cell = shownIndex === null ? undefined : run.cells[shownIndex]
  return (
    <div className="sweep-words">
      {best && (
        <p className="sweep-best">
          <strong>{bestWords(best, figure, wanted, placesOf(run, best.cell, system), system)}</strong>{' '}
          <SevereWarning cell={best.cell} />
        </p>
      )}
      {mild && (
        <p>
          {mild.severe === 0 ? 'Without a severe finding' : `With the fewest severe findings, ${mild.severe}`}:{' '}
          {formatFigure(mild.best.figure, sweptWords(figure).unit, system).text} at{' '}
          {placesOf(run, mild.best.cell, system).join(' and ')}.
        </p>
      )}
      <CurrentLamp figure={figure} />
      {cell && (
        <div className="sweep-cell">
          <div className="sweep-cell-head">
            <h3>{placesOf(run, cell, system).join(', ')}</h3>
            <Button
              kind="strong"
              hint="One step; undo brings the old values back"
              isDisabled={!cell.reading}
              onPress={() => onTake(cell.index)}
            >
              Use {cell.values.length > 1 ? 'these values' : 'this value'}
            </Button>
          </div>
          <CellFigures cell={cell} figure={figure} />
          <Dangers cell={cell} />
        </div>
      )}
      <Announcement />
      <RunSummary run={run} />
    </div>
  )
}

/** A best cell with a severe finding must not look like a recommendation. */
function SevereWarning({ cell }: { cell: SweepCell }) {
  const severe = severeCount(cell)
  if (severe === 0) return null
  return (
    <span className="sweep-danger">
      {severe} severe {severe === 1 ? 'finding' : 'findings'} there.
    </span>
  )
}

/** The current lamp, from its own, longer trace. */
function CurrentLamp({ figure }: { figure: SweptName }) {
  const system = useUnitSystem()
  const now = useResult((s) => {
    if (!s.sheet || s.stale) return null
    if (figure.startsWith('hot.')) {
      const spot = s.sheet.hotSpots[figure.slice(4) as 'front']
      return spot ? formatFigure({ value: spot.kWm2, se: spot.se }, 'kW/m²').text : null
    }
    const f = s.sheet.figures[figure as 'fluxOutLm']
    return f ? formatFigure(f, sweptWords(figure).unit, system).text : null
  })
  return now && <p className="sweep-quiet">The lamp now: {now}, by the sheet.</p>
}

function CellFigures({ cell, figure }: { cell: SweepCell; figure: SweptName }) {
  const system = useUnitSystem()
  if (!cell.reading) return <p className="sweep-quiet">No such lamp: {cell.why}</p>
  const names = [figure, ...BESIDE.filter((name) => name !== figure)]
  return (
    <dl className="sweep-figures">
      {names.map((name) => {
        const value = figureOf(cell, name)
        const { name: called, unit } = sweptWords(name)
        return (
          <div key={name}>
            <dt>{called}</dt>
            <dd>{value ? formatFigure(value, unit, system).text : <small>{whyEmpty(cell, name)}</small>}</dd>
          </div>
        )
      })}
    </dl>
  )
}

const RANK = { severe: 'Severe', warning: 'Warning', note: 'Note' } as const

function Dangers({ cell }: { cell: SweepCell }) {
  const system = useUnitSystem()
  const all = findingsIn(cell.reading?.findings ?? [], system)
  const severe = all.filter((f) => f.severity === 'severe')
  // Every severe finding is listed; of the others only the worst.
  const listed = severe.length > 0 ? severe : all.slice(0, 1)
  const more = all.length - listed.length
  if (all.length === 0) return null
  return (
    <ul className="sweep-dangers">
      {listed.map((f) => (
        <li key={f.rule + f.title} data-severity={f.severity}>
          <strong>{RANK[f.severity]}:</strong> {f.title}
        </li>
      ))}
      {more > 0 && (
        <li>
          and {more} {more === 1 ? 'finding' : 'findings'} less grave
        </li>
      )}
    </ul>
  )
}

function Announcement() {
  const announcement = useSweep((s) => s.announcement)
  return announcement ? <p className="sweep-announcement">{announcement}</p> : null
}

/** Summary of all cells, and how far they can be compared. */
function RunSummary({ run }: { run: SweepRun }) {
  const { come, severe, empty } = countCells(run.cells)
  const lit = come - empty
  return (
    <p className="sweep-quiet">
      {lit > 0 && severe === lit && `Every lamp here has a severe finding. `}
      {severe > 0 && severe < lit && `${severe} of ${lit} lamps have a severe finding. `}
      {empty > 0 && `${empty} can’t be built. `}± at 95 %. All are traced with the same random numbers, so their
      differences are known better than each ± says.
    </p>
  )
}
