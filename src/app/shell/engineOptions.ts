// Options of the engine from the page's address: ?engine=auto|gpu|cpu selects the engine; ?reading-threads=N sets the number of threads
// that read first sheets; ?lose-graphics=RAYS, for tests, simulates the loss of the graphics device after so many rays.
import { ENGINE_CHOICES, type EngineOrder } from '../../job/beam/sheet.ts'

const MAX_THREADS = 16

export function parseEngineOptions(search: string): EngineOrder {
  const params = new URLSearchParams(search)
  const choice = ENGINE_CHOICES.find((name) => name === params.get('engine')) ?? 'auto'
  const number = (name: string) => Number(params.get(name) ?? Number.NaN)
  const loseAfter = number('lose-graphics')
  const readingThreads = number('reading-threads')
  return {
    choice,
    ...(loseAfter >= 0 ? { loseAfter } : {}),
    ...(readingThreads >= 0 ? { readingThreads: Math.min(MAX_THREADS, Math.floor(readingThreads)) } : {}),
  }
}
