// Selection of boards and emitters: toggling, stepping from board to board, and keys of emitters.
import type { Board, Lamp } from '../../lamp/schema.ts'

export const emitterKey = (boardId: string, siteIndex: number): string => `${boardId}:${siteIndex}`

/** The schema allows no colon in board ids. */
export function readEmitterKey(key: string): { boardId: string; siteIndex: number } {
  const at = key.lastIndexOf(':')
  return { boardId: key.slice(0, at), siteIndex: Number(key.slice(at + 1)) }
}

export const toggled = (chosen: readonly string[], id: string): string[] =>
  chosen.includes(id) ? chosen.filter((c) => c !== id) : [...chosen, id]

export const added = (chosen: readonly string[], more: readonly string[]): string[] => [
  ...new Set([...chosen, ...more]),
]

/** What is left of a selection on this lamp: boards and emitters that are gone drop out. The same lists where nothing has. */
export function livingSelection<S extends { boards: readonly string[]; emitters: readonly string[] }>(
  lamp: Pick<Lamp, 'boards' | 'boardTypes'>,
  { boards, emitters }: S,
): { boards: readonly string[]; emitters: readonly string[] } {
  if (boards.length + emitters.length === 0) return { boards, emitters }
  const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  const there = new Map(lamp.boards.map((b) => [b.id, sites.get(b.type) ?? 0]))
  const left = boards.filter((id) => there.has(id))
  const lit = emitters.filter((key) => {
    const { boardId, siteIndex } = readEmitterKey(key)
    return siteIndex < (there.get(boardId) ?? 0)
  })
  return {
    boards: left.length === boards.length ? boards : left,
    emitters: lit.length === emitters.length ? emitters : lit,
  }
}

/** Rows from the top down, each from the left: the order in which keys step through the boards. */
export function readingOrder<T extends Pick<Board, 'xMm' | 'yMm'>>(boards: readonly T[], rowMm = 2): T[] {
  return [...boards].sort((a, b) => Math.round(b.yMm / rowMm) - Math.round(a.yMm / rowMm) || a.xMm - b.xMm)
}

/** The id after `chosen` in `order`, wrapping around; the first (or last) without a selection. */
export function stepped(order: readonly string[], chosen: readonly string[], by: 1 | -1): string | null {
  if (order.length === 0) return null
  const at = order.indexOf(chosen[chosen.length - 1] ?? '')
  if (at < 0) return by > 0 ? order[0]! : order[order.length - 1]!
  return order[(at + by + order.length) % order.length]!
}

/** Emitters of the chosen boards (of all boards when none is chosen), in document order. */
export function emitterKeysOf(lamp: Lamp, boards: readonly string[]): string[] {
  const wanted = boards.length > 0 ? new Set(boards) : null
  const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  return lamp.boards.flatMap((b) =>
    wanted && !wanted.has(b.id) ? [] : Array.from({ length: sites.get(b.type) ?? 0 }, (_, i) => emitterKey(b.id, i)),
  )
}

/** Unused ids: B and a number above all those in use. */
export function freeBoardIds(boards: readonly Pick<Board, 'id'>[], count: number): string[] {
  let top = 0
  for (const b of boards) {
    const n = /^B(\d+)$/.exec(b.id)
    if (n) top = Math.max(top, Number(n[1]))
  }
  return Array.from({ length: count }, (_, i) => `B${top + 1 + i}`)
}
