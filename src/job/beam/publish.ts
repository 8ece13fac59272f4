// Sheets of one trace as it goes on: the run is validated, read in time slices with what else is known by then, and handed out.
import type { BackwardEstimate } from '../../engine/progressive.ts'
import type { Front } from '../../hazard/front.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import type { Run } from '../../run/types.ts'
import { expectValid } from '../../run/validate.ts'
import type { AimEstimate, Forward } from './aims.ts'
import type { TraceEngines } from './engines.ts'
import { makePacing } from './pacing.ts'
import type { PreparedTrace } from './prepare.ts'
import { makeReader, type ReadState } from './read.ts'
import type { Sheet, SunAtTilt, Variant } from './sheet.ts'

/** What the steps of a trace have found so far; each step writes its own part. */
export interface TraceProgress {
  /** Time spent on tracing, pauses left out. */
  seconds: number
  axis: BackwardEstimate | null
  /** Of the axis, a share at 95 %; 0: none is wanted. */
  wanted: number
  aims: AimEstimate[]
  sun: SunAtTilt[] | null
  variants: Variant[]
}

export const newProgress = (wanted: number): TraceProgress => ({
  seconds: 0,
  axis: null,
  wanted,
  aims: [],
  sun: null,
  variants: [],
})

export interface Publisher {
  /** Throws when the run is invalid, and `Cancelled`. */
  publish(run: Run, settled: boolean): Promise<Sheet>
  /** A sheet on the way, if reading one is worth its time by now; the first always is. Throws as `publish`. */
  publishInTime(run: Run): Promise<unknown>
  /** What is known by now, on a sheet of a run that has been read: also while `readSettled` goes on. Throws as `publish`. */
  publishKnown(run: Run): Promise<unknown>
  /** The light by itself, as the rays from the emitters have it. */
  readForward(run: Run): Promise<Forward>
  /** Reads what takes the longest of the settled sheet, while what that still waits for is on its way; gives its figures. Throws `Cancelled`. */
  readSettled(run: Run): Promise<Sheet['figures']>
  /** The settled place in front, searched elsewhere by the run's exit rays. */
  takeSettledFront(found: Front, run: Run): void
  /** A first sheet that was read elsewhere, and the place in front that was found for it. */
  publishRead(sheet: Sheet, front: Front | null): void
  /** From now on sheets are read as later ones: the first, of so many rays, is read elsewhere. */
  leaveFirst(rays: number): void
  state(settled: boolean): ReadState
  last(): Sheet | null
}

export function makePublisher(
  prepared: PreparedTrace,
  engines: TraceEngines,
  progress: TraceProgress,
  scheduler: Scheduler,
  onSheet: (sheet: Sheet) => void,
  readsAll = false,
): Publisher {
  const reader = makeReader(prepared.lamp, prepared.header, prepared.paths)
  let last: Sheet | null = null
  const show = (sheet: Sheet) => {
    last = sheet
    onSheet(sheet)
  }
  /** One reading at a time: later ones use what the earlier ones have found. */
  let turn: Promise<unknown> = Promise.resolve()
  function inTurn<T>(read: () => Promise<T>): Promise<T> {
    const mine = turn.then(read)
    turn = mine.catch(() => {})
    return mine
  }
  let turnOfKnown: Promise<unknown> = Promise.resolve()
  const pacing = makePacing(() => performance.now())
  const state = (settled: boolean): ReadState => ({ ...progress, settled, ...engines.inUse() })
  async function publishNow(run: Run, how: ReadState): Promise<Sheet> {
    expectValid(run, how.settled)
    const sheet = await scheduler.run(reader.read(run, how))
    show(sheet)
    return sheet
  }
  async function publishTimed(run: Run): Promise<void> {
    const search = readsAll || pacing.maySearch()
    const searchedAt = reader.searchedAt()
    const began = performance.now()
    const isFirst = last === null
    await publishNow(run, { ...state(false), search })
    const ms = performance.now() - began
    if (isFirst) pacing.begin(ms)
    else pacing.took(ms, reader.searchedAt() !== searchedAt)
  }
  const isDue = () => readsAll || last === null || pacing.mayRead()
  return {
    publish: (run, settled) => inTurn(() => publishNow(run, state(settled))),
    publishInTime: (run) => inTurn(async () => isDue() && (await publishTimed(run))),
    publishKnown(run) {
      const mine = turnOfKnown.then(() => publishNow(run, { ...state(false), search: false }))
      turnOfKnown = mine.catch(() => {})
      return mine
    },
    readForward: (run) => inTurn(() => scheduler.run(reader.forward(run))),
    readSettled: (run) => inTurn(() => scheduler.run(reader.figures(run, state(true)))),
    takeSettledFront: reader.takeSettledFront,
    publishRead(sheet, front) {
      if (front) reader.takeFront(front)
      show(sheet)
    },
    leaveFirst(rays) {
      pacing.begin(null)
      reader.leaveFirst(rays)
    },
    state,
    last: () => last,
  }
}
