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
  const behind = [...past.slice(-MAX_STEPS), now]
  const ahead = [now, ...future.slice(-MAX_STEPS).toReversed()]
  return { first: behind[0]!.label, done: stepsAlong(behind), undone: stepsAlong(ahead) }
}

const stepsAlong = (states: readonly DesignState[]): StoredStep[] =>
  states.slice(1).map(({ lamp, label }, i) => ({ label, changes: changesBetween(states[i]!.lamp, lamp) }))

/** Gives the open lamp, stored under the key `of`, its history back; as far as its states are valid lamps. */
export function restoreHistory(design: Design, stored: unknown, of: string): void {
  if (!isHistory(stored) || stored.of !== of) return
  const { done, undone, first } = stored
  const labels = [first, ...done.map((s) => s.label)]
  const lamp = design.lamp()
  // The nearest first, in both.
  const past = lampsAlong(
    lamp,
    done.toReversed().map((s) => reversed(s.changes)),
  ).map((earlier, i): DesignState => ({ lamp: earlier, label: labels.at(-2 - i)! }))
  const future = lampsAlong(
    lamp,
    undone.map((s) => s.changes),
  ).map((later, i): DesignState => ({ lamp: later, label: undone[i]!.label }))
  if (past.length + future.length > 0) design.restoreSteps(past.toReversed(), labels.at(-1)!, future.toReversed())
}

/** The lamps that one list of changes after another leads to, up to the first that is none. */
function lampsAlong(from: Lamp, steps: readonly (readonly Change[])[]): Lamp[] {
  const lamps: Lamp[] = []
  for (const changes of steps) {
    const next = withChanges(lamps.at(-1) ?? from, changes)
    if (!next || !readLamp(next.value).ok) break
    lamps.push(next.value as Lamp)
  }
  return lamps
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
