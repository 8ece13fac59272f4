// Edits from fields: only what a lamp file could hold reaches the store; everything else is refused in words.
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from './design.ts'

/** Why a lamp can't stand, or null. */
export function lampFault(lamp: Lamp): string | null {
  const read = readLamp(lamp)
  return read.ok ? null : read.why[0]!
}

/** One step of history, or the reason why not. */
export function tryEdit(design: Design, label: string, change: (lamp: Lamp) => Lamp): string | null {
  const next = change(design.lamp())
  if (next === design.lamp()) return null
  const fault = lampFault(next)
  if (fault === null) design.edit(label, () => next)
  return fault
}

export interface TryHold {
  show(change: (from: Lamp) => Lamp): string | null
  drop(): void
  cancel(): void
}

/** A held edit; a value that can't stand is not shown and the last good one stays. */
export function tryHold(design: Design, label: string): TryHold {
  const held = design.hold(label)
  const before = design.lamp()
  return {
    show: (change) => {
      const next = change(before)
      const fault = lampFault(next)
      if (fault === null) held.show(() => next)
      return fault
    },
    drop: held.drop,
    cancel: held.cancel,
  }
}
