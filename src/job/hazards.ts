// Hot spots, risks and findings of a sheet.
import type { Lamp } from '../lamp/schema.ts'
import type { Run } from '../run/types.ts'
import type { HotSpot, HotSpotName, MaterialRisk, Sheet, SunAtTilt } from './sheet.ts'

export interface Hazards {
  hotSpots: Partial<Record<HotSpotName, HotSpot>>
  absent: Partial<Record<HotSpotName, string>>
  risks: MaterialRisk[]
}

export function readHazards(_run: Run, _lamp: Lamp): Hazards {
  return { hotSpots: {}, absent: {}, risks: [] }
}

type Bare = Omit<Sheet, 'hotSpots' | 'sun' | 'risks' | 'findings'>

export function findAll(_lamp: Lamp, parts: Bare, hazards: Hazards, sun: SunAtTilt[] | null): Sheet {
  return {
    ...parts,
    absent: { ...parts.absent, ...hazards.absent },
    hotSpots: hazards.hotSpots,
    sun: sun ?? [],
    risks: hazards.risks,
    findings: [],
  }
}
