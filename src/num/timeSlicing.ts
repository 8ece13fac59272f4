// Long work in slices: a generator that yields wherever it may be interrupted. The same code runs in one go or
// time-sliced.
// Own code, because it is twenty lines; a scheduler package brings queues and priorities that nothing here uses.

export type TimeSliced<T> = Generator<void, T>

/** Runs the work without a pause and returns its result; what the work throws comes through. */
export function runToEnd<T>(work: TimeSliced<T>): T {
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
  }
}

/**
 * Runs the work in slices of about `sliceMs` milliseconds and awaits `pause` between them. `pause` may throw to end
 * the work; the promise is then rejected with what it threw.
 */
export async function runTimeSliced<T>(work: TimeSliced<T>, pause: () => Promise<void>, sliceMs = 8): Promise<T> {
  let from = performance.now()
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
    if (performance.now() - from < sliceMs) continue
    await pause()
    from = performance.now()
  }
}
