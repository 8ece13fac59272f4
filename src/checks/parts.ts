// What of a sheet the findings read. A sheet has all of it and more.
import type { MaterialRisk } from '../hazard/risks.ts'
import type { SunAtTilt } from '../hazard/sun.ts'
import type { Figure, HotSpot } from '../run/figure.ts'

export interface SheetParts {
  state: 'rough' | 'settling' | 'settled'
  figures: Partial<Record<string, Figure>>
  hotSpots: Partial<Record<'lens' | 'wall' | 'face' | 'front' | 'sunInside', HotSpot>>
  sun: readonly SunAtTilt[]
  risks: readonly MaterialRisk[]
  patterned: boolean
  /** Axial intensity from either end, and how many standard errors they are apart. */
  bothEnds?: { apart: number } | null
  variants: readonly { name: string; figures: Partial<Record<string, Figure>> }[]
}
