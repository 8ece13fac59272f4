// A mode that drives more through an emitter than it bears.
import type { Lamp } from '../../lamp/schema.ts'
import { type Finding, partOf } from '../finding.ts'
import { namesByMost, type PowerParts, whereWords } from '../powerParts.ts'
import { amps, ampsAtMost } from '../words.ts'

/** Rounding of a current that was set to the emitter's own limit. */
const SAME = 1.0001

export function emitterCurrent(lamp: Lamp, { worst }: PowerParts): Finding[] {
  return worst.channels.flatMap((c, i): Finding[] => {
    const emitterA = (m: (typeof worst.modes)[number]) => m.channels[i]?.emitterA ?? 0
    const over = worst.modes.filter((m) => emitterA(m) > c.maxEmitterA * SAME)
    if (over.length === 0) return []
    const boardIndex = lamp.boards.findIndex((b) => c.ids.includes(b.id))
    return [
      {
        rule: 'emitter-over-current',
        severity: 'severe',
        title: `${namesByMost(over, emitterA, amps)}: up to ${amps(c.emitterA.value)} through each emitter of ${c.ids.length > 1 ? `${c.ids.length} channels (${c.ids[0]} and more)` : c.ids[0]}, which bears ${ampsAtMost(c.maxEmitterA)}.`,
        why: `Over its largest current an emitter’s bonds melt and it ages in minutes, however cool its board is. The limit is the emitter’s own, from its data. Worst: ${whereWords(c.emitterA, worst.celsius)}.`,
        cure: 'A smaller share or current in this mode, more strings in parallel, or emitters that bear more.',
        place: boardIndex < 0 ? { kind: 'part', part: 'emitters' } : { kind: 'board', boardIndex },
        parts: c.ids.map((id) => partOf({ kind: 'board', id })),
      },
    ]
  })
}
