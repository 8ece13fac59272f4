// Long work in slices: a generator that yields wherever it may be put aside. The same code runs at a stretch or by and by.

export type Sliced<T> = Generator<void, T>

/** All at once. */
export function atOnce<T>(work: Sliced<T>): T {
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
  }
}

/** By and by: after `sliceMs` of work, `breathe` is awaited; it may throw to end the work. */
export async function byAndBy<T>(work: Sliced<T>, breathe: () => Promise<void>, sliceMs = 8): Promise<T> {
  let from = performance.now()
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
    if (performance.now() - from < sliceMs) continue
    await breathe()
    from = performance.now()
  }
}
