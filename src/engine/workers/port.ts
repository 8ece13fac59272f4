// A worker as whoever uses it sees it: in a browser, on Node, or in this very thread. Whatever ends it, an error, an exit or a message that
// can't be read, is reported in one way. Own code, because packages for calls between threads pass messages but not a worker's end.

export interface WorkerPort<Request, Reply> {
  post(request: Request, transfer?: Transferable[]): void
  onReply(take: (reply: Reply) => void): void
  /** It answers nothing any more, for this reason. Called once. */
  onDeath(take: (why: string) => void): void
  close(): void
}

/** The other side: what a worker's own module talks to. */
export interface WorkerSide<Request, Reply> {
  onRequest(take: (request: Request) => void): void
  post(reply: Reply, transfer?: Transferable[]): void
}

/** A worker of the browser. `name` is the subject of the sentence that tells of its end. */
export function browserPort<Request, Reply>(worker: Worker, name: string): WorkerPort<Request, Reply> {
  return {
    post: (request, transfer = []) => worker.postMessage(request, transfer),
    onReply(take) {
      worker.onmessage = (event: MessageEvent<Reply>) => take(event.data)
    },
    onDeath(take) {
      const report = firstOnly(take)
      worker.onerror = (event) => report(`${name} stopped: ${event.message || 'it could not start'}.`)
      worker.onmessageerror = () => report(`${name} stopped: a message could not be read.`)
    },
    close: () => worker.terminate(),
  }
}

/** What Node's `Worker` of node:worker_threads is used for. */
export interface ThreadLike {
  postMessage(message: unknown, transfer?: readonly Transferable[]): void
  on(event: 'message', take: (message: never) => void): unknown
  on(event: 'error' | 'messageerror', take: (error: Error) => void): unknown
  on(event: 'exit', take: (code: number) => void): unknown
  terminate(): unknown
}

/** A worker thread of Node. */
export function threadPort<Request, Reply>(thread: ThreadLike, name: string): WorkerPort<Request, Reply> {
  let closed = false
  return {
    post: (request, transfer = []) => thread.postMessage(request, transfer),
    onReply: (take) => void thread.on('message', take as (message: never) => void),
    onDeath(take) {
      const report = firstOnly(take)
      thread.on('error', (error) => report(`${name} stopped: ${error.message}.`))
      thread.on('messageerror', () => report(`${name} stopped: a message could not be read.`))
      thread.on('exit', (code) => closed || report(`${name} stopped: it ended with status ${code}.`))
    },
    close() {
      closed = true
      thread.terminate()
    },
  }
}

/** Both sides in this thread, for tests and for runs without threads. Messages pass in a later task of the event loop unless `post` says else. */
export function inlinePort<Request, Reply>(
  serve: (side: WorkerSide<Request, Reply>) => void,
  later: (run: () => void) => void = (run) => void setTimeout(run, 0),
): WorkerPort<Request, Reply> {
  let takeRequest: (request: Request) => void = () => {}
  const early: Reply[] = []
  let takeReply: (reply: Reply) => void = (reply) => void early.push(reply)
  let closed = false
  serve({
    onRequest(take) {
      takeRequest = take
    },
    post: (reply) => {
      if (!closed) takeReply(reply)
    },
  })
  return {
    post: (request) => later(() => closed || takeRequest(request)),
    onReply(take) {
      takeReply = take
      for (const reply of early.splice(0)) take(reply)
    },
    onDeath() {},
    close() {
      closed = true
    },
  }
}

function firstOnly(take: (why: string) => void): (why: string) => void {
  let called = false
  return (why) => {
    if (called) return
    called = true
    take(why)
  }
}
