// The hot spot on the tunnel's wall. A clean wall absorbs 1 − ρ of the light; a scratched, stained or glued place absorbs all of it.
import { upperKWm2 } from '../../hazard/discs.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { dirtTemperatureC, steadyTemperatureC } from '../../library/heatBalance.ts'
import { criticalAt, ignitionMaterial } from '../../library/ignition.ts'
import { wallTakesIn } from '../../library/wallFinishes.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { celsius, kWm2, kWm2Plain, mm, percent } from '../words.ts'

export function wallHot(lamp: Lamp, { hotSpots }: SheetParts): Finding[] {
  const spot = hotSpots.wall
  if (!spot || !lamp.tunnel) return []
  const upper = upperKWm2(spot)
  const taken = wallTakesIn(lamp, spot.zMm, spot.discMm)
  const { ambientC } = lamp.reading
  const smoulder = ignitionMaterial('wood-long')
  const smouldersKWm2 = criticalAt(smoulder, ambientC)
  if (upper < smouldersKWm2 && taken * upper < 1) return []
  return [
    {
      rule: 'wall-hot',
      severity: taken * upper >= smouldersKWm2 ? 'severe' : 'warning',
      title: `Up to ${kWm2(upper)} on the tunnel wall ${mm(spot.zMm)} above the face: a clean wall there can get to some ${celsius(steadyTemperatureC({ takenKWm2: taken * upper, ambientC }))}, a stained one to ${celsius(dirtTemperatureC(upper, ambientC))}.`,
      why: `The wall takes in ${percent(taken)} where it is clean. Wood or paper behind it chars from ${kWm2Plain(smouldersKWm2)} taken in: ${smoulder.source}. The temperatures are those of a patch that loses heat on one side only, with nothing carried away along the sheet.`,
      cure: 'Use bare metal without glue, paint or card there, keep it clean, or change the taper so that the light spreads.',
      place: { kind: 'point', xMm: spot.xMm, yMm: spot.yMm, zMm: spot.zMm, on: 'wall' },
    },
  ]
}
