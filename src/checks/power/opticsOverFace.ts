// Plastic optics stand on the face: they are as hot as it is.
import { passesAt } from '../../heat/limits.ts'
import { plasticOpticsOf } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { OPTIC_LIMIT } from '../../library/thresholds.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'
import { fullPackWords, leftOnReason, namesOf, type PowerParts, topModes, topsOf } from '../powerParts.ts'
import { celsius, degreesC, seconds } from '../words.ts'

/** Acrylic: deflection under load (ISO 75), as for lenses in src/library/materials.ts. */
const SAGS_C = 95

export function opticsOverFace(lamp: Lamp, { modes }: PowerParts): Finding[] {
  const plastic = plasticOpticsOf(lamp)
  if (plastic.length === 0) return []
  const { limitC } = OPTIC_LIMIT
  const passed = modes
    .map((m) => {
      const { atLimit, leftOn } = topsOf(m, (c) => c.plateMaxC)
      return { ...m, atS: passesAt((m.leftOn ?? m).curves, limitC), atLimit, onC: leftOn }
    })
    .filter((m): m is typeof m & { atS: number } => m.atS !== null)
    .sort((a, b) => a.atS - b.atS)
  if (passed.length === 0) return []
  const topC = Math.max(...passed.map((m) => m.onC ?? m.atLimit))
  const gets = (of: readonly { name: string }[], c: number) =>
    `${celsius(c)}${of.length < passed.length ? ` in ${namesOf(of)}` : ''}`
  const most = (c: (m: (typeof passed)[number]) => number) => topModes(passed, c, (m) => celsius(c(m)))
  const first = most((m) => m.atLimit)
  const left = most((m) => m.onC ?? Number.NEGATIVE_INFINITY).filter((m) => m.onC !== null)
  const leftWords = left[0]?.onC ? `, left on past its limit to ${gets(left, left[0].onC)}` : ''
  const each = passed.map((m) => `in “${m.name}” ${m.atS === 0 ? 'at once' : `after ${seconds(m.atS)}`}`)
  return [
    {
      rule: 'optics-over-hot-face',
      severity: topC > SAGS_C ? 'severe' : 'warning',
      title: `The face passes the ${degreesC(limitC)} that plastic optics on it bear ${each.join(', ')}, and gets to ${gets(first, first[0]?.atLimit ?? 0)}${leftWords}.`,
      why: `${leftOnReason(passed)}${plastic.map((name) => `“${name}”`).join(', ')}: the material isn’t in the document, acrylic is taken. ${OPTIC_LIMIT.source}; it sags from ${degreesC(SAGS_C)} on. The face’s hottest place; the board under the optic and the light that the optic takes in make it hotter still, and the modes’ runs take the front as giving off nothing.${fullPackWords(lamp)}`,
      cure: `Step down earlier, ${ratedSinkOf(lamp) ? 'a sink of less resistance' : 'more sink or air'}, or optics of polycarbonate, silicone or glass.`,
      place: { kind: 'part', part: 'optics' },
    },
  ]
}
