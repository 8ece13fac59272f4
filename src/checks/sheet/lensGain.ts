// Gain of the lens on the axis, against the same lamp without it.
import type { Lamp } from '../../lamp/schema.ts'
import { lensesOf } from '../../library/lensSystem.ts'
import type { Figure } from '../../run/figure.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { candela, plain } from '../words.ts'

const HARDLY = 1.3

export function lensGain(lamp: Lamp, { figures, variants }: SheetParts): Finding[] {
  const withLens = figures['axialIntensityCd']
  const without = variants.find((v) => v.name === 'without lens')?.figures['axialIntensityCd']
  const isTraced = withLens !== undefined || figures['fluxOutLm'] !== undefined
  if (lensesOf(lamp).length === 0 || !isTraced || !without || !(without.value > 0)) return []
  if (withLens && withLens.value >= HARDLY * without.value) return []
  return [
    {
      rule: 'lens-does-not-help',
      severity: 'warning',
      title: titleOf(withLens, without),
      why: 'The same lamp was traced without its lens. A lens can’t gather what lies far off its axis for its focal length, loses some light in each surface, and costs money.',
      cure: 'Leave the lens out, pack the emitters closer, or take a lens of longer focal length.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}

function titleOf(withLens: Figure | undefined, without: Figure): string {
  const bare = candela(without.value)
  if (!withLens) return `No ray has gone along the axis with the lens: ${bare} without it.`
  const own = candela(withLens.value)
  const isWorse = without.value - withLens.value > 2 * Math.hypot(withLens.se, without.se)
  return isWorse
    ? `The lens makes the axis darker: ${own} with it, ${bare} without.`
    : `The lens hardly helps: ${own} on the axis with it, ${bare} without (× ${plain(withLens.value / without.value)}).`
}
