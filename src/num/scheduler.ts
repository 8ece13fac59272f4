// Cooperative scheduling of long work in one thread: time slices, pause and cancellation in one place. Own code: task queues on npm run whole
// functions, and what is needed here is one point inside a function where it may be held or ended.

/** Long work that yields wherever it may be interrupted. The same code runs at once or in time slices. */
export type TimeSliced<T> = Generator<void, T>

/** Why a cancelled task ended. Not a failure: nobody waits for it any more. */
export class Cancelled extends Error {}

/** The thread that did the work is gone: it stopped, could not start, or has not answered for too long. The work itself may be without a fault. */
export class WorkerEnded extends Error {}

export interface Scheduler {
  /** Aborted once nobody waits for the work any more. */
  signal: AbortSignal
  /** Lets other messages of the thread in, waits through a pause, and throws `Cancelled` when the signal is aborted. */
  checkpoint(): Promise<void>
  /** Runs work in slices with a checkpoint after each; throws `Cancelled` when it is aborted on the way. */
  run<T>(work: TimeSliced<T>): Promise<T>
  /** Milliseconds spent in pauses so far. */
  pausedMs(): number
}

/** A pause that holds every scheduler made with it. */
export interface Pause {
  pause(): void
  resume(): void
  isPaused(): boolean
  /** Resolves at once, or when the pause ends. */
  ended(): Promise<void>
}

const SLICE_MS = 8

/**
 * A scheduler of one piece of work. `pause`: absent, nothing holds it. `nextTask`: how other messages of the thread are let in; absent, they
 * aren't (a command line has none to wait for).
 */
export function makeScheduler(
  signal: AbortSignal = new AbortController().signal,
  { pause, nextTask }: { pause?: Pause | undefined; nextTask?: (() => Promise<void>) | undefined } = {},
): Scheduler {
  let pausedMs = 0
  async function checkpoint(): Promise<void> {
    if (nextTask) await nextTask()
    if (pause?.isPaused() && !signal.aborted) {
      const from = performance.now()
      await Promise.race([pause.ended(), whenAborted(signal)])
      pausedMs += performance.now() - from
    }
    if (signal.aborted) throw new Cancelled()
  }
  return { signal, checkpoint, run: (work) => runTimeSliced(work, checkpoint), pausedMs: () => pausedMs }
}

/** Not paused at first. */
export function makePause(): Pause {
  let held: Promise<void> | null = null
  let release: () => void = () => {}
  return {
    pause() {
      held ??= new Promise((done) => {
        release = done
      })
    },
    resume() {
      held = null
      release()
    },
    isPaused: () => held !== null,
    async ended() {
      while (held) await held // it may be paused again meanwhile
    },
  }
}

/** The newest of several tasks: each start cancels the one before. */
export function makeNewest(): { start(): AbortSignal; cancel(): void } {
  let current = new AbortController()
  const cancel = () => current.abort(new Cancelled())
  return {
    start() {
      cancel()
      current = new AbortController()
      return current.signal
    },
    cancel,
  }
}

/** Resolves once the signal is aborted. */
export const whenAborted = (signal: AbortSignal): Promise<void> =>
  new Promise((done) => {
    if (signal.aborted) done()
    else signal.addEventListener('abort', () => done(), { once: true })
  })

/** The work's result, all of it at once. */
export function runToEnd<T>(work: TimeSliced<T>): T {
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
  }
}

/** After `sliceMs` of work `checkpoint` is awaited; it may throw to end the work. */
export async function runTimeSliced<T>(
  work: TimeSliced<T>,
  checkpoint: () => Promise<void>,
  sliceMs = SLICE_MS,
): Promise<T> {
  let from = performance.now()
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
    if (performance.now() - from < sliceMs) continue
    await checkpoint()
    from = performance.now()
  }
}
