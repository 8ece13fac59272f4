// The hot spot on the lens against its material's limit. Most light passes; a speck of dust, a finger mark or a scratch absorbs all of it.
import { upperKWm2 } from '../../hazard/discs.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { dirtTemperatureC, lostKWm2 } from '../../library/heatBalance.ts'
import { ignitionMaterial } from '../../library/ignition.ts'
import { LENS_MATERIALS } from '../../library/materials.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { kWm2, kWm2Plain, mm } from '../words.ts'

const IGNITES = { pmma: 'pmma-thin', polycarbonate: 'polycarbonate', crown: null } as const

export function lensHot(lamp: Lamp, { hotSpots }: SheetParts): Finding[] {
  const spot = hotSpots.lens
  const { lens } = lamp
  if (!spot || !lens || lens.kind === 'ideal') return []
  const material = LENS_MATERIALS[lens.material]
  if (material.keepBelowC === null) return []
  const upper = upperKWm2(spot)
  const { ambientC } = lamp.reading
  const softens = lostKWm2(material.keepBelowC, { ambientC })
  if (upper < softens) return []
  const igniting = ignitionMaterial(IGNITES[lens.material]!)
  const lights = upper >= igniting.criticalKWm2
  return [
    {
      rule: 'lens-hot',
      severity: lights ? 'severe' : 'warning',
      title: `Up to ${kWm2(upper)} on the lens, over a disc of ${mm(spot.discMm)}: ${lights ? 'enough to light it where it is dirty' : `dirt on it gets to some ${Math.ceil(dirtTemperatureC(upper, ambientC))} °C`}.`,
      why: `A clean lens passes most of this, but a dark speck takes it all in. ${material.label} should stay below ${material.keepBelowC} °C, which ${kWm2Plain(softens)} hold a black patch at (radiation and 5 W/m²K to still air, on one side). ${material.sources.temperature} It can ignite from ${kWm2Plain(igniting.criticalKWm2)} on: ${igniting.source}.`,
      cure: 'Keep the lens clean, spread the light over more of it, or move it further from the emitters. Feel it (lamp off) after the first ten minutes.',
      place: { kind: 'point', xMm: spot.xMm, yMm: spot.yMm, zMm: spot.zMm, on: 'lens' },
    },
  ]
}
