// A mode that takes an emitter over its junction limit.
import type { Lamp } from '../../lamp/schema.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'
import { fullPackWords, most, type PowerParts } from '../powerParts.ts'
import { celsius, degreesC, mm, seconds } from '../words.ts'

export function junctionOver(lamp: Lamp, { modes }: PowerParts): Finding[] {
  // Air moved about a sink by its data sheet changes nothing here.
  const rated = ratedSinkOf(lamp) !== null
  return modes.flatMap((mode): Finding[] => {
    const { limit } = mode
    if (limit.kind !== 'junction') return []
    const board = limit.boardIndex ?? 0
    const name = lamp.boards[board]?.id ?? `${board + 1}`
    const settles = mode.steady
      ? `Left on it would go on to ${celsius(mode.steady.junctionMaxC)}.`
      : 'Left on it would go past any temperature that means something.'
    return [
      {
        rule: 'junction-over-limit',
        severity: lamp.cooling ? 'severe' : 'warning',
        title:
          limit.atS === 0
            ? `“${mode.name}”: the emitters of board ${name} are over their limit at once.`
            : `“${mode.name}”: after ${seconds(limit.atS)} the emitters of board ${name} reach their limit, ${degreesC(Math.round(most(mode.curves.junctionMaxC)))}.`,
        why: `${settles} Over its limit an emitter fades fast and its bonds let go. ${lamp.cooling ? 'The limit is the emitter’s own, from its data.' : `No cooling is described: a bare plate of ${mm(6)} is taken.`} The model takes front, tunnel and rim as giving off nothing: the hotter side.${fullPackWords(lamp)}`,
        cure: mode.steppedDown
          ? `Let it step down earlier or further, give it ${rated ? 'a sink of less resistance' : 'more sink or air'}, or less current.`
          : `Give this mode a step-down rule below the limit, ${rated ? 'a sink of less resistance' : 'more sink or moving air'}, or less current; and a switch that can’t be left on.`,
        place: { kind: 'board', boardIndex: board },
      },
    ]
  })
}
