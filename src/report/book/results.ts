// What a book is made of: results of the lamp, and what only its caller knows.

import type { Finding } from '../../checks/finding.ts'
import type { PowerReport } from '../../electrothermal/result.ts'
import type { Sheet } from '../../job/beam/sheet.ts'
import type { DangerReading } from '../../job/danger/result.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import type { ChapterId } from './model.ts'

export interface PowerResults {
  report: PowerReport
  findings: readonly Finding[]
}

export interface BookResults {
  sheet: Sheet | null
  danger: DangerReading | null
  power: PowerResults | null
  /** A picture of the night, as the page draws it, or why there is none. */
  night?: { png: Uint8Array; widthPx: number; heightPx: number; caption: string } | { why: string } | undefined
}

export interface BookContext {
  version: string
  /** ISO 8601, as 2026-01-31. */
  date: string
  /** Of the design: lamp/designHash.ts. */
  hash: string
  /** Of all words; the design's document stays metric. Absent: metric. */
  system?: UnitSystem
  /** Left out on request. */
  without?: readonly ChapterId[]
  /** A sentence for each part of the results that is not there, or only from few rays. */
  missing?: readonly string[]
}
