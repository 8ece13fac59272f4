// States of the open lamp that may stand beside it: before each of its last edits, and in its other modes.
import { changesBetween } from '../../../lamp/changes.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import { changeWords, withValues } from '../../common/changeWords.ts'

/** A lamp to compare with. */
export interface Beside {
  key: string
  /** In the menu. */
  words: string
  lamp: Lamp
  /** Under its name. */
  from: string
}

interface Step {
  lamp: Lamp
  /** Of the edit that made it. */
  label: string
}

/** Longer lists are no help; older states are stored. */
const MOST_STEPS = 8

/** The lamp before each of its last edits, newest first: “before: Boards: current 2 → 1.5 A”. */
export function stepsBefore(design: { steps(): { past: readonly Step[] }; store: { getState(): Step } }): Beside[] {
  const states = [...design.steps().past, design.store.getState()]
  return states
    .flatMap(({ label, lamp }, i) => {
      const before = states[i - 1]
      if (!before) return []
      const words = withValues(label, changeWords(changesBetween(before.lamp, lamp)))
      return [{ key: `before ${i}`, words, lamp: before.lamp, from: `before: ${words}` }]
    })
    .slice(-MOST_STEPS)
    .toReversed()
}

/** After its end a mode has the light of its end. */
const AT_END_S = 1e7

/** The lamp with its beam traced in the light of each of its modes, as switched on and as it ends; but not as it is now. */
export function modesOf(lamp: Lamp): Beside[] {
  return (lamp.power?.modes ?? []).flatMap(({ id, name }) =>
    ([0, AT_END_S] as const).flatMap((seconds) => {
      const { heat } = lamp
      if (heat.kind === 'mode' && heat.mode === id && heat.seconds === seconds) return []
      const when = seconds === 0 ? 'as switched on' : 'when it ends'
      const words = `${name}, ${when}`
      return [
        {
          key: `mode ${id} ${seconds}`,
          words,
          lamp: { ...lamp, heat: { kind: 'mode' as const, mode: id, seconds } },
          from: `in the light of “${name}”, ${when}`,
        },
      ]
    }),
  )
}
