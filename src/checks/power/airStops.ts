// A lamp whose emitters stay cool only as long as its fan runs, or the air moves.
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import { namesByFirst, type PowerParts } from '../powerParts.ts'
import { seconds } from '../words.ts'

export function airStops({ cooling }: Lamp, { modes }: PowerParts): Finding[] {
  const hot = modes.flatMap((m) =>
    m.limit.kind !== 'junction' && m.airStops?.kind === 'junction' ? [{ name: m.name, atS: m.airStops.atS }] : [],
  )
  if (hot.length === 0) return []
  const firstS = Math.min(...hot.map((m) => m.atS))
  return [
    {
      rule: 'air-stops',
      severity: 'warning',
      title: `In still air ${namesByFirst(hot, (m) => m.atS)} ${hot.length > 1 ? 'take' : 'takes'} the emitters to their limit ${firstS === 0 ? 'at once' : `after ${seconds(firstS)}`}: nothing steps down when ${cooling?.air.kind === 'fan' ? 'the fan stops' : 'the air stops moving'}.`,
      why: 'Fans wear out, clog and lose their plug, and wind drops. A second run of each mode takes the air as still from switch-on, the pack as full, cut-out and fold-back as failed; plastic and leads on the plate get hotter as well.',
      cure: 'Let each mode step down by the temperature of the plate or the junctions, or switch it off when the air stops; or more sink.',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
