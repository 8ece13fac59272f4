// Which engine may trace, from the page's address: ?engine=auto|gpu|cpu; ?reading-threads=N, where the number of processors isn't to decide how
// many read first looks; and ?lose-graphics=RAYS, a drill that takes the graphics device away once it has been given so many rays.
import { ENGINE_CHOICES, type EngineOrder } from '../../job/beam/sheet.ts'

const MOST_THREADS = 16

export function engineAsked(search: string): EngineOrder {
  const asked = new URLSearchParams(search)
  const choice = ENGINE_CHOICES.find((name) => name === asked.get('engine')) ?? 'auto'
  const number = (name: string) => Number(asked.get(name) ?? Number.NaN)
  const loseAfter = number('lose-graphics')
  const readingThreads = number('reading-threads')
  return {
    choice,
    ...(loseAfter >= 0 ? { loseAfter } : {}),
    ...(readingThreads >= 0 ? { readingThreads: Math.min(MOST_THREADS, Math.floor(readingThreads)) } : {}),
  }
}
