// Edits of groups of boards: made from boards, taken out of modes, given a relay and wires of their own.
import { boardsOfGroup, isGroupOn } from '../../lamp/groups.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Group, Lamp, Mode, Power } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'

/** Name of the group of each board, by the board's place. */
export function groupOfBoards(lamp: Lamp): string[] {
  const { groups } = powerOf(lamp).value
  return lamp.boards.map((b) => b.group ?? groups[0]?.id ?? '')
}

/** Assigns boards by id to a group; typical power is written into the document with them. */
export const withBoardsIn = (lamp: Lamp, group: string, boards: readonly string[]): Lamp => ({
  ...lamp,
  power: powerOf(lamp).value,
  boards: lamp.boards.map((b) => (boards.includes(b.id) ? { ...b, group } : b)),
})

/** A group of these boards, wired and driven as the first of them was; it is on where that was on. */
export function withNewGroup(lamp: Lamp, boards: readonly string[]): { lamp: Lamp; id: string } | { why: string } {
  const power = powerOf(lamp).value
  const of = groupOfBoards(lamp)
  const first = power.groups.find((g) => g.id === of[lamp.boards.findIndex((b) => boards.includes(b.id))])
  if (!first) return { why: 'Select the boards of the new group first.' }
  if (power.groups.length >= LIMITS.types) return { why: `A lamp has at most ${LIMITS.types} groups.` }
  const { id, name } = freeName(power.groups)
  const { relay: _, feed: __, ...like } = first
  const modes = power.modes.map((m) => (isGroupOn(m, first.id) ? m : withGroupsOff(m, [...(m.groupsOff ?? []), id])))
  const grown = { ...lamp, power: { ...power, modes, groups: [...power.groups, { ...like, id, name }] } }
  return { lamp: withBoardsIn(grown, id, boards), id }
}

function freeName(groups: readonly Group[]): { id: string; name: string } {
  const taken = new Set(groups.flatMap((g) => [g.id, g.name]))
  let n = groups.length + 1
  while (taken.has(`group ${n}`) || taken.has(`Group ${n}`)) n++
  return { id: `group ${n}`, name: `Group ${n}` }
}

/** Has a group on or off in a mode. */
export const withGroupOn = (power: Power, mode: string, group: string, on: boolean): Power => ({
  ...power,
  modes: power.modes.map((m) => {
    if (m.id !== mode || isGroupOn(m, group) === on) return m
    return withGroupsOff(m, on ? (m.groupsOff ?? []).filter((g) => g !== group) : [...(m.groupsOff ?? []), group])
  }),
})

function withGroupsOff(mode: Mode, groupsOff: string[]): Mode {
  const { groupsOff: _, ...rest } = mode
  return groupsOff.length > 0 ? { ...rest, groupsOff } : rest
}

/** The modes without anything that they say of a group. */
export const modesWithout = (modes: readonly Mode[], group: string): Mode[] =>
  modes.map((m) => {
    const { groupA, ...rest } = withGroupsOff(
      m,
      (m.groupsOff ?? []).filter((g) => g !== group),
    )
    if (!groupA) return rest
    const { [group]: _, ...left } = groupA
    return Object.keys(left).length > 0 ? { ...rest, groupA: left } : rest
  })

/** Ids of the boards of a group. */
export const boardIdsOf = (lamp: Lamp, group: string): string[] =>
  boardsOfGroup(lamp, powerOf(lamp).value.groups, group).flatMap((i) => lamp.boards[i]?.id ?? [])
