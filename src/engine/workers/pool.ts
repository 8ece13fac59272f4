// A pool of tracing workers. Results never depend on how many there are: a task is one chunk of one batch, traced alone. A worker that dies
// or hangs leaves its tasks to the others; when the last one has gone every task fails with `WorkerEnded` and its reason.
import { Cancelled, WorkerEnded } from '../../num/scheduler.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/aim.ts'
import { inlinePort, type WorkerPort } from './port.ts'
import {
  isFew,
  type KernelOptions,
  serveTasks,
  type TallyBuffers,
  type TraceTask,
  transferList,
  type WorkerReply,
  type WorkerRequest,
} from './protocol.ts'

/** A worker as the pool sees it, in a browser, on Node, or in this very thread. */
export type TraceWorker = WorkerPort<WorkerRequest, WorkerReply>

export interface LoadedScene {
  /** Trace indices [from, to) of a batch. Give its buffers back with `recycle` once they have been read. */
  trace(batch: number, from: number, to: number): Promise<WorkerReply>
  /** Backward rays [from, to) of a batch; these come before whatever waits, unless `idle`. Gives their sums. */
  traceBackward(aim: Aim, batch: number, from: number, to: number, idle?: boolean): Promise<Float64Array>
  /**
   * As trace; the reply's exits are the records of the rays' segments in air (run/segments.ts). These come before whatever waits: they are few rays,
   * and a search stands still until it has them.
   */
  record(batch: number, from: number, to: number): Promise<WorkerReply>
  /** Forget the scene; unanswered tasks are rejected with `Cancelled`. */
  unload(): void
}

export interface Pool {
  threads: number
  /** Nobody reads this reply of a trace any more: its buffers are used again by later ones, whatever lamp they are of. */
  recycle(reply: Recyclable): void
  load(scene: Scene, shape: TallyShape, options: KernelOptions): LoadedScene
  /** Cancel whatever still waits, of every scene: a newer lamp has come. */
  clear(): void
  close(): void
}

type Recyclable = TallyBuffers & { cells?: Uint32Array }

interface Waiting {
  /** Who ordered it: several may share what the workers hold. */
  owner: number
  task: TraceTask
  done: (reply: WorkerReply) => void
  fail: (why: Error) => void
}

interface SceneOnWorkers {
  load: number
  scene: Scene
  shape: TallyShape
  options: KernelOptions
  users: number
  /** Which of the workers hold it: each gets it with its first task of it. */
  loadedOn: Set<Member>
}

interface Member {
  port: TraceWorker
  /** Its tasks by number. */
  tasks: Map<number, Waiting>
  /** Checks since it last replied; a computer that slept has made none. */
  unanswered: number
}

const sameOptions = (a: KernelOptions, b: KernelOptions) =>
  a.seed === b.seed && a.plainRandom === b.plainRandom && a.exitsBelow === b.exitsBelow

/** Tasks given to each worker ahead, so that it never waits for the next one. */
const AHEAD = 2
const FREE_MOST = 48
/** A task takes seconds at most, also on a slow processor that others share. One that has not ended after so long never will. */
const SILENT_AFTER_MS = 120_000
const CHECK_MS = 5_000

export function makePool(workers: TraceWorker[], threads = workers.length): Pool {
  const queue: Waiting[] = []
  /** Buffers given back: of whole maps, and of sparse tallies. */
  const freeBuffers: TallyBuffers[] = []
  const freeRooms: ArrayBuffer[] = []
  const members: Member[] = workers.map((port) => ({ port, tasks: new Map(), unanswered: 0 }))
  /** Scenes in use, and how many still need each. */
  const scenes: SceneOnWorkers[] = []
  /** Why the last worker died; null while one lives. */
  let dead: string | null = null
  let nextLoad = 1
  let nextOwner = 1
  let nextTask = 1
  let checks: ReturnType<typeof setInterval> | undefined

  /** While tasks are out. */
  function watch() {
    if (members.every(({ tasks }) => tasks.size === 0)) {
      clearInterval(checks)
      checks = undefined
      return
    }
    checks ??= setInterval(() => {
      for (const member of [...members]) {
        if (member.tasks.size === 0 || ++member.unanswered * CHECK_MS < SILENT_AFTER_MS) continue
        member.port.close()
        lose(member, `A tracing worker has not answered for ${SILENT_AFTER_MS / 1000} s.`)
      }
    }, CHECK_MS)
  }

  function dispatch() {
    while (queue.length > 0) {
      let free: Member | null = null
      for (const member of members)
        if (member.tasks.size < AHEAD && (!free || member.tasks.size < free.tasks.size)) free = member
      if (!free) return
      const waiting = queue.shift()!
      const scene = scenes.find(({ load }) => load === waiting.task.load)
      if (scene && !scene.loadedOn.has(free)) {
        const { load, scene: arrays, shape, options } = scene
        free.port.post({ kind: 'load', load, scene: arrays, shape, options })
        scene.loadedOn.add(free)
      }
      if (free.tasks.size === 0) free.unanswered = 0
      free.tasks.set(waiting.task.task, waiting)
      free.port.post(waiting.task, transferList(waiting.task))
      watch()
    }
  }

  function enqueue(waiting: Waiting, first: boolean) {
    if (dead !== null) return waiting.fail(new WorkerEnded(dead))
    if (first) queue.unshift(waiting)
    else queue.push(waiting)
    dispatch()
  }

  function lose(member: Member, why: string) {
    const at = members.indexOf(member)
    if (at < 0) return
    members.splice(at, 1)
    for (const { loadedOn } of scenes) loadedOn.delete(member)
    // Its buffers are gone with it; the same task on another worker gives the same bits.
    const again = [...member.tasks.values()].map((w) => ({ ...w, task: withoutBuffers(w.task) }))
    queue.unshift(...again)
    if (members.length > 0) return dispatch()
    dead = why
    watch()
    for (const waiting of queue.splice(0)) waiting.fail(new WorkerEnded(why))
  }

  for (const member of members) {
    member.port.onReply((reply) => {
      const waiting = member.tasks.get(reply.task)
      if (!waiting) return
      member.tasks.delete(reply.task)
      member.unanswered = 0
      dispatch()
      watch()
      if (reply.failed) waiting.fail(new Error(reply.failed))
      else waiting.done(reply)
    })
    member.port.onDeath((why) => lose(member, why))
  }

  function sceneFor(scene: Scene, shape: TallyShape, options: KernelOptions): SceneOnWorkers {
    const known = scenes.find((h) => h.scene === scene && h.shape === shape && sameOptions(h.options, options))
    if (known) return known
    const made = { load: nextLoad++, scene, shape, options, users: 0, loadedOn: new Set<Member>() }
    scenes.push(made)
    return made
  }

  return {
    threads,
    load(scene, shape, options) {
      const mine = sceneFor(scene, shape, options)
      mine.users++
      const { load } = mine
      const owner = nextOwner++
      let unloaded = false
      return {
        trace: (batch, from, to) =>
          new Promise((done, fail) => {
            const few = isFew({ from, to })
            const buffers = {
              reuse: few ? null : (freeBuffers.pop() ?? null),
              room: few ? (freeRooms.pop() ?? null) : null,
            }
            const task: TraceTask = { kind: 'trace', load, task: nextTask++, batch, from, to, ...buffers }
            enqueue({ owner, task, done, fail }, false)
          }),
        traceBackward: (aim, batch, from, to, idle = false) =>
          new Promise((done, fail) => {
            const task: TraceTask = { kind: 'backward', load, task: nextTask++, aim, batch, from, to }
            enqueue({ owner, task, done: (reply) => done(reply.sums), fail }, !idle)
          }),
        record: (batch, from, to) =>
          new Promise((done, fail) => {
            const task: TraceTask = { kind: 'record', load, task: nextTask++, batch, from, to }
            enqueue({ owner, task, done, fail }, true)
          }),
        unload() {
          for (let i = queue.length - 1; i >= 0; i--) {
            if (queue[i]!.owner !== owner) continue
            queue[i]!.fail(new Cancelled())
            queue.splice(i, 1)
          }
          if (unloaded) return
          unloaded = true
          if (--mine.users > 0) return
          scenes.splice(scenes.indexOf(mine), 1)
          for (const member of mine.loadedOn) member.port.post({ kind: 'unload', load })
        },
      }
    },
    recycle({ sums, maps, cells }) {
      if (cells) {
        if (freeRooms.length < FREE_MOST) freeRooms.push(maps.buffer as ArrayBuffer)
      } else if (freeBuffers.length < FREE_MOST) freeBuffers.push({ sums, maps })
    },
    clear() {
      for (const waiting of queue.splice(0)) waiting.fail(new Cancelled())
    },
    close() {
      clearInterval(checks)
      for (const { port } of members) port.close()
    },
  }
}

const withoutBuffers = (task: TraceTask): TraceTask =>
  task.kind === 'trace' ? { ...task, reuse: null, room: null } : task

/** A worker in this thread: for tests and for `--threads 0`. Replies come in a later task of the event loop. */
export const inlineWorker = (later?: (run: () => void) => void): TraceWorker => inlinePort(serveTasks, later)
