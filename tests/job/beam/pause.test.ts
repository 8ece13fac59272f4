import { expect, test } from 'vitest'
import { makePool } from '../../../src/engine/workers/pool.ts'
import { traceSun } from '../../../src/job/beam/sun.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import { sceneOf } from '../../kit/traceHere.ts'
import { watchedHand } from '../../kit/watchedHand.ts'

const lamp = { ...DEMOS['stile-lamp']!(), reading: { ...DEMOS['stile-lamp']!().reading, sunTiltDeg: 0 } }

/** A pause after so many asks; its end also stops the trace. */
function pausing(after: number) {
  let asks = 0
  let release: () => void = () => {}
  const held = new Promise<void>((done) => {
    release = done
  })
  let stopped = false
  const control = {
    stopped: () => stopped,
    ready: () => (asks++ < after ? Promise.resolve() : held),
  }
  const end = () => {
    stopped = true
    release()
  }
  return { control, end, asks: () => asks }
}

test('a pause holds the sun between its rounds', async () => {
  const { hand, rests } = watchedHand()
  const pool = makePool([hand])
  const pause = pausing(2)
  const scene = sceneOf(lamp)
  let done = false
  const sun = traceSun(pool, scene, lamp, 1, pause.control).then(() => {
    done = true
  })
  await rests()
  expect([done, pause.asks()]).toEqual([false, 3])
  pause.end()
  await sun
  pool.close()
})
