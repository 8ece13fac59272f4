// Which engine may trace, from the page's address: ?engine=auto|gpu|cpu, and ?lose-graphics=RAYS, a drill that takes the graphics device away
// once it has been given so many rays.
import { ENGINE_CHOICES, type EngineOrder } from '../../job/sheet.ts'

export function engineAsked(search: string): EngineOrder {
  const asked = new URLSearchParams(search)
  const choice = ENGINE_CHOICES.find((name) => name === asked.get('engine')) ?? 'auto'
  const loseAfter = Number(asked.get('lose-graphics') ?? Number.NaN)
  return loseAfter >= 0 ? { choice, loseAfter } : { choice }
}
