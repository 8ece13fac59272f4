import { T95 } from '../../num/stats.ts'
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
