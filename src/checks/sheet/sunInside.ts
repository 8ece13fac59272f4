// Sunlight through the lens can ignite the inside of the lamp. Estimated before any sunlight is traced.
import { upperKWm2 } from '../../hazard/discs.ts'
import { hotSunWm2 } from '../../hazard/solar.ts'
import { concentrationLimit, findWorstSun, sunImageDiameterMm } from '../../hazard/sun.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import { middleOfSun } from '../../library/sunDisc.ts'
import type { Finding } from '../finding.ts'

import type { SheetParts } from '../parts.ts'
import { plasticLimits } from '../plastic.ts'
import { deg, kWm2, mm } from '../words.ts'

/** Twice full sun: 1 kW/m² falls on whatever stands outdoors (our choice). */
const WARN_KW_M2 = 2
const cure =
  'Cover the lens with an opaque, non-flammable cap whenever the lamp is off, store and carry it facing down or into a corner, never leave it pointing at the sky in daylight. A thermal cut-out on the face plate is cheap.'

export function sunInside(lamp: Lamp, { sun }: SheetParts): Finding[] {
  const { lens } = lamp
  if (!lens || lamp.reading.sunWm2 === 0) return []
  const worst = findWorstSun(sun)
  return worst ? traced(lamp, worst) : estimated(lamp, lens)
}

const severityOf = (upper: number, { reading }: Lamp) =>
  upper >= plasticLimits(reading.ambientC).ignitesKWm2 ? ('severe' as const) : ('warning' as const)

const LANDS = {
  board: 'on a board',
  face: 'on the face',
  wall: 'on the tunnel wall',
  air: 'in the air of the lamp',
  outside: 'beside the lamp',
  front: 'thrown back before the lamp',
} as const

function traced(lamp: Lamp, worst: NonNullable<ReturnType<typeof findWorstSun>>): Finding[] {
  const upper = upperKWm2(worst)
  if (upper < WARN_KW_M2) return []
  return [
    {
      rule: 'sun-inside',
      severity: severityOf(upper, lamp),
      title: `Sun into the lens, ${deg(worst.tiltDeg)} off its axis: up to ${kWm2(upper)} ${LANDS[worst.lands]}${worst.zMm > 0 ? `, ${mm(worst.zMm)} above the face` : ''}.`,
      why: `Direct sun of ${hotSunWm2(lamp.reading.sunWm2)} W/m² (at least that of a very clear day), averaged over a disc of ${mm(worst.discMm)}. ${plasticWhy(lamp)}`,
      cure,
      place: { kind: 'point', xMm: worst.xMm, yMm: worst.yMm, zMm: worst.zMm, on: 'inside' },
    },
  ]
}

const plasticWhy = ({ reading }: Lamp) => plasticLimits(reading.ambientC).words

/** Power over the smallest cross section of the sun's cone inside the lamp, limited by étendue, without losses in the lens. */
function estimated(lamp: Lamp, lens: NonNullable<Lamp['lens']>): Finding[] {
  const f = lensFocalMm(lens)
  const behind = Math.min(f, lens.zMm)
  const radius = lens.diameterMm / 2
  const image = sunImageDiameterMm(behind)
  const blur = 2 * radius * Math.abs(1 - behind / f)
  const { hotDiscMm } = lamp.reading
  const spotMm = Math.max(hotDiscMm, image + blur)
  const gain = Math.min((lens.diameterMm / spotMm) ** 2, concentrationLimit(radius / Math.hypot(radius, f)))
  // An image wider than the disc is hotter in its middle, unless it is blurred.
  const middle = middleOfSun(Math.min(1, Math.max(hotDiscMm, blur) / image))
  const estimate = (gain * middle * hotSunWm2(lamp.reading.sunWm2)) / 1000
  if (estimate < WARN_KW_M2) return []
  return [
    {
      rule: 'sun-inside',
      severity: severityOf(estimate, lamp),
      title: `Sun into the lens: about ${kWm2(estimate)} ${behind < lens.zMm ? `in the air ${mm(lens.zMm - behind)} above the face` : 'on the face'} (by geometry; not traced yet).`,
      why: `A lens of ${mm(lens.diameterMm)} and ${mm(f)} focal length throws direct sun of ${hotSunWm2(lamp.reading.sunWm2)} W/m² onto a spot of ${mm(spotMm)}. ${plasticWhy(lamp)}`,
      cure,
      place: { kind: 'point', xMm: 0, yMm: 0, zMm: lens.zMm - behind, on: 'inside' },
    },
  ]
}
