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
  /** Figures known from either end, and how many standard errors the two are apart. */
  forwardBackward?: readonly { figure: string; thetaDeg?: number; apart: number }[]
  variants: readonly { name: string; figures: Partial<Record<string, Figure>> }[]
}
