import { expect, test } from 'vitest'
import {
  Cancelled,
  makeNewest,
  makePause,
  makeScheduler,
  runTimeSliced,
  runToEnd,
  type TimeSliced,
  whenAborted,
} from '../../src/num/scheduler.ts'

function* countTo(n: number): TimeSliced<number> {
  for (let i = 0; i < n; i++) yield
  return n
}

test('the same work gives the same result at once and in slices', async () => {
  expect(runToEnd(countTo(5))).toBe(5)
  let checkpoints = 0
  const checkpoint = async () => void checkpoints++
  expect(await runTimeSliced(countTo(5), checkpoint, 0)).toBe(5)
  expect(checkpoints).toBe(5)
})

test('work inside its slice meets no checkpoint', async () => {
  let checkpoints = 0
  expect(await runTimeSliced(countTo(5), async () => void checkpoints++, 1e9)).toBe(5)
  expect(checkpoints).toBe(0)
})

test('a checkpoint lets other tasks in, then throws once the signal is aborted', async () => {
  const control = new AbortController()
  const order: string[] = []
  const nextTask = async () => void order.push('task')
  const scheduler = makeScheduler(control.signal, { nextTask })
  await scheduler.checkpoint()
  control.abort()
  await expect(scheduler.checkpoint()).rejects.toThrow(Cancelled)
  expect(order).toEqual(['task', 'task'])
})

test('work in hand is ended at its next checkpoint', async () => {
  const control = new AbortController()
  let steps = 0
  function* work(): TimeSliced<void> {
    for (;;) {
      const until = performance.now() + 10 // longer than a slice
      while (performance.now() < until);
      if (++steps === 2) control.abort()
      yield
    }
  }
  await expect(makeScheduler(control.signal).run(work())).rejects.toThrow(Cancelled)
  expect(steps).toBe(2)
})

test('a pause holds every scheduler of it and counts as paused; one that is cancelled meanwhile ends', async () => {
  const pause = makePause()
  const control = new AbortController()
  const [one, two] = [makeScheduler(undefined, { pause }), makeScheduler(control.signal, { pause })]
  await one.checkpoint()
  expect(one.pausedMs()).toBe(0)
  pause.pause()
  const passed: string[] = []
  const held = one.checkpoint().then(() => passed.push('one'))
  const dropped = two.checkpoint()
  dropped.catch(() => {})
  for (let i = 0; i < 5; i++) await new Promise((next) => setImmediate(next))
  expect(passed).toEqual([])
  control.abort()
  await expect(dropped).rejects.toThrow(Cancelled)
  expect(passed).toEqual([])
  pause.resume()
  await held
  expect(passed).toEqual(['one'])
  expect(one.pausedMs()).toBeGreaterThan(0)
})

test('resumed and paused again before it goes on, it stays held', async () => {
  const pause = makePause()
  pause.pause()
  let gone = false
  const ended = pause.ended().then(() => {
    gone = true
  })
  pause.resume()
  pause.pause()
  for (let i = 0; i < 5; i++) await new Promise((next) => setImmediate(next))
  expect(gone).toBe(false)
  pause.resume()
  await ended
})

test('each start of the newest cancels the one before', async () => {
  const newest = makeNewest()
  const one = newest.start()
  const ended = whenAborted(one)
  const two = newest.start()
  await ended
  expect([one.aborted, two.aborted]).toEqual([true, false])
  newest.cancel()
  expect(two.aborted).toBe(true)
  await whenAborted(two)
})
