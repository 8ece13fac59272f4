// The state of the trace: rough, settling, settled; rays so far; the wanted precision.
import { Button as AriaButton, Dialog, DialogTrigger, Group, Heading, Popover } from 'react-aria-components'
import { engineWords } from '../../report/figures.ts'
import { holderWords, type TraceHolder } from '../common/traceHolders.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { page } from './page.ts'

export function TraceState() {
  const trace = useResult((s) => s.trace)
  const state = useResult((s) => s.sheet?.state ?? null)
  const stale = useResult((s) => s.marked)
  const rays = useResult((s) => s.sheet?.rays ?? 0)
  const engine = useResult((s) => s.sheet?.engine ?? null)
  const isEmpty = useDesign((s) => s.lamp.boards.length === 0)
  const heldBy = useResult((s) => s.heldBy)
  const isHeld = heldBy.length > 0
  const words = stateWords(trace, isHeld, state, stale, isEmpty)
  const atWork = useResult((s) => s.atWork)
  return (
    <Group className="shell-trace" aria-label="Trace" data-state={words}>
      <DialogTrigger>
        <AriaButton
          className="ui-button ui-button-quiet shell-trace-state"
          aria-label={`Trace: ${words}${isHeld ? ` for ${holderWords(heldBy)}` : ''}, ${raysText(rays)}${engine ? `, ${engineWords(engine).name}` : ''}`}
        >
          <span className="shell-trace-words">{words}</span>
          <span className="shell-trace-rays">{raysText(rays)}</span>
          {engine && <span className="shell-trace-engine">{engineWords(engine).name}</span>}
        </AriaButton>
        <Popover className="ui-popover shell-popover" placement="bottom end">
          <Dialog className="shell-popover-body">
            <Heading slot="title" className="shell-popover-title">
              Trace
            </Heading>
            <TraceDetail />
          </Dialog>
        </Popover>
      </DialogTrigger>
      <Button
        kind="quiet"
        name={trace === 'paused' ? 'Resume the trace' : 'Pause the trace'}
        hint={resumeHint(trace, heldBy)}
        isDisabled={!atWork}
        onPress={trace === 'paused' ? page.trace.resume : page.trace.pause}
      >
        {trace === 'paused' ? '▶' : '❚❚'}
      </Button>
      <span className="ui-hidden" role="status">
        {words === 'settled' || words === 'failed' ? `Trace ${words}.` : ''}
      </span>
    </Group>
  )
}

function TraceDetail() {
  const precision = useResult((s) => s.precision)
  const why = useResult((s) => s.why)
  const perSecond = useResult((s) => s.sheet?.raysPerSecond ?? 0)
  const threads = useResult((s) => s.sheet?.threads ?? 0)
  const engine = useResult((s) => s.sheet?.engine ?? null)
  const engineWhy = useResult((s) => s.sheet?.engineWhy ?? '')
  return (
    <>
      {why && <p className="shell-fault">{why}</p>}
      <p className="shell-quiet">
        A change starts the trace anew. The first value is rough and says so. It sharpens until the axial intensity is
        known to ± {precision * 100} % at 95 %; a dark axis is judged against the beam’s brightest ring. The trace has
        settled once the sun and the comparisons are there too. The beam sheet sets how well.
      </p>
      {engine && (
        <p className="shell-trace-why">
          {engineWords(engine).name}: {engineWhy}.
        </p>
      )}
      {perSecond > 0 && (
        <p className="shell-quiet">
          {raysText(perSecond)} a second on {threads} {threads === 1 ? 'thread' : 'threads'}.
        </p>
      )}
    </>
  )
}

function resumeHint(trace: string, heldBy: readonly TraceHolder[]): string {
  if (trace !== 'paused') return 'Pause, the sun and the comparisons too (P)'
  return heldBy.length > 0 ? `Waits for ${holderWords(heldBy)}. Trace now, beside it (P)` : 'Resume (P)'
}

/** The state of the trace in one word. */
function stateWords(trace: string, isHeld: boolean, state: string | null, stale: boolean, isEmpty: boolean): string {
  if (isEmpty) return 'no boards'
  if (trace === 'paused') return isHeld ? 'waiting' : trace
  if (trace === 'failed') return trace
  if (state === null) return 'waiting'
  return stale ? 'tracing anew' : state
}

function raysText(rays: number): string {
  if (rays >= 1e6) return `${(rays / 1e6).toFixed(rays >= 1e8 ? 0 : 1)} M rays`
  if (rays >= 1e3) return `${Math.round(rays / 1e3)} k rays`
  return `${Math.round(rays)} rays`
}
