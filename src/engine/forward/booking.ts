// Where an assembled lamp's light is booked: each loss on its line of the ledger and on its part's.
import { draw } from '../../optics/draws.ts'
import { LOSS, RETURNED, RISER, W } from '../../optics/records.ts'
import type { Tally } from './tally.ts'
import { ENDED, fate, goesOn, SMALL } from './zones.ts'

/** In place of a part: what no part takes. */
export const NO_PART = -1

export interface Booking {
  /** The ray's LOSS slot under its own line and part, or once an element has sent the ray back under the line of that. */
  lose(t: Tally, line: number, part: number): void
  /** All of the ray's weight; gives ENDED. */
  endAt(t: Tally, line: number, part: number): number
  /** The same of light that goes on in the air, whatever its line. */
  escapeAt(t: Tally, line: number, part: number): number
  deliver(t: Tally): number
  /** A surface keeps 1 − `rho` of the weight; false where the path ends there. */
  reflect(t: Tally, line: number, part: number, rho: number): boolean
  /** The game of survival, after a loss that was booked otherwise. */
  survives(t: Tally): boolean
  begin(): void
  /** A drawn path ends on the line of its last loss. */
  stop(): void
  lastFate(): number
  lastEscape(): number
}

export function makeBooking(ray: Float64Array, stream: Int32Array): Booking {
  let lastFate = 0
  let lastLine = 0
  let leaving = 0

  function lose(t: Tally, line: number, part: number): void {
    lastLine = ray[RETURNED]! > 0 ? fate.lensReturnedLost : line
    t.book(ray, lastLine)
    t.bookPart(ray, part)
  }

  function endAt(t: Tally, line: number, part: number): number {
    ray[LOSS] = ray[W]!
    leaving = goesOn[line] ? ray[W]! : 0
    // What the tracer itself gave up keeps its own line, so that the check on it sees all of it.
    if (part === NO_PART) t.book(ray, line)
    else lose(t, line, part)
    ray[W] = 0
    lastFate = ray[RETURNED]! > 0 && part !== NO_PART ? fate.lensReturnedLost : line
    return ENDED
  }

  /** After a loss: the game of survival under a small weight, booked so that the ledger closes exactly. */
  function survives(t: Tally): boolean {
    const w = ray[W]!
    if (w >= SMALL) return true
    if (draw(stream) < 0.5) {
      ray[LOSS] = w
      t.book(ray, fate.roulette)
      ray[W] = 0
      lastFate = fate.roulette
      return false
    }
    ray[LOSS] = -w
    t.book(ray, fate.roulette)
    ray[W] = 2 * w
    return true
  }

  return {
    lose,
    endAt,
    escapeAt(t, line, part) {
      const w = ray[W]!
      endAt(t, line, part)
      leaving = w
      return ENDED
    },
    deliver(t) {
      leaving = ray[W]!
      lastFate = ray[RISER]! > 0 ? fate.deliveredViaRiser : fate.delivered
      t.deliver(ray, lastFate)
      ray[W] = 0
      return ENDED
    },
    reflect(t, line, part, rho) {
      ray[LOSS] = ray[W]! * (1 - rho)
      lose(t, line, part)
      ray[W]! *= rho
      lastFate = lastLine
      return ray[W]! > 0 && survives(t)
    },
    survives,
    begin() {
      leaving = 0
    },
    stop() {
      lastFate = lastLine
    },
    lastFate: () => lastFate,
    lastEscape: () => leaving,
  }
}
