// Actions as data: shortcuts, buttons, the key sheet and the tests read one list.
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import type { View } from '../store/view.ts'

/** What an action may use. */
export interface Page {
  design: Design
  view: View
  result: Result
  files: { open(): void; save(): void }
  trace: { pause(): void; resume(): void }
  help(): void
  search(): void
}

export interface Action {
  /** Never changes; no spaces. */
  id: string
  /** What it does, as on the key sheet; sizes in it in both systems of units (num/quantity.ts). */
  label: string
  /** Actions with the same value share one line of the key sheet. */
  sharedLabel?: string
  /** Heading on the key sheet. */
  group: 'Lamp' | 'Views' | 'Trace' | 'Plan' | 'Section' | 'Solid' | 'Night'
  /** Each as `mod+shift+alt+key`, in that order: `mod` is ctrl or ⌘, letters small, arrows `arrowup`, signs without shift (`?`). */
  keys: readonly string[]
  /** Absent: always enabled. */
  when?(page: Page): boolean
  run(page: Page): void
}
