// The lamp switched on in a bag, under a cloth or in a closed case: its sink exchanges no air.
import type { Lamp } from '../../lamp/schema.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { celsius, degreesC, seconds } from '../words.ts'

/** Film of polyethylene melts: as in src/library/thresholds.ts. */
const FILM_C = 105
/** Whoever lies on it is burnt in a minute: ISO 13732-1, bare metal 51 °C, cloth or plastic 60 °C (memory). */
const LEAST_COVER_C = 60

const place = { kind: 'part', part: 'heat' } as const
const CURE =
  'Lock the switch before it is packed, take the battery out, and let it cool first; a thermal cut-out or a step-down by the plate’s temperature ends it by itself.'

export function sinkCovered(lamp: Lamp, { covered, modes }: PowerParts): Finding[] {
  if (lamp.boards.length === 0 || modes.length === 0) return []
  if (!covered) return ratedSinkOf(lamp) ? [unknown] : []
  const isHot = covered.junctionS !== null
  if (!isHot && covered.coverC < LEAST_COVER_C) return []
  const open = modes.find((m) => m.id === covered.modeId)
  const onlyCovered = isHot && open?.limit.kind !== 'junction'
  const words = isHot
    ? `takes the emitters to their limit ${covered.junctionS === 0 ? 'at once' : `after ${seconds(covered.junctionS ?? 0)}`}${onlyCovered ? ', which it never does in the open' : ''}; left on, the plate`
    : 'keeps the emitters under their limit; the plate'
  return [
    {
      rule: 'sink-covered',
      severity: onlyCovered || covered.coverC > FILM_C ? 'warning' : 'note',
      title: `In a bag, under a cloth or in a closed case “${covered.mode}” ${words} gets ${covered.limit.kind === 'beyond' ? `past ${degreesC(400)} (the model ends there)` : `to ${celsius(covered.plateC)}`} and what covers it to ${celsius(covered.coverC)}.`,
      why: `No air passes the sink: heat goes through a layer of still air to the cover (two grey plates, Incropera and DeWitt; ISO 6946, 1.25 W/m²K: memory), and from it to still air outside, each about the envelope of plate and fins. The mode that draws most, from a full pack, protection failed, emitters and cells that go on; a coarse grid. Polyethylene film melts from ${degreesC(FILM_C)} on (memory). What lies on the lens is judged with the danger sheet.`,
      cure: CURE,
      place,
    },
  ]
}

const unknown: Finding = {
  rule: 'sink-covered',
  severity: 'note',
  title: 'How hot it gets in a bag, under a cloth or in a closed case isn’t computed.',
  why: 'The sink is known by its data sheet alone: its resistance holds with air or water about it. Covered it gets far hotter in less time.',
  cure: CURE,
  place,
}
