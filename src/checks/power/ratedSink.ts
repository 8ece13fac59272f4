// A sink by its data sheet: what it counts as, what it needs to stay so, and what it may not take.
import type { Lamp, Sink } from '../../lamp/schema.ts'
import { powerOf, ratedSinkOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'
import { fullPackWords, leftOnReason, most, namesByMost, namesOf, type PowerParts, topsOf } from '../powerParts.ts'
import { downThree, plain, upThree } from '../words.ts'

type RatedSink = Extract<Sink, { kind: 'rated' }>

const HEAT = { kind: 'part', part: 'heat' } as const

export function ratedSink(lamp: Lamp, parts: PowerParts): Finding[] {
  const sink = ratedSinkOf(lamp)
  if (!sink || lamp.boards.length === 0) return []
  return [...overRating(lamp, sink, parts), asStated(lamp, sink)]
}

function overRating(lamp: Lamp, { maxW }: RatedSink, { modes }: PowerParts): Finding[] {
  if (maxW === undefined) return []
  const takenW = (m: PowerParts['modes'][number]) => topsOf(m, (c) => c.sinkW).top
  const over = modes.filter((m) => takenW(m) > maxW)
  if (over.length === 0) return []
  const topW = most(over.map(takenW))
  return [
    {
      rule: 'sink-over-rating',
      severity: 'severe',
      title: `The sink takes ${upThree(topW)} W in ${namesByMost(over, takenW, upThree)}: over the ${downThree(maxW)} W of its data sheet.`,
      why: `Beyond it the stated resistance no longer holds: heat pipes dry out. Every temperature given for these modes is then too low, and every time too long. ${leftOnReason(over)}${fullPackWords(lamp)}`,
      cure: 'Take a sink for more heat, or less current; or step down before it gets there.',
      place: HEAT,
    },
  ]
}

/** A forced flow that stops takes the sink's cooling away; only a step-down by temperature notices. */
function asStated(lamp: Lamp, sink: RatedSink): Finding {
  const forced = sink.flow === 'forced'
  const blind = powerOf(lamp).value.modes.filter((m) => !m.stepDown || m.stepDown.watch === 'time')
  const unwatched = forced && blind.length > 0
  const counts = `${plain(sink.resistanceKW)} K/W and ${plain(sink.heatCapacityJK)} J/K`
  return {
    rule: 'sink-as-rated',
    severity: unwatched ? 'warning' : 'note',
    title: unwatched
      ? `The sink counts as rated, ${counts}, with its fan or pump running: nothing steps ${namesOf(blind)} down when that stops.`
      : `The sink counts as rated: ${counts}, ${forced ? 'with its fan or pump running' : 'in still air'}.`,
    why: `The resistance holds at every temperature and takes heat evenly from the whole back of the plate; a sink smaller than the plate leaves the plate’s rim and any board beyond it hotter than computed. ${
      forced
        ? 'Without its flow the sink hardly cools.'
        : 'In still air a resistance is larger at a small rise than at the rise of the data sheet, and larger when the sink doesn’t stand as it was measured.'
    } ${sink.maxW === undefined ? 'No largest heat is given, so none is checked. ' : ''}The air, surface and aim entered for the lamp don’t change it.`,
    cure: unwatched
      ? 'Let each mode step down by the temperature of the plate or the junctions, or switch it off when the flow stops.'
      : 'Take the resistance that the data sheet gives at this rise, this flow and this position, and add the joint between plate and sink.',
    place: HEAT,
  }
}
