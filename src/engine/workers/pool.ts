// A pool of tracing workers. Results never depend on how many there are: a task is one stretch of one batch, traced alone.
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/estimator.ts'
import { type Answer, type KernelOptions, makeWorkshop, type Order, type TaskOrder, type Used } from './protocol.ts'

/** A worker as the pool sees it, in a browser, on Node, or in this very thread. */
export interface Hand {
  post(order: Order): void
  onAnswer(take: (answer: Answer) => void): void
  close(): void
}

export interface Loaded {
  /** Trace indices [from, to) of a batch. Give the buffers of whole maps back with `done` once they have been read. */
  trace(batch: number, from: number, to: number): Promise<Answer>
  /** Backward rays [from, to) of a batch; these come before whatever waits, unless `idle`. Gives their sums. */
  look(aim: Aim, batch: number, from: number, to: number, idle?: boolean): Promise<Float64Array>
  done(used: Used): void
  /** Forget the scene; unanswered tasks are rejected with `Dropped`. */
  drop(): void
}

export interface Pool {
  threads: number
  load(scene: Scene, shape: TallyShape, options: KernelOptions): Loaded
  /** Drop whatever still waits, of every scene: a newer lamp has come. */
  clear(): void
  close(): void
}

/** Thrown into tasks whose scene was dropped: not a failure, an edit came. */
export class Dropped extends Error {}

interface Waiting {
  /** Who ordered it: several may share what the workers hold. */
  owner: number
  order: TaskOrder
  done: (answer: Answer) => void
  fail: (why: Error) => void
}

interface Held {
  load: number
  scene: Scene
  shape: TallyShape
  options: KernelOptions
  users: number
  /** Which of the workers hold it: each is told with its first order of it. */
  told: Set<number>
}

const sameOptions = (a: KernelOptions, b: KernelOptions) =>
  a.seed === b.seed && a.plainRandom === b.plainRandom && a.exitsBelow === b.exitsBelow

/** Orders kept with each worker, so that it never waits for the next one. */
const AHEAD = 2
const SPARE_MOST = 48

export function makePool(hands: Hand[], threads = hands.length): Pool {
  const queue: Waiting[] = []
  /** Buffers given back: the next runs use them again, whatever lamp they are of. */
  const spare: Used[] = []
  const atWork = new Map<number, { waiting: Waiting; hand: number }>()
  const busy = hands.map(() => 0)
  /** Scenes in hand, and how many still need each. */
  const held: Held[] = []
  let nextLoad = 1
  let nextOwner = 1
  let nextTask = 1

  function hand() {
    for (;;) {
      let free = -1
      for (let i = 0; i < hands.length; i++) if (busy[i]! < AHEAD && (free < 0 || busy[i]! < busy[free]!)) free = i
      if (free < 0 || queue.length === 0) return
      const waiting = queue.shift()!
      busy[free]!++
      const mine = held.find(({ load }) => load === waiting.order.load)
      if (mine && !mine.told.has(free)) {
        const { load, scene, shape, options } = mine
        hands[free]!.post({ kind: 'load', load, scene, shape, options })
        mine.told.add(free)
      }
      atWork.set(waiting.order.task, { waiting, hand: free })
      hands[free]!.post(waiting.order)
    }
  }

  for (const h of hands) {
    h.onAnswer((answer) => {
      const job = atWork.get(answer.task)
      if (!job) return
      atWork.delete(answer.task)
      busy[job.hand]!--
      hand()
      if (answer.failed) job.waiting.fail(new Error(answer.failed))
      else job.waiting.done(answer)
    })
  }

  function hold(scene: Scene, shape: TallyShape, options: KernelOptions): Held {
    const known = held.find((h) => h.scene === scene && h.shape === shape && sameOptions(h.options, options))
    if (known) return known
    held.push({ load: nextLoad++, scene, shape, options, users: 0, told: new Set() })
    return held.at(-1)!
  }

  return {
    threads,
    load(scene, shape, options) {
      const mine = hold(scene, shape, options)
      mine.users++
      const { load } = mine
      const owner = nextOwner++
      let dropped = false
      return {
        trace: (batch, from, to) =>
          new Promise((done, fail) => {
            queue.push({
              owner,
              order: { kind: 'trace', load, task: nextTask++, batch, from, to, used: spare.pop() ?? null },
              done,
              fail,
            })
            hand()
          }),
        look: (aim, batch, from, to, idle = false) =>
          new Promise((done, fail) => {
            const order: TaskOrder = { kind: 'look', load, task: nextTask++, aim, batch, from, to }
            const waiting: Waiting = { owner, order, done: (answer) => done(answer.sums), fail }
            if (idle) queue.push(waiting)
            else queue.unshift(waiting)
            hand()
          }),
        done(used) {
          if (spare.length < SPARE_MOST) spare.push({ sums: used.sums, maps: used.maps })
        },
        drop() {
          for (let i = queue.length - 1; i >= 0; i--) {
            if (queue[i]!.owner !== owner) continue
            queue[i]!.fail(new Dropped())
            queue.splice(i, 1)
          }
          if (dropped) return
          dropped = true
          if (--mine.users > 0) return
          held.splice(held.indexOf(mine), 1)
          for (const at of mine.told) hands[at]!.post({ kind: 'drop', load })
        },
      }
    },
    clear() {
      for (const waiting of queue.splice(0)) waiting.fail(new Dropped())
    },
    close() {
      for (const h of hands) h.close()
    },
  }
}

/** A hand in this thread: for tests and for `--threads 0`. Answers come in a later turn of the event loop. */
export function hereHand(): Hand {
  const carryOut = makeWorkshop()
  let take: (answer: Answer) => void = () => {}
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
