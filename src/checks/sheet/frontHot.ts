// Effect of the beam on objects and people in front of the lamp.
import { upperKWm2 } from '../../hazard/discs.ts'
import type { MaterialRisk } from '../../hazard/risks.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { painSeconds, SKIN } from '../../library/skin.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { ahead, clear, kWm2, seconds } from '../words.ts'

/** For people, over 30 s: the 5 kW/m² of the US rule for liquefied gas sites (49 CFR 193; the rule's number from memory). */
const HARMS_PEOPLE = 5

export function frontHot(lamp: Lamp, parts: SheetParts): Finding[] {
  const spot = parts.hotSpots.front
  if (!spot) return []
  const upper = upperKWm2(spot)
  const lit = parts.risks.filter((r) => r.secondsAtWorst !== null && !isSkin(r))
  const skin = parts.risks.find(isSkin)
  const pain = painSeconds(upper)
  if (lit.length === 0 && pain === null) return []
  const inFront = spot.zMm - frontZMm(lamp)
  const where = inFront < 5 ? 'right at the lamp’s front' : `${ahead(inFront)} in front of the lamp`
  const keep = [...lit, ...(skin ? [skin] : [])].reduce((most, r) => Math.max(most, r.clearDistanceMm), 0)
  const soonest = lit.reduce<MaterialRisk | null>((a, b) => (a && a.secondsAtWorst! <= b.secondsAtWorst! ? a : b), null)
  const lights = soonest
    ? `${soonest.material.toLowerCase()} can catch fire in ${seconds(soonest.secondsAtWorst!)}`
    : ''
  const hurts = pain === null ? '' : `bare skin hurts after ${seconds(pain)}`
  return [
    {
      rule: 'front-hot',
      severity: lit.length > 0 || upper >= HARMS_PEOPLE ? 'severe' : 'warning',
      title: `Up to ${kWm2(upper)} ${where}: ${[lights, hurts].filter(Boolean).join(', ')}. Keep ${keep > 0 ? clear(keep) : 'the front'} clear.`,
      why: `${soonest ? `It lies over the critical irradiance of ${lit.length === 1 ? 'one material' : `${lit.length} materials`} of the table; the soonest by: ${soonest.source}. ` : ''}Skin: ${SKIN.source}; 5 kW/m² for 30 s is a limit set for people. Ignition figures scatter by tens of per cent: floors for a warning, no proof of safety.`,
      cure: `Keep everything that burns and everybody out of the first ${keep > 0 ? clear(keep) : 'metres'} of the beam, put a guard or a stand-off ring on the lamp, never lay it face down, and never leave it lit alone.`,
      place: { kind: 'point', xMm: spot.xMm, yMm: spot.yMm, zMm: spot.zMm, on: 'front' },
    },
  ]
}

const isSkin = (r: MaterialRisk) => r.source === SKIN.source
