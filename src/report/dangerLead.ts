// The three distances that stand on top of the danger sheet, the same on screen and on paper.

import { leadTime } from '../checks/eyeWords.ts'
import { ofLimit } from '../checks/words.ts'
import { leadOf } from '../hazard/eyeSheet.ts'
import type { DangerReading } from '../job/danger/result.ts'
import { allInSystem, inEither } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { upDistance } from './danger.ts'

export interface LeadDistance {
  of: 'eye' | 'fire' | 'hand'
  what: string
  figure: string
  /** A limit is reached somewhere. */
  reached: boolean
}

/** Eyes by the longest time that applies; what burns and bare skin by distance, or by the share of the limit that is reached. */
export function leadDistances(d: Pick<DangerReading, 'clear' | 'eye'>, system: UnitSystem = 'metric'): LeadDistance[] {
  const skin = d.clear.find((c) => c.id === 'skin')!
  const burns = d.clear.filter((c) => c.harm === 'catches fire' || c.harm === 'chars and glows')
  const most = (of: (c: (typeof burns)[number]) => number) => burns.reduce((a, c) => Math.max(a, of(c)), 0)
  return allInSystem(
    [
      eyeDistance(d),
      thing(
        'fire',
        'What burns',
        most((c) => c.clearDistanceMm),
        most((c) => c.shareAtWorst),
      ),
      thing('hand', skin.name, skin.clearDistanceMm, skin.shareAtWorst),
    ],
    system,
  )
}

const metres = (mm: number) => upDistance(mm, '\u00a0')

function eyeDistance({ eye }: Pick<DangerReading, 'eye'>): LeadDistance {
  const lead = eye && leadOf(eye.distances[0])
  if (!lead) return { of: 'eye', what: 'Eyes, looking in', figure: 'no light', reached: false }
  const reached = lead.metres > 0
  return {
    of: 'eye',
    what: reached ? `Eyes: ${leadTime(lead)}` : 'Eyes, looking in',
    figure: reached ? metres(1000 * lead.metres) : inEither('under 0.2\u00a0m', 'under 8\u00a0in'),
    reached,
  }
}

const thing = (of: LeadDistance['of'], what: string, mm: number, share: number): LeadDistance =>
  mm > 0
    ? { of, what, figure: metres(mm), reached: true }
    : { of, what: `${what}, of its limit`, figure: ofLimit(share), reached: false }
