// Sentences on hot places other than those of the tables: which light they are of, smaller discs, beside and behind the lamp, inside, and the
// sun outside. The same for screen, terminal and print; every figure is an upper end.

import { upperKWm2 } from '../hazard/discs.ts'
import { irradianceAt } from '../hazard/front.ts'
import type { SunPlace } from '../hazard/sun.ts'
import type { CoarseSearch, DangerReading } from '../job/danger/result.ts'
import { allInSystem, distanceText, sizeText } from '../num/quantity.ts'
import { roundedUp } from '../num/sided.ts'
import { inThousands } from '../num/thousands.ts'
import type { UnitSystem } from '../num/unitSystem.ts'

const three = (x: number): string => inThousands(Number(x.toPrecision(3)))
const size = (mm: number): string => sizeText(three(mm), mm)
const off = (tiltDeg: number): string => (tiltDeg === 0 ? 'on the axis' : `${three(tiltDeg)}° off the axis`)
const upTwo = (x: number): string => three(roundedUp(x, 2))
const upThree = (x: number): string => three(roundedUp(x))

/** Which light the lamp's own dangers are of. */
export const lightSentence = (d: DangerReading): string => `Light: ${d.light}.`

/** The lamp's own light: smaller discs in front, light that leaves beside and behind, and what the lens sends back. */
export function ownPlaceSentences(d: DangerReading, system: UnitSystem = 'metric'): string[] {
  const out: string[] = []
  // Where few rays land, a small disc holds none: not measured, and not dark.
  const smaller = d.worstByDisc.filter((v) => v.discMm < d.discMm && upperKWm2(v) > 0)
  if (d.front.worst && smaller.length > 0) {
    const list = smaller
      .toReversed()
      .map((v) => `${upThree(upperKWm2(v))} over ${sizeText(String(v.discMm), v.discMm)}`)
    out.push(`Smaller spots at the worst place in front are stronger, kW/m²: ${list.join(', ')}.`)
  }
  out.push(...besideSentences(d, system))
  if (d.ghost)
    out.push(
      `The lens sends light back inside: up to ${upThree(upperKWm2(d.ghost))} kW/m², ${size(d.ghost.zMm)} above the face.`,
    )
  out.push(...coarseSentences(d, 'own', system))
  return allInSystem(out, system)
}

/** Where the search was coarser than the disc, and the most that it can have missed. */
export const coarseSentences = (
  { coarse, discMm }: DangerReading,
  light: CoarseSearch['light'],
  system: UnitSystem = 'metric',
): string[] =>
  allInSystem(
    coarse
      .filter((c) => c.light === light)
      .map(
        ({ zone, upToKWm2 }) =>
          `${COARSE_WHERE[light]}${ZONE_WHERE[zone]}: a spot of ${size(discMm)} is too small to search all of it. Where it was not searched there may be up to ${upTwo(upToKWm2)} kW/m².`,
      ),
    system,
  )

const COARSE_WHERE: Record<CoarseSearch['light'], string> = {
  own: 'The lamp’s own light ',
  sun: 'The sun ',
  'bare lens': 'The sun through the lens alone, ',
}
const ZONE_WHERE: Record<CoarseSearch['zone'], string> = {
  front: 'in front',
  inside: 'inside',
  outside: 'beside and behind the lamp',
}

/** The lamp's own light that leaves beside and behind it. */
export function besideSentences(
  { beside: { leakedW, worst, curve } }: DangerReading,
  system: UnitSystem = 'metric',
): string[] {
  if (worst) {
    const at300 = irradianceAt({ worst: null, curve }, 300)
    return allInSystem(
      [
        `${upThree(leakedW)} W leaves beside the beam: up to ${upThree(upperKWm2(worst))} kW/m², ${whereBeside(worst)}. At ${distanceText('0.3 m', 300)} from the lamp: up to ${upTwo(at300)} kW/m².`,
      ],
      system,
    )
  }
  return allInSystem(
    leakedW > 0.1 ? [`${upThree(leakedW)} W leaves beside the beam. It is spread too thinly to harm.`] : [],
    system,
  )
}

const whereBeside = ({ xMm, yMm, zMm }: { xMm: number; yMm: number; zMm: number }): string =>
  `${size(Math.hypot(xMm, yMm))} off the axis, ${zMm < 0 ? `${size(-zMm)} behind the face` : `${size(zMm)} above the face’s plane`}`

/** The lens turned to where the sun passes at its strongest; empty where nothing comes in. */
export const turnedSentence = ({ sunDay }: DangerReading): string =>
  sunDay?.turned
    ? `Turned so that the sun passes ${off(sunDay.turned.tiltDeg)}, the spot gets up to ${upThree(sunDay.turned.kWm2)} kW/m² that day.`
    : ''

/** The sun: the worst places outside the lamp and before it. */
export const sunPlaceSentences = (d: DangerReading, system: UnitSystem = 'metric'): string[] =>
  allInSystem(
    [
      ...d.sunPlaces.flatMap((p) => {
        const what = `up to ${upThree(upperKWm2(p))} kW/m² with the sun ${off(p.tiltDeg)}${smallDiscs(p)}`
        if (p.zone === 'outside') return [`Outside the lamp, ${whereBeside(p)}: ${what}.`]
        if (p.zone === 'front') return [`Thrown back before the lamp: ${what}.`]
        return []
      }),
      ...coarseSentences(d, 'sun', system),
      ...coarseSentences(d, 'bare lens', system),
    ],
    system,
  )

function smallDiscs({ byDisc }: SunPlace): string {
  const small = byDisc.find((v) => v.discMm === 3.5)
  return small ? `; ${upThree(upperKWm2(small))} kW/m² over ${sizeText('3.5', 3.5)}` : ''
}
