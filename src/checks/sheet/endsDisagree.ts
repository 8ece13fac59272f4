import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'

/** Beyond this, chance is no longer an excuse (6 in 100,000 for a normal error). */
const DEFECT = 4

type End = NonNullable<SheetParts['forwardBackward']>[number]

const NAMES: Record<string, string> = {
  axialIntensityCd: 'the axial intensity',
  peakIntensityCd: 'the peak intensity',
  targetCentreLx: 'the illuminance at the target’s centre',
}

function nameOf({ figure, thetaDeg }: End): string {
  if (figure === 'profileCd') return `the intensity ${Number((thetaDeg ?? 0).toPrecision(2))}° off the axis`
  return NAMES[figure] ?? 'a figure'
}

export function endsDisagree({ forwardBackward = [] }: SheetParts): Finding[] {
  // The worst of n is as seldom beyond this as one alone is beyond 4: the tail of a normal error falls by n over (ln n)/4.
  const limit = DEFECT + Math.log(Math.max(1, forwardBackward.length)) / DEFECT
  const worst = forwardBackward.reduce<End | null>((most, end) => (most && most.apart >= end.apart ? most : end), null)
  if (!worst || worst.apart <= limit) return []
  return [
    {
      rule: 'ends-disagree',
      severity: 'warning',
      title: `Traced from the emitters and from the far end, ${nameOf(worst)} differs by ${worst.apart.toFixed(1)} standard errors.`,
      why: `Both ways follow the same physics and must agree within their errors; more than ${limit.toFixed(1)} standard errors apart, one of them has a defect for this lamp. It is the program’s, not yours.`,
      cure: 'Don’t cut by this lamp’s figures. Save the lamp and send it to the makers of this program.',
      place: { kind: 'part', part: 'emitters' },
    },
  ]
}
