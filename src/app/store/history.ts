// The history of a lamp as it is stored: not fifty lamps, but the changes between them.
import { type Change, changesBetween, reversed, withChanges } from '../../lamp/changes.ts'
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design, DesignState } from './design.ts'

/** Each way. */
const MAX_STEPS = 50

interface StoredStep {
  /** Of the edit that made the state after it. */
  label: string
  changes: readonly Change[]
}

export interface StoredHistory {
  /** Key of the stored state that it belongs to. */
  of: string
  /** Label of the oldest state. */
  first: string
  /** Oldest first. */
  done: readonly StoredStep[]
  /** The next to redo first. */
  undone: readonly StoredStep[]
}

/** Without the state that it belongs to. */
type Steps = Omit<StoredHistory, 'of'>

/** A lamp after an edit. */
export interface Edited {
  lamp: Lamp
  /** Of the edit. */
  label: string
  /** Milliseconds since 1970. */
  at: number
  /** Absent where nobody can go back from it. */
  steps?: Steps
}

export const historyKey = (id: string) => `history:${id}`

/** Of the open lamp. */
export function historyOf(design: Design): Steps {
  const { past, future } = design.steps()
  const now = design.store.getState()
  const [first = now, ...later] = [...past.slice(-MAX_STEPS), now]
  const undone = stepsAlong(now, future.slice(-MAX_STEPS).toReversed())
  return { first: first.label, done: stepsAlong(first, later), undone }
}

function stepsAlong(from: DesignState, states: readonly DesignState[]): StoredStep[] {
  let before = from
  return states.map((state) => {
    const changes = changesBetween(before.lamp, state.lamp)
    before = state
    return { label: state.label, changes }
  })
}

/** Gives the open lamp, stored under the key `of`, its history back; as far as its states are valid lamps. */
export function restoreHistory(design: Design, stored: unknown, of: string): void {
  if (!isHistory(stored) || stored.of !== of) return
  const { done, undone, first } = stored
  // A step back leads to the state that the step before it has made, or to the first.
  const back = done.map(({ changes }, i) => ({ changes: reversed(changes), label: done[i - 1]?.label ?? first }))
  const past = statesAlong(design.lamp(), back.toReversed())
  const future = statesAlong(design.lamp(), undone)
  if (past.length + future.length > 0)
    design.restoreSteps(past.toReversed(), done.at(-1)?.label ?? first, future.toReversed())
}

/** The states that the steps lead to, one after another, up to the first that is no lamp. */
function statesAlong(from: Lamp, steps: readonly StoredStep[]): DesignState[] {
  const states: DesignState[] = []
  let lamp = from
  for (const { label, changes } of steps) {
    const next = withChanges(lamp, changes)
    if (!next || !readLamp(next.value).ok) break
    lamp = next.value as Lamp
    states.push({ lamp, label })
  }
  return states
}

export function isHistory(value: unknown): value is StoredHistory {
  const v = value as StoredHistory | null | undefined
  return (
    typeof v?.of === 'string' &&
    typeof v.first === 'string' &&
    [v.done, v.undone].every((s) => Array.isArray(s) && s.every(isStep))
  )
}

const isStep = (value: unknown): value is StoredStep => {
  const v = value as StoredStep | null | undefined
  return typeof v?.label === 'string' && Array.isArray(v.changes) && v.changes.every((c) => Array.isArray(c?.at))
}
