// Findings of the lamp's own light where no beam should be: beside and behind it.
import { upperKWm2 } from '../hazard/discs.ts'
import { clearDistanceMm, irradianceAt } from '../hazard/front.ts'
import type { Lamp } from '../lamp/schema.ts'
import { type DangerParts, SCATTER } from './dangerParts.ts'
import type { Finding } from './finding.ts'
import { clear, harmWords, kWm2, mm, upThree } from './words.ts'

/** Where a wall or a floor is taken to stand, mm (physics.md, section 9). */
const WALL_MM = 300

/** Light that leaves by a gap, past the face or past the lens, by the material that it harms farthest out. */
export function lightBeside(_: Lamp, { beside, clear: table }: DangerParts): Finding[] {
  const { worst, curve, leakedW } = beside
  if (!worst) return []
  const harmed = table
    .map((t) => ({ ...t, mm: clearDistanceMm({ worst: null, curve }, t.kWm2) }))
    .filter((t) => t.mm > 0)
    .sort((a, b) => b.mm - a.mm)
  const [farthest] = harmed
  if (!farthest) return []
  const burns = harmed.filter((t) => t.harm === 'catches fire' || t.harm === 'chars and glows')
  const where = worst.zMm < 0 ? `${mm(-worst.zMm)} behind the face` : `${mm(worst.zMm)} above the face’s plane`
  return [
    {
      rule: 'light-beside',
      severity: burns.length > 0 ? 'severe' : 'warning',
      title: `${upThree(leakedW)} W leaves beside the beam: up to ${kWm2(upperKWm2(worst))}, ${mm(Math.hypot(worst.xMm, worst.yMm))} off the axis and ${where}. ${farthest.name} ${harmWords(farthest.harm)} nearer than ${clear(farthest.mm)} to the lamp’s side.${burns.length > 0 && burns[0] !== farthest ? ` ${burns[0]!.name} ${harmWords(burns[0]!.harm)} nearer than ${clear(burns[0]!.mm)}.` : ''}`,
      why: `It leaves by gaps, past the face or past the lens. Followed for a metre round the lamp; what stands ${mm(WALL_MM)} away meets up to ${kWm2(irradianceAt({ worst: null, curve }, WALL_MM))}. Over ${mm(worst.discMm)}, square to the light. ${SCATTER}`,
      cure: 'Close the gaps with bare metal, or a lens as wide as the light; keep the sides and the back clear.',
      place: { kind: 'point', xMm: worst.xMm, yMm: worst.yMm, zMm: worst.zMm, on: 'inside' },
    },
  ]
}
