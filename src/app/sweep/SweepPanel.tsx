// One or two parameters of the lamp over a range: a curve or a map of any figure; a click applies the values.
import { useMemo, useRef } from 'react'
import { bestOf } from '../../job/sweep/best.ts'
import { SWEPT_NAMES, type SweptName } from '../../job/sweep/figures.ts'
import { sweptWords } from '../../report/sweep.ts'
import { useDesign } from '../store/stores.ts'
import { sweep, useSweep } from '../store/sweep.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { Panel } from '../ui/Panel.tsx'
import { useSize } from '../ui/useSize.ts'
import { stateWords } from './model/plot.ts'
import { Ranges } from './Ranges.tsx'
import { SweepCurve } from './SweepCurve.tsx'
import { SweepMap } from './SweepMap.tsx'
import { SweepWords } from './SweepWords.tsx'
import { saveCsv } from './saveCsv.ts'
import './sweep.css'
import './sweepMap.css'

export interface SweepActions {
  stop(): void
  restart(): void
  adopt(index: number): string | null
}

const FIGURES = SWEPT_NAMES.filter((name) => name !== 'emittedLm').map((key) => ({ key, name: sweptWords(key).name }))
const ENDS = [
  { key: 'highest', name: 'highest' },
  { key: 'lowest', name: 'lowest' },
] as const

const hide = () => sweep.setState({ open: false })

export function SweepPanel({ actions }: { actions: SweepActions }) {
  return (
    <Panel of="sweep" title="Try a range" closeName="Close the range" scrolls hide={hide}>
      <Ranges />
      <FigureRow actions={actions} />
      <Results actions={actions} />
      <p className="ui-hidden" role="status">
        <Announcement />
      </p>
    </Panel>
  )
}

const Announcement = () => useSweep((s) => s.announcement || (s.state === 'done' ? 'All cells have been traced.' : ''))

function FigureRow({ actions }: { actions: SweepActions }) {
  const figure = useSweep((s) => s.figure)
  const wanted = useSweep((s) => s.wanted ?? sweptWords(s.figure).wanted)
  return (
    <div className="sweep-figure">
      <Choice
        label="Show"
        value={figure}
        options={FIGURES}
        onChoose={(name: SweptName) => sweep.setState({ figure: name, wanted: null, at: null })}
      />
      <Choice
        label="Best"
        segments
        value={wanted}
        options={ENDS}
        onChoose={(end) => sweep.setState({ wanted: end, at: null })}
      />
      <Progress actions={actions} />
    </div>
  )
}

function Progress({ actions }: { actions: SweepActions }) {
  const state = useSweep((s) => s.state)
  const why = useSweep((s) => s.why)
  const run = useSweep((s) => s.run)
  const busy = state === 'running' || state === 'waiting'
  return (
    <div className="sweep-progress">
      <span className="sweep-state" data-state={state} title={why || undefined}>
        {stateWords(state, run?.cells ?? [], why)}
      </span>
      {busy ? (
        <Button kind="quiet" onPress={actions.stop}>
          Stop
        </Button>
      ) : (
        <Button kind="quiet" name="Trace the range again" hint="Trace the range again" onPress={actions.restart}>
          ↻
        </Button>
      )}
      <Button
        kind="quiet"
        hint="Every figure of every cell with its standard error"
        isDisabled={!run?.cells.some(Boolean)}
        onPress={() => run && saveCsv(run)}
      >
        CSV
      </Button>
    </div>
  )
}

/** Picture and text of the cells so far. */
function Results({ actions }: { actions: SweepActions }) {
  const run = useSweep((s) => s.run)
  const figure = useSweep((s) => s.figure)
  const wanted = useSweep((s) => s.wanted ?? sweptWords(s.figure).wanted)
  const at = useSweep((s) => s.at)
  const lamp = useDesign((s) => s.lamp)
  const system = useUnitSystem()
  const frame = useRef<HTMLDivElement>(null)
  const size = useSize(frame)
  const best = useMemo(() => (run ? bestOf(run.cells, figure, wanted) : null), [run, figure, wanted])
  const shown = at ?? best?.cell.index ?? null
  const Picture = run && run.axes.length > 1 ? SweepMap : SweepCurve
  return (
    <div className="sweep-shown">
      <div className="sweep-picture" ref={frame}>
        {run && size && (
          <Picture
            run={run}
            system={system}
            lamp={lamp}
            figure={figure}
            bestIndex={best?.cell.index ?? null}
            shownIndex={shown}
            widthPx={size.widthPx}
            heightPx={size.heightPx}
            onLook={(index) => sweep.setState({ at: index })}
            onTake={actions.adopt}
          />
        )}
      </div>
      {run && (
        <SweepWords run={run} figure={figure} wanted={wanted} best={best} shownIndex={shown} onTake={actions.adopt} />
      )}
    </div>
  )
}
