// The end of the current task of the event loop, so that messages that have come meanwhile are handled first. Timers would wait 4 ms each.

/** A function that resolves in a later task of this thread's event loop. Made once a thread: a browser's channel stays open. */
export function makeNextTask(): () => Promise<void> {
  if (typeof setImmediate === 'function') return () => new Promise((next) => setImmediate(next))
  const { port1, port2 } = new MessageChannel()
  const waiting: (() => void)[] = []
  port1.onmessage = () => waiting.shift()?.()
  return () =>
    new Promise((next) => {
      waiting.push(next)
      port2.postMessage(null)
    })
}
