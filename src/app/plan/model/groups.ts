// Groups of boards as the plan shows them: a colour and a pattern each, and which are off in the mode that is traced.
import { isGroupOn } from '../../../lamp/groups.ts'
import { ownEntry } from '../../../lamp/ownEntry.ts'
import type { Board, Lamp } from '../../../lamp/schema.ts'

/** The view gives the tones their colours. */
export const GROUP_TONES = 6
/** Lines, so that nobody has to tell colours apart: rising, falling, upright, level, crossed; the first group stays plain. */
const GROUP_LINES = ['plain', 'rising', 'falling', 'upright', 'level', 'crossed'] as const
export type GroupLines = (typeof GROUP_LINES)[number]

export interface GroupMark {
  id: string
  name: string
  boards: number
  tone: number
  lines: GroupLines
  /** In the mode whose light is traced. */
  isOff: boolean
}

/** In the document's order; none for a lamp with one group. Lines repeat from the seventh on, with the tones shifted. */
export function groupMarks(lamp: Pick<Lamp, 'boards' | 'power' | 'heat'>): GroupMark[] {
  const groups = lamp.power?.groups ?? []
  if (groups.length < 2) return []
  const { heat } = lamp
  const mode = heat.kind === 'mode' ? lamp.power?.modes.find((m) => m.id === heat.mode) : undefined
  return groups.map(({ id, name }, i) => ({
    ...{ id, name, boards: lamp.boards.filter((b) => groupOf(lamp, b) === id).length },
    tone: (i + Math.floor(i / GROUP_TONES)) % GROUP_TONES,
    lines: GROUP_LINES[i % GROUP_LINES.length] ?? 'plain',
    isOff: mode !== undefined && (!isGroupOn(mode, id) || ownEntry(mode.groupA, id) === 0),
  }))
}

/** Id of a board's group; boards that name none belong to the first. */
export const groupOf = ({ power }: Pick<Lamp, 'power'>, board: Board): string =>
  board.group ?? power?.groups[0]?.id ?? ''
