// The part of a sheet that the rules read.
import type { MaterialRisk } from '../hazard/risks.ts'
import type { SunAtTilt } from '../hazard/sun.ts'
import type { Figure, HotSpot } from '../run/figure.ts'

export interface SheetParts {
  state: 'rough' | 'settling' | 'settled'
  /** How well the trace knows the axial intensity, and how well it was to (job/beam/sheet.ts). */
  reached?: { wanted: number; share: number; of: 'axis' | 'peak'; rays: number } | null
  figures: Partial<Record<string, Figure>>
  hotSpots: Partial<Record<'lens' | 'wall' | 'face' | 'front' | 'sunInside', HotSpot>>
  /** What else stands in the row, in its order from the face. */
  elements?: readonly { spot: HotSpot | null }[]
  sun: readonly SunAtTilt[]
  risks: readonly MaterialRisk[]
  patterned: boolean
  /** Direction of the peak: θ from the axis, azimuth from +x; `around`: a ring, or the axis itself. */
  peakAt?: { thetaDeg: number; azimuthDeg: number; around: boolean }
  /** Figures with a forward and a backward estimate, and the difference of the two in standard errors. */
  forwardBackward?: readonly { figure: string; thetaDeg?: number; apart: number }[]
  variants: readonly { name: string; figures: Partial<Record<string, Figure>> }[]
}
