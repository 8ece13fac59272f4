// A worker that is started again when it ends. Its calls go on: each is repeated on the new worker. Every service of the page uses this one.
import {
  type CallReply,
  type CallRequest,
  type Client,
  makeClient,
  type Signatures,
} from '../../engine/workers/calls.ts'
import type { WorkerPort } from '../../engine/workers/port.ts'
import { Cancelled, WorkerEnded } from '../../num/scheduler.ts'

/** What keeps a call from its result. */
export interface Trouble {
  /** In plain words, a whole sentence. */
  why: string
  /** The worker is started again by itself; false: only `again` starts it. */
  restarts: boolean
  /** It is the lamp that can't be traced: to try again gives the same. */
  ofLamp?: boolean
}

export interface RestartingOptions<S extends Signatures> {
  /** The subject of the sentences that report its end. */
  name: string
  /** The method whose result shows that the worker is well: the count of restarts begins anew. */
  work: keyof S & string
  silentAfterMs?: number
  /** Makes the calls that each new worker needs before any other. */
  onOpen?(client: Client<S>): void
  /** A call waits for a worker that has ended. Calls that no longer wait reject with their reason. */
  onTrouble?(trouble: Trouble): void
}

export interface Restarting<S extends Signatures> extends Pick<Client<S>, 'call' | 'alive' | 'onChange' | 'close'> {
  /** Starts the worker at once, also after the last of its own restarts. */
  again(): void
}

/** Waits before a worker is started again: one restart for each. */
export const RESTART_WAITS_MS: readonly number[] = [1_000, 5_000, 20_000]

interface Order<S extends Signatures> {
  send(to: Client<S>): Promise<unknown>
  signal: AbortSignal | undefined
  work: boolean
  /** What was moved to the worker is gone with it. */
  once: boolean
  repeated: boolean
  done(result: never): void
  fail(why: Error): void
}

/**
 * A call rejects with `WorkerEnded` once the restarts are used up, and when its buffers have gone with the worker; with the handler's own error
 * when the handler has thrown twice: that is a fault of this one input, for which no worker is started again.
 */
export function makeRestarting<S extends Signatures>(
  open: () => WorkerPort<CallRequest, CallReply>,
  { name, work, silentAfterMs, onOpen, onTrouble }: RestartingOptions<S>,
): Restarting<S> {
  const orders = new Set<Order<S>>()
  const watchers: (() => void)[] = []
  let client: Client<S> | null = null
  /** Why there is no worker. */
  let ended = ''
  let restarts = 0
  let timer: ReturnType<typeof setTimeout> | undefined
  let state: 'runs' | 'waits' | 'given up' | 'closed' = 'runs'

  function start() {
    clearTimeout(timer)
    state = 'runs'
    let port: WorkerPort<CallRequest, CallReply>
    try {
      port = open()
    } catch (error) {
      return lose(`${name} could not start: ${error instanceof Error ? error.message : String(error)}.`)
    }
    const made = makeClient<S>(port, name, silentAfterMs)
    client = made
    made.onChange(() => watchers.forEach((take) => void take()))
    made.onEnd(lose)
    onOpen?.(made)
    for (const order of [...orders]) send(made, order)
  }

  function failAll(which: (order: Order<S>) => boolean, error: Error) {
    for (const order of [...orders]) if (which(order) && orders.delete(order)) order.fail(error)
  }

  function lose(why: string) {
    client = null
    ended = why
    failAll((order) => order.signal?.aborted ?? false, new Cancelled())
    failAll((order) => order.once, new WorkerEnded(why))
    const waitMs = RESTART_WAITS_MS[restarts]
    if (waitMs === undefined) {
      state = 'given up'
      return failAll(() => true, new WorkerEnded(why))
    }
    restarts++
    state = 'waits'
    timer = setTimeout(start, waitMs)
    if (orders.size > 0) onTrouble?.({ why, restarts: true })
  }

  function send(to: Client<S>, order: Order<S>) {
    order.send(to).then(
      (result) => {
        if (!orders.delete(order)) return
        if (order.work) restarts = 0
        order.done(result as never)
      },
      (error: Error) => {
        // `lose` has seen to it: the order waits for the next worker, or has failed.
        if (error instanceof WorkerEnded || !orders.has(order)) return
        if (error instanceof Cancelled || order.repeated || order.once) {
          orders.delete(order)
          order.fail(error)
        } else {
          order.repeated = true
          send(to, order)
        }
      },
    )
  }

  start()
  return {
    call(method, args, options = {}) {
      if (state === 'closed') return Promise.reject(new Error(`${name} was closed.`))
      if (state === 'given up') return Promise.reject(new WorkerEnded(ended))
      const { signal } = options
      let drop = () => {}
      const result = new Promise<never>((done, fail) => {
        const order: Order<S> = {
          send: (to) => to.call(method, args, options),
          signal,
          work: method === work,
          once: (options.transfer?.length ?? 0) > 0,
          repeated: false,
          done,
          fail,
        }
        orders.add(order)
        drop = () => void (!client && orders.delete(order) && fail(new Cancelled()))
        signal?.addEventListener('abort', drop, { once: true })
        if (client) send(client, order)
        else if (signal?.aborted) drop()
        else onTrouble?.({ why: ended, restarts: true })
      })
      const forget = () => signal?.removeEventListener('abort', drop)
      result.then(forget, forget)
      return result
    },
    alive: () => client?.alive() ?? false,
    onChange: (take) => void watchers.push(take),
    again() {
      if (state !== 'waits' && state !== 'given up') return
      restarts = 0
      start()
    },
    close() {
      state = 'closed'
      clearTimeout(timer)
      client?.close()
      client = null
      failAll(() => true, new Cancelled())
    },
  }
}
