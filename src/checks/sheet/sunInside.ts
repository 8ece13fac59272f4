// Sunlight that a lens or a mirrored tunnel gathers can ignite the inside of the lamp. Estimated before any sunlight is traced.
import { upperKWm2 } from '../../hazard/discs.ts'
import { hotSunWm2 } from '../../hazard/solar.ts'
import { concentrationLimit, findWorstSun, sunImageDiameterMm } from '../../hazard/sun.ts'
import { mirrorShareOf, mostConcentration, openingMm2 } from '../../hazard/sunBound.ts'
import { tunnelGain } from '../../hazard/tunnelSun.ts'
import { elementsOf, pieceHalves } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import { lensesOf, lensSystem } from '../../library/lensSystem.ts'
import { middleOfSun } from '../../library/sunDisc.ts'
import type { Finding } from '../finding.ts'

import type { SheetParts } from '../parts.ts'
import { plasticLimits } from '../plastic.ts'
import { deg, kWm2, mm } from '../words.ts'

/** Twice full sun: 1 kW/m² falls on whatever stands outdoors (our choice). */
const WARN_KW_M2 = 2
const cure = (lamp: Lamp) =>
  `Cover the ${lensesOf(lamp).length > 0 ? 'lens' : 'front'} with an opaque, non-flammable cap whenever the lamp is off, store and carry it facing down or into a corner, never leave it pointing at the sky in daylight. A thermal cut-out on the face plate is cheap.`

export function sunInside(lamp: Lamp, { sun }: Pick<SheetParts, 'sun'>): Finding[] {
  // Nothing makes sunlight stronger in an open lamp.
  if (lamp.reading.sunWm2 === 0 || (elementsOf(lamp).length === 0 && !lamp.tunnel)) return []
  const worst = findWorstSun(sun)
  if (worst) return traced(lamp, worst)
  return lensesOf(lamp).length > 0 ? estimated(lamp) : intoTunnel(lamp)
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
      title: `Sun into ${lensesOf(lamp).length > 0 ? 'the lens' : 'the lamp'}, ${deg(worst.tiltDeg)} off its axis: up to ${kWm2(upper)} ${LANDS[worst.lands]}${worst.zMm > 0 ? `, ${mm(worst.zMm)} above the face` : ''}.`,
      why: `Direct sun of ${hotSunWm2(lamp.reading.sunWm2)} W/m² (at least that of a very clear day), averaged over a disc of ${mm(worst.discMm)}. ${plasticWhy(lamp)}`,
      cure: cure(lamp),
      place: { kind: 'point', xMm: worst.xMm, yMm: worst.yMm, zMm: worst.zMm, on: 'inside' },
    },
  ]
}

const plasticWhy = ({ reading }: Lamp) => plasticLimits(reading.ambientC).words

interface Gathering {
  f: number
  zMm: number
  diameterMm: number
}

function gatherings(lamp: Lamp): Gathering[] {
  const each = lensesOf(lamp).map((lens): Gathering => {
    const { xMm, yMm } = pieceHalves(lens)
    return { f: lensFocalMm(lens), zMm: lens.zMm, diameterMm: 2 * Math.max(xMm, yMm) }
  })
  const system = each.length > 1 ? lensSystem(lamp) : null
  if (!system) return each
  const { focalMm: f, focusZMm, halfMm } = system
  return [...each, { f, zMm: focusZMm + f, diameterMm: 2 * halfMm }]
}

/** Power over the smallest cross section of the sun's cone inside the lamp, limited by étendue, without losses in the lens. */
function estimate(lamp: Lamp, { f, zMm, diameterMm }: Gathering) {
  const behind = Math.min(f, zMm)
  const radius = diameterMm / 2
  const image = sunImageDiameterMm(behind)
  const blur = 2 * radius * Math.abs(1 - behind / f)
  const { hotDiscMm } = lamp.reading
  const spotMm = Math.max(hotDiscMm, image + blur)
  const gain = Math.min((diameterMm / spotMm) ** 2, concentrationLimit(radius / Math.hypot(radius, f)))
  // An image wider than the disc is hotter in its middle, unless it is blurred.
  const middle = middleOfSun(Math.min(1, Math.max(hotDiscMm, blur) / image))
  return { f, zMm, diameterMm, behind, spotMm, kWm2: (gain * middle * hotSunWm2(lamp.reading.sunWm2)) / 1000 }
}

/** A longer focal length, as a multiple of the lens's height, leaves the light spread wide from whichever side it comes (our choice). */
const WEAK_LENS = 3

/** Whether walls, or an image of the sun inside, can bring together the light of all the lens. */
const canGather = (lamp: Lamp, { f, zMm }: Gathering): boolean => mirrorShareOf(lamp.tunnel) > 0 || f < WEAK_LENS * zMm

/** Each lens alone and all together: the worst of them. Off the axis walls may throw together all that falls in. */
function estimated(lamp: Lamp): Finding[] {
  const lenses = gatherings(lamp)
  const worst = lenses
    .map((lens) => estimate(lamp, lens))
    .reduce<ReturnType<typeof estimate> | null>((a, b) => (a && a.kWm2 >= b.kWm2 ? a : b), null)
  if (!worst) return []
  const { hotDiscMm, sunWm2 } = lamp.reading
  const bound = (mostConcentration(openingMm2(lamp), hotDiscMm) * hotSunWm2(sunWm2)) / 1000
  const gathers = lenses.some((lens) => canGather(lamp, lens))
  const most = gathers ? Math.max(bound, worst.kWm2) : worst.kWm2
  if (most < WARN_KW_M2) return []
  const { f, zMm, diameterMm, behind, spotMm } = worst
  const where = behind < zMm ? `in the air ${mm(zMm - behind)} above the face` : 'on the face'
  const onAxis = `about ${kWm2(worst.kWm2)} ${where}`
  return [
    {
      rule: 'sun-inside',
      severity: severityOf(most, lamp),
      title: gathers
        ? `Sun into the lens: up to ${kWm2(most)} inside, by geometry and from any side (on the axis ${onAxis}; not traced yet).`
        : `Sun into the lens: ${onAxis} (by geometry, sun on the axis; off it there may be more; not traced yet).`,
      why: `${gathers ? `No lens and no mirrors can do more: all the sun that falls in, over a disc of ${mm(hotDiscMm)}. ` : ''}A lens of ${mm(diameterMm)} and ${mm(f)} focal length throws direct sun of ${hotSunWm2(lamp.reading.sunWm2)} W/m² onto a spot of ${mm(spotMm)}. ${plasticWhy(lamp)}`,
      cure: cure(lamp),
      place: { kind: 'point', xMm: 0, yMm: 0, zMm: zMm - behind, on: 'inside' },
    },
  ]
}

/** Without a lens: what the tunnel's own walls gather, in light along the axis. */
function intoTunnel(lamp: Lamp): Finding[] {
  const { tunnel } = lamp
  const { hotDiscMm, sunWm2 } = lamp.reading
  if (!tunnel) return []
  const { gain, zMm } = tunnelGain(tunnel, hotDiscMm)
  // An image wider than the disc would be hotter in its middle.
  const strong = (gain * middleOfSun(0) * hotSunWm2(sunWm2)) / 1000
  if (strong < WARN_KW_M2) return []
  const all = mostConcentration(openingMm2(lamp), hotDiscMm)
  const most = ((1 + mirrorShareOf(tunnel) * Math.max(0, all - 1)) * hotSunWm2(sunWm2)) / 1000
  return [
    {
      rule: 'sun-inside',
      severity: severityOf(strong, lamp),
      title: `Sun into the tunnel: about ${kWm2(strong)} ${zMm > 0 ? `${mm(zMm)} above the face` : 'on the face'} with the sun on the axis, up to ${kWm2(Math.max(most, strong))} from any side (by geometry; not traced yet).`,
      why: `Its mirrored walls gather direct sun of ${hotSunWm2(sunWm2)} W/m² from a mouth of ${mm(tunnel.outMm)} onto a disc of ${mm(hotDiscMm)}: light along the axis. ${plasticWhy(lamp)}`,
      cure: cure(lamp),
      place: { kind: 'point', xMm: 0, yMm: 0, zMm, on: 'inside' },
    },
  ]
}
