// A pool of tracing workers. Results never depend on how many there are: a task is one chunk of one batch, traced alone.
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/estimator.ts'
import {
  type KernelOptions,
  makeTaskRunner,
  type TallyBuffers,
  type TraceTask,
  type WorkerReply,
  type WorkerRequest,
} from './protocol.ts'

/** A worker as the pool sees it, in a browser, on Node, or in this very thread. */
export interface TraceWorker {
  post(order: WorkerRequest): void
  onAnswer(take: (answer: WorkerReply) => void): void
  close(): void
}

export interface LoadedScene {
  /** Trace indices [from, to) of a batch. Give the buffers of whole maps back with `done` once they have been read. */
  trace(batch: number, from: number, to: number): Promise<WorkerReply>
  /** Backward rays [from, to) of a batch; these come before whatever waits, unless `idle`. Gives their sums. */
  traceBackward(aim: Aim, batch: number, from: number, to: number, idle?: boolean): Promise<Float64Array>
  recycle(used: TallyBuffers): void
  /** Forget the scene; unanswered tasks are rejected with `Cancelled`. */
  unload(): void
}

export interface Pool {
  threads: number
  load(scene: Scene, shape: TallyShape, options: KernelOptions): LoadedScene
  /** Drop whatever still waits, of every scene: a newer lamp has come. */
  clear(): void
  close(): void
}

/** Thrown into tasks whose scene was dropped: not a failure, an edit came. */
export class Cancelled extends Error {}

interface Waiting {
  /** Who ordered it: several may share what the workers hold. */
  owner: number
  order: TraceTask
  done: (answer: WorkerReply) => void
  fail: (why: Error) => void
}

interface SceneOnWorkers {
  load: number
  scene: Scene
  shape: TallyShape
  options: KernelOptions
  users: number
  /** Which of the workers hold it: each is told with its first order of it. */
  loadedOn: Set<number>
}

const sameOptions = (a: KernelOptions, b: KernelOptions) =>
  a.seed === b.seed && a.plainRandom === b.plainRandom && a.exitsBelow === b.exitsBelow

/** Orders kept with each worker, so that it never waits for the next one. */
const AHEAD = 2
const FREE_MOST = 48

export function makePool(workers: TraceWorker[], threads = workers.length): Pool {
  const queue: Waiting[] = []
  /** Buffers given back: the next runs use them again, whatever lamp they are of. */
  const freeBuffers: TallyBuffers[] = []
  const atWork = new Map<number, { waiting: Waiting; dispatch: number }>()
  const busy = workers.map(() => 0)
  /** Scenes in hand, and how many still need each. */
  const scenes: SceneOnWorkers[] = []
  let nextLoad = 1
  let nextOwner = 1
  let nextTask = 1

  function hand() {
    for (;;) {
      let free = -1
      for (let i = 0; i < workers.length; i++) if (busy[i]! < AHEAD && (free < 0 || busy[i]! < busy[free]!)) free = i
      if (free < 0 || queue.length === 0) return
      const waiting = queue.shift()!
      busy[free]!++
      const mine = scenes.find(({ load }) => load === waiting.order.load)
      if (mine && !mine.loadedOn.has(free)) {
        const { load, scene, shape, options } = mine
        workers[free]!.post({ kind: 'load', load, scene, shape, options })
        mine.loadedOn.add(free)
      }
      atWork.set(waiting.order.task, { waiting, dispatch: free })
      workers[free]!.post(waiting.order)
    }
  }

  for (const h of workers) {
    h.onAnswer((answer) => {
      const job = atWork.get(answer.task)
      if (!job) return
      atWork.delete(answer.task)
      busy[job.dispatch]!--
      hand()
      if (answer.failed) job.waiting.fail(new Error(answer.failed))
      else job.waiting.done(answer)
    })
  }

  function sceneFor(scene: Scene, shape: TallyShape, options: KernelOptions): SceneOnWorkers {
    const known = scenes.find((h) => h.scene === scene && h.shape === shape && sameOptions(h.options, options))
    if (known) return known
    scenes.push({ load: nextLoad++, scene, shape, options, users: 0, loadedOn: new Set() })
    return scenes.at(-1)!
  }

  return {
    threads,
    load(scene, shape, options) {
      const mine = sceneFor(scene, shape, options)
      mine.users++
      const { load } = mine
      const owner = nextOwner++
      let dropped = false
      return {
        trace: (batch, from, to) =>
          new Promise((done, fail) => {
            queue.push({
              owner,
              order: { kind: 'trace', load, task: nextTask++, batch, from, to, reuse: freeBuffers.pop() ?? null },
              done,
              fail,
            })
            hand()
          }),
        traceBackward: (aim, batch, from, to, idle = false) =>
          new Promise((done, fail) => {
            const order: TraceTask = { kind: 'look', load, task: nextTask++, aim, batch, from, to }
            const waiting: Waiting = { owner, order, done: (answer) => done(answer.sums), fail }
            if (idle) queue.push(waiting)
            else queue.unshift(waiting)
            hand()
          }),
        recycle(used) {
          if (freeBuffers.length < FREE_MOST) freeBuffers.push({ sums: used.sums, maps: used.maps })
        },
        unload() {
          for (let i = queue.length - 1; i >= 0; i--) {
            if (queue[i]!.owner !== owner) continue
            queue[i]!.fail(new Cancelled())
            queue.splice(i, 1)
          }
          if (dropped) return
          dropped = true
          if (--mine.users > 0) return
          scenes.splice(scenes.indexOf(mine), 1)
          for (const at of mine.loadedOn) workers[at]!.post({ kind: 'drop', load })
        },
      }
    },
    clear() {
      for (const waiting of queue.splice(0)) waiting.fail(new Cancelled())
    },
    close() {
      for (const h of workers) h.close()
    },
  }
}

/** A hand in this thread: for tests and for `--threads 0`. Answers come in a later turn of the event loop. */
export function inlineWorker(): TraceWorker {
  const carryOut = makeTaskRunner()
  let take: (answer: WorkerReply) => void = () => {}
  return {
    post(order) {
      setTimeout(() => {
        const answer = carryOut(order)
        if (answer) take(answer)
      }, 0)
    },
    onAnswer(f) {
      take = f
    },
    close() {},
  }
}
