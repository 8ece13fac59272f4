// Predictions shared among workers.
import type { Predictor } from './predict.ts'

export type Queue = <T>(work: (predictor: Predictor) => Promise<T>) => Promise<T>

/**
 * One prediction after another on each predictor; the first free one takes the next. `onProgress` hears how many are done of those asked for. Rejects
 * with the signal's reason once it is aborted.
 */
export function makeQueue(
  predictors: readonly Predictor[],
  onProgress: (done: number, all: number) => void = () => {},
  signal?: AbortSignal,
): Queue {
  const free = [...predictors]
  const waiting: ((p: Predictor) => void)[] = []
  let [done, all] = [0, 0]
  return async (work) => {
    all++
    const mine = free.pop() ?? (await new Promise<Predictor>((resolve) => waiting.push(resolve)))
    try {
      signal?.throwIfAborted()
      const found = await work(mine)
      onProgress(++done, all)
      return found
    } finally {
      const next = waiting.shift()
      if (next) next(mine)
      else free.push(mine)
    }
  }
}
