import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'

/** Beyond this, chance is no longer an excuse (6 in 100,000 for a normal error). */
const DEFECT = 4

export function endsDisagree({ bothEnds }: SheetParts): Finding[] {
  if (!bothEnds || bothEnds.apart <= DEFECT) return []
  return [
    {
      rule: 'ends-disagree',
      severity: 'warning',
      title: `Traced from the emitters and from the far end, the axial intensity differs by ${bothEnds.apart.toFixed(1)} standard errors.`,
      why: 'Both ways follow the same physics and must agree within their errors; more than 4 standard errors apart, one of them has a defect for this lamp. It is the program’s, not yours.',
      cure: 'Don’t cut by this lamp’s figures. Save the lamp and send it to the makers of this program.',
      place: { kind: 'part', part: 'emitters' },
    },
  ]
}
