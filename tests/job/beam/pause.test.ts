import { expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { traceSun } from '../../../src/job/beam/sun.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import { Cancelled, makeScheduler } from '../../../src/num/scheduler.ts'
import { sceneOf } from '../../kit/traceHere.ts'

const lamp = { ...DEMOS['stile-lamp']!(), reading: { ...DEMOS['stile-lamp']!().reading, sunTiltDeg: 0 } }

test('a pause holds the sun between its rounds; a cancellation ends it there', async () => {
  const pool = makePool([inlineWorker()])
  const control = new AbortController()
  let checkpoints = 0
  let held: () => void = () => {}
  const isHeld = new Promise<void>((done) => {
    held = done
  })
  const scheduler = makeScheduler(control.signal, {
    pause: {
      pause() {},
      resume() {},
      isPaused: () => ++checkpoints > 2,
      ended: () => {
        held()
        return new Promise<void>(() => {})
      },
    },
  })
  let ended = false
  const sun = traceSun(pool, sceneOf(lamp), lamp, scheduler, { seed: 1 })
  const settled = sun.finally(() => {
    ended = true
  })
  settled.catch(() => {})
  await isHeld
  // Whatever the pool still has goes on; the sun's next round must not begin.
  for (let i = 0; i < 20; i++) await new Promise((next) => setImmediate(next))
  expect([ended, checkpoints]).toEqual([false, 3])
  control.abort()
  await expect(settled).rejects.toThrow(Cancelled)
  expect(checkpoints).toBe(3)
  pool.close()
})
