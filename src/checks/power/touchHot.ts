// Metal that burns who touches it. Burn thresholds of ISO 13732-1:2006 for bare metal, from memory: 43 °C for 8 h and longer, 48 °C for
// 10 min, 51 °C for 1 min (all smooth materials), and the lower ends of its bands, 55 °C for 10 s, 65 °C for 1 s.
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import { most, namesOf, type PowerParts } from '../powerParts.ts'

const THRESHOLDS = [
  { fromC: 65, within: 'a second or less' },
  { fromC: 55, within: 'ten seconds' },
  { fromC: 51, within: 'a minute' },
  { fromC: 48, within: 'ten minutes' },
] as const

/** The shortest contact that burns, as text; null below 48 °C. */
export const burnTime = (celsius: number): string | null => THRESHOLDS.find((t) => celsius >= t.fromC)?.within ?? null

export function touchHot(_: Lamp, { modes }: PowerParts): Finding[] {
  const tops = modes.map((m) => ({ name: m.name, topC: most(m.curves.plateMaxC) }))
  const hot = tops.filter((m) => burnTime(m.topC) !== null)
  if (hot.length === 0) return []
  const topC = hot.reduce((top, m) => Math.max(top, m.topC), 0)
  const within = burnTime(topC)!
  const worst = hot.filter((m) => burnTime(m.topC) === within)
  return [
    {
      rule: 'touch-hot',
      severity: topC >= 65 ? 'severe' : 'warning',
      title: `Plate and sink get to ${Math.ceil(topC)} °C in ${namesOf(worst)}: a touch of ${within} burns.`,
      why: 'Burn thresholds for bare metal: 65 °C for 1 s, 55 °C for 10 s, 51 °C for 1 min, 48 °C for 10 min (ISO 13732-1:2006, from memory). The plate’s hottest place is taken for all of it; the metal stays hot long after the light is off.',
      cure: 'Keep hands off by a handle, a guard or a distance; mark it hot; step down before it gets there.',
      place: { kind: 'part', part: 'face' },
    },
  ]
}
