// Edits from fields. Only a lamp that the schema accepts reaches the store; otherwise the reason comes back.

import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { faultText } from '../common/faultText.ts'
import { faultWords } from '../common/faultWords.ts'
import type { Design } from './design.ts'
import { unitSystem } from './unitSystem.ts'

/** Why a lamp is invalid, in the page's words, or null. */
export function lampFault(lamp: Lamp): string | null {
  const read = readLamp(lamp)
  return read.ok ? null : faultText(faultWords(read.why[0] ?? '', lamp), unitSystem())
}

/** Makes one step of history and returns null, or returns the reason why not. */
export function tryEdit(design: Design, label: string, change: (lamp: Lamp) => Lamp): string | null {
  const next = change(design.lamp())
  if (next === design.lamp()) return null
  const fault = lampFault(next)
  if (fault === null) design.edit(label, () => next)
  return fault
}

export interface CheckedDragSession {
  preview(change: (from: Lamp) => Lamp): string | null
  commit(): void
  cancel(): void
}

/** A drag session that skips invalid lamps: the last valid one stays. */
export function beginCheckedDrag(design: Design, label: string): CheckedDragSession {
  const session = design.beginDrag(label)
  const before = design.lamp()
  return {
    preview: (change) => {
      const next = change(before)
      const fault = lampFault(next)
      if (fault === null) session.preview(() => next)
      return fault
    },
    commit: session.commit,
    cancel: session.cancel,
  }
}
