// Groups of boards as switches: which of them a mode has on, and what a contact that welds shut makes of it.
import type { Group, Lamp, Mode, Power } from './schema.ts'

/** Whether a mode has a group on. */
export const isGroupOn = ({ groupsOff }: Pick<Mode, 'groupsOff'>, group: string): boolean =>
  !(groupsOff?.includes(group) ?? false)

/** Places of a group's boards in `lamp.boards`; boards that name no group belong to the first. */
export const boardsOfGroup = (lamp: Pick<Lamp, 'boards'>, groups: readonly Group[], group: string): number[] =>
  lamp.boards.flatMap((b, i) => ((b.group ?? groups[0]?.id) === group ? [i] : []))

/**
 * The modes with every group on, as when the contacts of a relay weld shut or a driver's enable fails. None for a mode that has all of them on,
 * or whose like is a mode of the lamp itself.
 */
export function weldedModes({ modes }: Pick<Power, 'modes'>): Mode[] {
  const key = ({ share, groupA, stepDown }: Mode) => JSON.stringify([share, groupA ?? {}, stepDown])
  const known = new Set(modes.filter((m) => m.groupsOff === undefined).map(key))
  return modes.flatMap((mode) => {
    if (mode.groupsOff === undefined || known.has(key(mode))) return []
    const { groupsOff: _, ...on } = mode
    return { ...on, name: `${mode.name}, every group on` }
  })
}
