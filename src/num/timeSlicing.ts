// Long work in slices: a generator that yields wherever it may be put aside. The same code runs at a stretch or by and by.

export type TimeSliced<T> = Generator<void, T>

/** All at once. */
export function runToEnd<T>(work: TimeSliced<T>): T {
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
  }
}

/** By and by: after `sliceMs` of work, `breathe` is awaited; it may throw to end the work. */
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
