// Parallel strings share a current evenly only as far as their forward voltages agree.

import { makeEmitterTables } from '../../heat/emitterTables.ts'
import { boardTypeOf } from '../../lamp/place.ts'
import type { BoardType, EmitterType, Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { channelsOf } from '../../power/channels.ts'
import type { Finding } from '../finding.ts'
import { amps, percent } from '../words.ts'

/** Relative spread of forward voltage within one delivery (typical, from memory); in a string of n it falls as 1/√n. */
const SPREAD = 0.02

export function strings(lamp: Lamp): Finding[] {
  const emitterOf = new Map(lamp.emitterTypes.map((e) => [e.id, e]))
  const found: Finding[] = []
  const seen = new Set<string>()
  for (const [boardIndex, board] of lamp.boards.entries()) {
    const type = boardTypeOf(lamp, board)
    const count = type.strings ?? 1
    const key = `${type.id}|${board.currentA}`
    if (count === 1 || seen.has(key)) continue
    seen.add(key)
    if (type.sites.length % count !== 0) found.push(uneven(type, count, boardIndex))
    else
      found.push(
        ...hogging(
          emitterOf.get(type.emitter)!,
          type.sites.length / count,
          board.currentA,
          boardIndex,
          `Board type “${type.name}”: ${count} strings`,
        ),
      )
  }
  return [...found, ...groups(lamp)]
}

const uneven = (type: BoardType, count: number, boardIndex: number): Finding => ({
  rule: 'strings-unequal',
  severity: 'severe',
  title: `Board type “${type.name}”: ${type.sites.length} emitters can’t make ${count} equal strings.`,
  why: 'Side by side the shorter string takes all of the current, and more than it bears; the longer stays dark.',
  cure: `Use a number of strings that divides ${type.sites.length}, each with the same number in series.`,
  place: { kind: 'board', boardIndex },
})

/** A string whose voltage lies `SPREAD` below its neighbour's takes ΔV/(dV/dI) more. */
function hogging(emitter: EmitterType, series: number, currentA: number, boardIndex: number, who: string): Finding[] {
  const tables = makeEmitterTables(emitter)
  const slope = tables.slopeOhm(currentA)
  const apart = (SPREAD * tables.volts(currentA, emitter.ratedJunctionC)) / Math.sqrt(series)
  const more = slope > 0 ? apart / slope / currentA : 0
  if (!(more > 0.1)) return []
  const worstA = currentA * (1 + more)
  const over = worstA > emitter.maxCurrentA
  return [
    {
      rule: 'strings-unbalanced',
      severity: over ? 'severe' : 'warning',
      title: `${who} side by side may share unfairly: up to ${percent(more)} more in one, ${amps(worstA)}.`,
      why: `Forward voltages differ by some ${percent(SPREAD)} from emitter to emitter (typical, from memory); the lower takes more, warms, falls further and takes more still.${over ? ` The emitter bears ${amps(emitter.maxCurrentA)}.` : ''} The run takes the shares as even.`,
      cure: 'One driver for each string, all in series, matched emitters, or a small resistor in each string.',
      place: { kind: 'board', boardIndex },
    },
  ]
}

function groups(lamp: Lamp): Finding[] {
  if (!lamp.power) return []
  const emitterOf = new Map(lamp.emitterTypes.map((e) => [e.id, e]))
  return channelsOf(lamp, powerOf(lamp).value).flatMap((channel): Finding[] => {
    if (channel.boards.length < 2) return []
    const boards = channel.boards.map((i) => lamp.boards[i]!)
    const first = boards[0]!
    if (boards.some((b) => b.type !== first.type || b.currentA !== first.currentA)) {
      return [
        {
          rule: 'strings-unequal',
          severity: 'severe',
          title: `Group “${channel.group.name}” has boards of different type or current on one driver.`,
          why: 'One driver gives one current: unlike boards on it get what they were not meant for, and side by side the one of lower voltage takes all.',
          cure: 'Put like boards into a group, or give each its own driver.',
          place: { kind: 'board', boardIndex: channel.boards[0]! },
        },
      ]
    }
    if (channel.wired !== 'parallel') return []
    const type = boardTypeOf(lamp, first)
    const series = Math.max(1, Math.floor(type.sites.length / (type.strings ?? 1)))
    return hogging(
      emitterOf.get(type.emitter)!,
      series,
      first.currentA,
      channel.boards[0]!,
      `Group “${channel.group.name}”: ${boards.length} boards`,
    )
  })
}
