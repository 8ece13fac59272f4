// Gain of the lens on the axis, against the same lamp without it.
import type { Lamp } from '../../lamp/schema.ts'
import { lensesOf } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { candela, plain } from '../words.ts'

const HARDLY = 1.3

export function lensGain(lamp: Lamp, { figures, variants }: SheetParts): Finding[] {
  const withLens = figures['axialIntensityCd']
  const without = variants.find((v) => v.name === 'without lens')?.figures['axialIntensityCd']
  if (lensesOf(lamp).length === 0 || !withLens || !without || !(without.value > 0)) return []
  const gain = withLens.value / without.value
  if (gain >= HARDLY) return []
  const off = 2 * Math.hypot(withLens.se, without.se)
  const worse = without.value - withLens.value > off
  return [
    {
      rule: 'lens-does-not-help',
      severity: 'warning',
      title: worse
        ? `The lens makes the axis darker: ${candela(withLens.value)} with it, ${candela(without.value)} without.`
        : `The lens hardly helps: ${candela(withLens.value)} on the axis with it, ${candela(without.value)} without (× ${plain(gain)}).`,
      why: 'The same lamp was traced without its lens. A lens can’t gather what lies far off its axis for its focal length, loses some light in each surface, and costs money.',
      cure: 'Leave the lens out, pack the emitters closer, or take a lens of longer focal length.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}
