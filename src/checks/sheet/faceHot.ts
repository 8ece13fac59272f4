// Light returned to the face heats boards, solder masks and wires that are already hot.
import { upperKWm2 } from '../../hazard/discs.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { plasticLimits } from '../plastic.ts'
import { kWm2, mm } from '../words.ts'

export function faceHot(lamp: Lamp, { hotSpots }: SheetParts): Finding[] {
  const spot = hotSpots.face
  if (!spot) return []
  const upper = upperKWm2(spot)
  const plastic = plasticLimits(lamp.reading.ambientC)
  if (upper < plastic.softensKWm2) return []
  return [
    {
      rule: 'face-hot',
      severity: upper >= plastic.ignitesKWm2 ? 'severe' : 'warning',
      title: `Up to ${kWm2(upper)} comes back to the face, over a disc of ${mm(spot.discMm)}.`,
      why: `It adds to the emitters’ own heat there, and plastic parts, wires and holders near it take in what a white mask (${lamp.face.reflectance} reflected) does not. ${plastic.words} Full sun is 1 kW/m².`,
      cure: 'Keep plastic and wires off that place, or change what sends the light back: the lens’s distance, the taper, the wall’s finish.',
      place: { kind: 'point', xMm: spot.xMm, yMm: spot.yMm, zMm: spot.zMm, on: 'face' },
    },
  ]
}
