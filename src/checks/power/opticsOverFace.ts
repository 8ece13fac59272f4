// Plastic optics stand on the face: they are as hot as it is.
import { placeEmitters } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { OPTIC_LIMIT } from '../../library/thresholds.ts'
import type { Finding } from '../finding.ts'
import { fullPackWords, most, type PowerParts } from '../powerParts.ts'
import { celsius, seconds } from '../words.ts'

/** Acrylic: deflection under load (ISO 75), as for lenses in src/library/materials.ts. */
const SAGS_C = 95

type ModeParts = PowerParts['modes'][number]

/** Seconds into the mode when the face's hottest place passes the limit, between two moments by a straight line; null: never. */
export function passesAt({ curves: { tS, plateMaxC } }: Pick<ModeParts, 'curves'>, limitC: number): number | null {
  let before: { s: number; c: number } | null = null
  for (let i = 0; i < tS.length; i++) {
    const now = { s: tS[i]!, c: plateMaxC[i]! }
    if (now.c > limitC)
      return before ? before.s + ((limitC - before.c) / (now.c - before.c)) * (now.s - before.s) : now.s
    before = now
  }
  return null
}

export function opticsOverFace(lamp: Lamp, { modes }: PowerParts): Finding[] {
  const plastic = new Set(placeEmitters(lamp).flatMap(({ optic }) => (optic.kind === 'collimator' ? [optic.name] : [])))
  if (plastic.size === 0) return []
  const { limitC } = OPTIC_LIMIT
  const passed = modes
    .map((m) => ({ name: m.name, atS: passesAt(m, limitC), topC: most(m.curves.plateMaxC) }))
    .filter((m): m is typeof m & { atS: number } => m.atS !== null)
    .sort((a, b) => a.atS - b.atS)
  if (passed.length === 0) return []
  const topC = passed.reduce((top, m) => Math.max(top, m.topC), 0)
  const each = passed.map((m) => `in “${m.name}” ${m.atS === 0 ? 'at once' : `after ${seconds(m.atS)}`}`)
  return [
    {
      rule: 'optics-over-hot-face',
      severity: topC > SAGS_C ? 'severe' : 'warning',
      title: `The face passes the ${limitC} °C that plastic optics on it bear ${each.join(', ')}, and gets to ${celsius(topC)}.`,
      why: `${[...plastic].map((name) => `“${name}”`).join(', ')}: the material isn’t in the document, acrylic is taken. ${OPTIC_LIMIT.source}; it sags from ${SAGS_C} °C on. The face’s hottest place; the board under the optic and the light that the optic takes in make it hotter still, and the modes’ runs take the front as giving off nothing.${fullPackWords(lamp)}`,
      cure: 'Step down earlier, more sink or air, or optics of polycarbonate, silicone or glass.',
      place: { kind: 'part', part: 'optics' },
    },
  ]
}
