import { T95 } from '../../num/stats.ts'
import { inThousands } from '../../num/thousands.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { percent } from '../words.ts'

export function unfinished({ state, figures }: SheetParts): Finding[] {
  if (state === 'settled') return []
  const axial = figures['axialIntensityCd']
  const known =
    axial && axial.value > 0
      ? `axial intensity is known to ± ${percent((T95 * axial.se) / axial.value)}`
      : 'the axial intensity isn’t known yet'
  return [
    {
      rule: 'unfinished',
      severity: 'note',
      title: `The figures are still ${state}: ${known}.`,
      why: 'Dangers are judged by the upper end of ± at 95 %, so some may go away as the figures settle. None is left out because of it.',
      cure: 'Wait, or ask for more rays.',
      place: { kind: 'part', part: 'target' },
    },
  ]
}

/** The trace ended before the wanted ± was reached. */
export function outOfReach({ state, reached }: SheetParts): Finding[] {
  if (state !== 'settled' || !reached || !(reached.wanted > 0) || reached.share <= reached.wanted) return []
  const of = reached.of === 'peak' ? ' of the beam’s brightest ring' : ''
  const millions = inThousands(Math.round(Number((reached.rays / 1e6).toPrecision(2))))
  return [
    {
      rule: 'out-of-reach',
      severity: 'note',
      title: `The trace ended with the axial intensity known to ± ${percent(reached.share)}${of}, not ± ${percent(reached.wanted)}.`,
      why: `Few rays of this lamp run along the axis. ± falls with the root of their number: about ${millions} million would do.`,
      cure: 'Ask for a wider ±, or read the peak and the flux instead.',
      place: { kind: 'part', part: 'target' },
    },
  ]
}
