// A search: numbers and choices of the lamp are moved until a figure is at its best, or two are weighed against each other.
import { useRef } from 'react'
import { type OptimizeRun, optimize, useOptimize } from '../store/optimize.ts'
import { Button } from '../ui/Button.tsx'
import { HandbookLink } from '../ui/HandbookLink.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Panel } from '../ui/Panel.tsx'
import { useSize } from '../ui/useSize.ts'
import { Found } from './Found.tsx'
import { stateWords } from './model/words.ts'
import { Picture } from './Picture.tsx'
import type { OptimizeActions } from './runner.ts'
import { Setup } from './Setup.tsx'
import './optimize.css'

const hide = () => optimize.setState({ open: false })

export default function OptimizePanel({ actions }: { actions: OptimizeActions }) {
  return (
    <Panel of="optimize" title="Optimize" closeName="Close the search" scrolls hide={hide}>
      <div className="optimize-columns">
        <div>
          <Setup />
          <Work actions={actions} />
        </div>
        <Results actions={actions} />
      </div>
      <HandbookLink page="13-the-best-of-many" />
      <p className="ui-hidden" role="status">
        <Announcement />
      </p>
    </Panel>
  )
}

const Announcement = () => useOptimize((s) => s.announcement || (s.state === 'done' ? 'The search has ended.' : ''))

function Work({ actions }: { actions: OptimizeActions }) {
  const state = useOptimize((s) => s.state)
  const why = useOptimize((s) => s.why)
  const progress = useOptimize((s) => s.run?.progress ?? null)
  const evaluations = useOptimize((s) => s.evaluations)
  const known = useOptimize((s) => s.known)
  const nothingMoves = useOptimize((s) => s.moves.length === 0)
  const isBusy = state === 'running' || state === 'waiting'
  return (
    <div className="optimize-work">
      <div className="optimize-count">
        <NumberField
          label="Lamps to try"
          unit=""
          step={10}
          min={1}
          max={10_000}
          integer
          value={evaluations}
          onSet={(value) => {
            optimize.setState({ evaluations: value })
            return null
          }}
        />
      </div>
      {isBusy ? (
        <Button onPress={actions.stop}>Stop</Button>
      ) : (
        <Button kind="strong" isDisabled={nothingMoves} onPress={() => void actions.search()}>
          Search
        </Button>
      )}
      <span className="optimize-state" data-state={state === 'idle' && why === '' ? 'known' : state}>
        {stateWords(state, progress, why, known)}
      </span>
      {isBusy && progress && progress.all > 0 && (
        <progress
          className="optimize-bar"
          max={progress.all}
          value={Math.min(progress.done, progress.all)}
          aria-label="Of the search"
        />
      )}
    </div>
  )
}

function Results({ actions }: { actions: OptimizeActions }) {
  const run = useOptimize((s) => s.run)
  const at = useOptimize((s) => s.at)
  const frame = useRef<HTMLDivElement>(null)
  const size = useSize(frame)
  return (
    <div className="optimize-results">
      <div ref={frame}>{run?.progress && size && <Shown run={run} at={at} widthPx={size.widthPx} />}</div>
      {run && <Found run={run} at={at} adopt={actions.adopt} />}
      <Taken />
    </div>
  )
}

function Shown({ run, at, widthPx }: { run: OptimizeRun; at: number | null; widthPx: number }) {
  if (!run.progress) return null
  if (run.plan.wants.length > 1 && run.progress.front.length === 0)
    return run.result ? null : (
      <p className="optimize-quiet">
        None of the lamps tried so far {run.plan.keeps.length > 0 ? 'keeps the limits.' : 'has both figures.'}
      </p>
    )
  const middle = Math.floor(run.progress.front.length / 2)
  return (
    <Picture
      plan={run.plan}
      progress={run.progress}
      widthPx={widthPx}
      at={run.plan.wants.length > 1 ? (at ?? middle) : null}
      onLook={(index) => optimize.setState({ at: index })}
    />
  )
}

function Taken() {
  const announcement = useOptimize((s) => s.announcement)
  return announcement ? <p className="optimize-announcement">{announcement}</p> : null
}
