// Parallel strings share a current evenly only as far as their forward voltages agree.
import { boardTypeOf } from '../../lamp/place.ts'
import type { BoardType, Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { type Channel, channelsOf } from '../../power/channels.ts'
import { VOLTS_SPREAD } from '../../power/share.ts'
import { type Finding, partOf } from '../finding.ts'
import { type PowerParts, whereWords } from '../powerParts.ts'
import { amps, ampsAtMost, percent, percentUp } from '../words.ts'

/** So much more in one string passes without a word. */
const LET_PASS = 0.1

export function strings(lamp: Lamp, { worst }: PowerParts): Finding[] {
  const found: Finding[] = []
  const seen = new Set<string>()
  for (const [boardIndex, board] of lamp.boards.entries()) {
    const type = boardTypeOf(lamp, board)
    const count = type.strings ?? 1
    if (count === 1 || seen.has(type.id)) continue
    seen.add(type.id)
    if (type.sites.length % count !== 0) found.push(uneven(type, count, boardIndex))
  }
  return [...found, ...unlike(lamp), ...unbalanced(lamp, worst), ...oneOpens(lamp, worst)]
}

const uneven = (type: BoardType, count: number, boardIndex: number): Finding => ({
  rule: 'strings-unequal',
  severity: 'severe',
  title: `Board type “${type.name}”: ${type.sites.length} emitters can’t make ${count} equal strings.`,
  why: 'Side by side the shorter string takes all of the current, and more than it bears; the longer stays dark.',
  cure: `Use a number of strings that divides ${type.sites.length}, each with the same number in series.`,
  place: { kind: 'board', boardIndex },
})

function unlike(lamp: Lamp): Finding[] {
  if (!lamp.power) return []
  return channelsOf(lamp, powerOf(lamp).value).flatMap((channel): Finding[] => {
    const boards = channel.boards.flatMap((i) => lamp.boards[i] ?? [])
    const [first] = boards
    if (!first || boards.every((b) => b.type === first.type && b.currentA === first.currentA)) return []
    return [
      {
        rule: 'strings-unequal',
        severity: 'severe',
        title: `Group “${channel.group.name}” has boards of different type or current on one driver.`,
        why: 'One driver gives one current: unlike boards on it get what they were not meant for, and in parallel the one of lower voltage takes all.',
        cure: 'Put like boards into a group, or give each its own driver.',
        place: { kind: 'board', boardIndex: channel.boards[0] ?? 0 },
        parts: [partOf({ kind: 'board', id: channel.id })],
      },
    ]
  })
}

const parallelWords = (channel: Channel, type: BoardType): string =>
  channel.wired === 'parallel' && channel.boards.length > 1
    ? `Group “${channel.group.name}”: ${channel.boards.length} boards`
    : `Board type “${type.name}”: ${type.strings ?? 1} strings`

/** The table says what the string with the lowest voltage may take. */
function unbalanced(lamp: Lamp, worst: PowerParts['worst']): Finding[] {
  const channels = new Map(channelsOf(lamp, powerOf(lamp).value).map((c) => [c.id, c]))
  return worst.channels.flatMap((c): Finding[] => {
    const channel = channels.get(c.ids[0] ?? '')
    const boardIndex = channel?.boards[0]
    const board = boardIndex === undefined ? undefined : lamp.boards[boardIndex]
    if (!channel || boardIndex === undefined || !board) return []
    const type = boardTypeOf(lamp, board)
    const more = c.unevenA.value / c.emitterA.value - 1
    if (type.sites.length % (type.strings ?? 1) !== 0 || !(more > LET_PASS)) return []
    const over = c.unevenA.value > c.maxEmitterA
    const who = parallelWords(channel, type)
    return [
      {
        rule: 'strings-unbalanced',
        severity: over ? 'severe' : 'warning',
        title: `${who} in parallel may share unfairly: up to ${percentUp(more)} more in one, ${amps(c.unevenA.value)}.`,
        why: `Forward voltages differ by some ${percent(VOLTS_SPREAD)} from emitter to emitter (typical, from memory), boards on one face by some 20 K; the lower takes more, warms, falls further and takes more still.${over ? ` The emitter bears ${ampsAtMost(c.maxEmitterA)}.` : ''} Worst: ${whereWords(c.unevenA, worst.celsius)}. The run takes the shares as even.`,
        cure: 'One driver for each string, all in series, matched emitters, or a small resistor in each string.',
        place: { kind: 'board', boardIndex },
        parts: c.ids.map((id) => partOf({ kind: 'board', id })),
      },
    ]
  })
}

/** A driver holds its current whatever is left to take it: I/(n − 1) through each of the others (Kirchhoff). */
function oneOpens(lamp: Lamp, worst: PowerParts['worst']): Finding[] {
  const channels = new Map(channelsOf(lamp, powerOf(lamp).value).map((c) => [c.id, c]))
  return worst.channels.flatMap((c): Finding[] => {
    const channel = channels.get(c.ids[0] ?? '')
    const boardIndex = channel?.boards[0]
    const board = boardIndex === undefined ? undefined : lamp.boards[boardIndex]
    if (!channel || boardIndex === undefined || !board || c.strings < 2) return []
    const leftA = c.outA.value / (c.strings - 1)
    // Over its limit with all strings whole is a finding of its own.
    if (!(leftA > c.maxEmitterA) || c.emitterA.value > c.maxEmitterA) return []
    return [
      {
        rule: 'string-opens',
        severity: 'warning',
        title: `${parallelWords(channel, boardTypeOf(lamp, board))} in parallel: when one of ${c.strings} strings opens, ${amps(leftA)} pass each emitter of the others, which bears ${ampsAtMost(c.maxEmitterA)}.`,
        why: `The driver holds its current: a lead, contact or bond that opens leaves all of it to the other strings. They are shared evenly here; the next to fail is overloaded more. Worst: ${whereWords(c.outA, worst.celsius)}.`,
        cure: 'One driver for each string, all in series, less current, or a fuse or current limit in each string.',
        place: { kind: 'board', boardIndex },
        parts: c.ids.map((id) => partOf({ kind: 'board', id })),
      },
    ]
  })
}
