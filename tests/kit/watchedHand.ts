// A hand of this thread that tells when nothing is asked of it any more.
import { hereHand } from '../../src/engine/workers/pool.ts'

/** Whoever goes on after an answer asks again within fewer turns of the event loop. */
const QUIET_TURNS = 50

export function watchedHand() {
  const inner = hereHand()
  let open = 0
  const hand: typeof inner = {
    ...inner,
    post(order) {
      open++
      inner.post(order)
      // Timers of one length come in the order in which they were set: by now it is carried out.
      setTimeout(() => open--, 0)
    },
  }
  /** Resolves once every order is carried out and no other has come for some turns: whoever traces has ended or waits. */
  const rests = async () => {
    for (let quiet = 0; quiet < QUIET_TURNS; quiet = open > 0 ? 0 : quiet + 1) await new Promise(setImmediate)
  }
  return { hand, rests }
}
