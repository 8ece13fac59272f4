import { BATCHES } from '../../run/types.ts'
import { ENDS_DISAGREE, type Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'

/** Limit in standard errors, which are of 16 batches: chance exceeds it in 6 of 100,000 cases (Student's t of 15 degrees of freedom). */
const DEFECT = 5.5
const FREEDOM = BATCHES - 1

type EstimatePair = NonNullable<SheetParts['forwardBackward']>[number]

const NAMES: Record<string, string> = {
  axialIntensityCd: 'the axial intensity',
  peakIntensityCd: 'the peak intensity',
  targetCentreLx: 'the illuminance at the target’s centre',
}

function nameOf({ figure, thetaDeg }: EstimatePair): string {
  if (figure === 'profileCd') return `the intensity ${Number((thetaDeg ?? 0).toPrecision(2))}° off the axis`
  return NAMES[figure] ?? 'a figure'
}

export function forwardBackwardDisagree({ forwardBackward = [] }: SheetParts): Finding[] {
  // The worst of n exceeds this limit about as rarely as a single one exceeds 5.5: far out the tail of t falls as t⁻¹⁵.
  const limit = DEFECT * Math.max(1, forwardBackward.length) ** (1 / FREEDOM)
  const worst = forwardBackward.reduce<EstimatePair | null>(
    (most, pair) => (most && most.apart >= pair.apart ? most : pair),
    null,
  )
  if (!worst || worst.apart <= limit) return []
  return [
    {
      rule: ENDS_DISAGREE,
      severity: 'severe',
      title: `Traced forward and backward, ${nameOf(worst)} differs by ${worst.apart.toFixed(1)} standard errors.`,
      why: `Both ways follow the same physics and must agree within their errors; more than ${limit.toFixed(1)} standard errors apart, one of them has a defect for this lamp. It is the program’s, not yours.`,
      cure: 'Don’t cut by this lamp’s figures. Save the lamp and send it to the makers of this program.',
      place: { kind: 'part', part: 'emitters' },
    },
  ]
}
