// Calls to a worker: one protocol for every job. A call has arguments, events on the way, a result, an `AbortSignal`; the worker's death and its
// silence end every call that waits.
import { Cancelled, WorkerEnded } from '../../num/scheduler.ts'
import type { WorkerPort, WorkerSide } from './port.ts'

/** What a method takes, reports on the way, and gives. */
interface Signature {
  args: unknown
  event: unknown
  result: unknown
}
export type Signatures = { [method: string]: Signature }

interface CallContext<Event> {
  /** Aborted when the caller no longer waits. */
  signal: AbortSignal
  emit(event: Event): void
  /** Buffers that are moved with the result instead of copied. */
  transfer(buffers: Transferable[]): void
}

/** The worker's side: a function a method. A thrown `Cancelled` is passed on as such. */
export type Handlers<S extends Signatures> = {
  [M in keyof S]: (args: S[M]['args'], context: CallContext<S[M]['event']>) => S[M]['result'] | Promise<S[M]['result']>
}

export type CallRequest =
  | { kind: 'call'; id: number; method: string; args: unknown }
  | { kind: 'cancel'; id: number }
  | { kind: 'ping' }
export type CallReply =
  | { kind: 'started' }
  | { kind: 'pong' }
  | { kind: 'event'; id: number; event: unknown }
  | { kind: 'result'; id: number; result: unknown }
  /** `name`: the error's own. `ended`: it is the worker that can't go on (its own workers have died), not the call. */
  | { kind: 'failed'; id: number; why: string; name?: string; cancelled: boolean; ended?: boolean }

interface CallOptions<Event> {
  signal?: AbortSignal | undefined
  onEvent?: ((event: Event) => void) | undefined
  transfer?: Transferable[]
}

export interface Client<S extends Signatures> {
  /**
   * Rejects with the worker's own words when the handler throws; with `WorkerEnded` when the worker dies and when it falls silent. An aborted signal
   * asks the worker to stop; the call settles when the worker has done so, and events that come until then are passed on.
   */
  call<M extends keyof S & string>(
    method: M,
    args: S[M]['args'],
    options?: CallOptions<S[M]['event']>,
  ): Promise<S[M]['result']>
  /** True once the worker has begun to take calls, and while it lives. */
  alive(): boolean
  /** Called when `alive` changes. */
  onChange(take: () => void): void
  /** Called once when the worker dies or falls silent, before its calls reject; not after `close`. */
  onEnd(take: (why: string) => void): void
  close(): void
}

interface Pending {
  done(result: unknown): void
  fail(why: Error): void
  onEvent(event: unknown): void
}

/** A worker that answers no ping for so long, while this thread's own timers run, has hung. */
const SILENT_AFTER_MS = 30_000
const PING_MS = 2_000

export function makeClient<S extends Signatures>(
  port: WorkerPort<CallRequest, CallReply>,
  name: string,
  silentAfterMs = SILENT_AFTER_MS,
): Client<S> {
  const pending = new Map<number, Pending>()
  const watchers: (() => void)[] = []
  const endWatchers: ((why: string) => void)[] = []
  let nextId = 1
  let alive = false
  let dead: string | null = null
  /** Pings that were sent since the worker was last heard; a computer that slept has sent none. */
  let unanswered = 0
  let timer: ReturnType<typeof setInterval> | undefined

  const tellChange = () => {
    for (const take of watchers) take()
  }

  function end(why: string, error: Error): void {
    if (dead !== null) return
    dead = why
    alive = false
    clearInterval(timer)
    timer = undefined
    for (const { fail } of pending.values()) fail(error)
    pending.clear()
    tellChange()
  }
  function die(why: string): void {
    if (dead !== null) return
    end(why, new WorkerEnded(why))
    port.close() // after an uncaught error a browser's worker goes on
    for (const take of endWatchers) take(why)
  }

  function watch(): void {
    if (pending.size === 0) {
      clearInterval(timer)
      timer = undefined
      return
    }
    timer ??= setInterval(() => {
      if (unanswered * PING_MS >= silentAfterMs) {
        die(`${name} has not answered for ${Math.round(silentAfterMs / 1000)} s.`)
        return
      }
      unanswered++
      port.post({ kind: 'ping' })
    }, PING_MS)
  }

  port.onDeath(die)
  port.onReply((reply) => {
    unanswered = 0
    if (reply.kind === 'pong') return
    if (reply.kind === 'started') {
      alive = true
      tellChange()
      return
    }
    const call = pending.get(reply.id)
    if (!call) return
    if (reply.kind === 'failed' && reply.ended) return die(reply.why)
    if (reply.kind === 'event') return call.onEvent(reply.event)
    pending.delete(reply.id)
    watch()
    if (reply.kind === 'result') call.done(reply.result)
    else
      call.fail(
        reply.cancelled ? new Cancelled() : Object.assign(new Error(reply.why), { name: reply.name ?? 'Error' }),
      )
  })

  return {
    call(method, args, { signal, onEvent, transfer } = {}) {
      if (dead !== null) return Promise.reject(new WorkerEnded(dead))
      const id = nextId++
      const result = new Promise<never>((done, fail) => {
        pending.set(id, {
          done: done as (result: unknown) => void,
          fail,
          onEvent: (onEvent as ((event: unknown) => void) | undefined) ?? (() => {}),
        })
      })
      port.post({ kind: 'call', id, method, args }, transfer)
      unanswered = 0
      watch()
      const cancel = () => pending.has(id) && port.post({ kind: 'cancel', id })
      if (signal?.aborted) cancel()
      else if (signal) {
        signal.addEventListener('abort', cancel, { once: true })
        // A signal may outlive many calls.
        const forget = () => signal.removeEventListener('abort', cancel)
        result.then(forget, forget)
      }
      return result
    },
    alive: () => alive,
    onChange: (take) => void watchers.push(take),
    onEnd: (take) => void endWatchers.push(take),
    close() {
      end(`${name} was closed.`, new Cancelled())
      port.close()
    },
  }
}

/** The worker's side of the protocol. */
export function serveCalls<S extends Signatures>(
  side: WorkerSide<CallRequest, CallReply>,
  handlers: Handlers<S>,
): void {
  const running = new Map<number, AbortController>()
  side.onRequest((request) => {
    if (request.kind === 'ping') return side.post({ kind: 'pong' })
    if (request.kind === 'cancel') return running.get(request.id)?.abort(new Cancelled())
    void answer(request)
  })
  side.post({ kind: 'started' })

  async function answer({ id, method, args }: CallRequest & { kind: 'call' }): Promise<void> {
    const control = new AbortController()
    running.set(id, control)
    let moved: Transferable[] = []
    try {
      const handler = handlers[method]
      if (!handler) throw new Error(`no method ${method}`)
      const result = await handler(args, {
        signal: control.signal,
        emit: (event) => side.post({ kind: 'event', id, event }),
        transfer: (buffers) => {
          moved = buffers
        },
      })
      side.post({ kind: 'result', id, result }, moved)
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error)
      const ended = error instanceof WorkerEnded
      const name = error instanceof Error ? error.name : 'Error'
      side.post({ kind: 'failed', id, why, name, cancelled: error instanceof Cancelled, ended })
    } finally {
      running.delete(id)
    }
  }
}
