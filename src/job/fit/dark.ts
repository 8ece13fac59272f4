// What may stay dark in the built lamp: a board, one string of a board (reversed, or a broken joint), or all boards of one channel.
import { makeEmitterTables } from '../../heat/emitterTables.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { channelsOf, parallelStrings } from '../../power/channels.ts'
import type { Cause, CauseKey } from './cause.ts'

/** A board, or one of its parallel strings, counted from 1. */
export interface DarkPart {
  board: string
  string?: number
}

export const isDarkKey = (key: CauseKey): boolean => key === 'dark' || key === 'darkString' || key === 'darkChannel'

/** More of a kind are not tried one by one. */
const MOST = 60

/** Boards, strings of boards with several, and channels of several boards; only as long as something else shines. */
export function darkCauses(lamp: Lamp): Cause[] {
  const lit = lamp.boards.filter((b) => b.currentA > 0)
  const plain = { unit: 'none', drawn: 0, tried: [0, 1], sideways: true } as const
  const boards =
    lit.length > 1 ? lit.slice(0, MOST).map(({ id }) => ({ ...plain, key: 'dark' as const, board: id })) : []
  const strings = lit
    .flatMap(({ id }) => {
      const count = parallelStrings(
        lamp,
        lamp.boards.findIndex((b) => b.id === id),
      )
      if (count < 2) return []
      return Array.from({ length: count }, (_, k) => ({
        ...plain,
        key: 'darkString' as const,
        board: id,
        string: k + 1,
      }))
    })
    .slice(0, MOST)
  const channels = channelsOf(lamp, powerOf(lamp).value)
    .filter((c) => c.boards.length > 1 && c.boards.length < lit.length)
    .slice(0, MOST)
    .map(({ id }) => ({ ...plain, key: 'darkChannel' as const, board: id }))
  return [...boards, ...strings, ...channels]
}

/** What such a cause leaves dark. */
export function darkParts(
  lamp: Lamp,
  { key, board, string }: { key: CauseKey; board?: string | undefined; string?: number | undefined },
): DarkPart[] {
  if (board === undefined) return []
  if (key === 'darkString' && string !== undefined) return [{ board, string }]
  if (key === 'darkChannel') {
    const channel = channelsOf(lamp, powerOf(lamp).value).find((c) => c.id === board)
    return (channel?.boards ?? []).flatMap((i) => {
      const id = lamp.boards[i]?.id
      return id === undefined ? [] : [{ board: id }]
    })
  }
  return key === 'dark' ? [{ board }] : []
}

/** Sites of a string, in the order that the board's type lists them: which emitters are wired together no document says. Our choice. */
const stringOfSite = (site: number, sites: number, strings: number): number =>
  Math.floor(site / Math.ceil(sites / strings)) + 1

/** Strings that still have light share the driver's current: so many times their own. */
const currentTimes = (strings: number, dark: number): number => (dark < strings ? strings / (strings - dark) : 1)

/** Flux of every emitter, lm, with parts dark; the other strings of such a board give more, by the emitter's own table. */
export function fluxWithout(lamp: Lamp, fluxLm: Float64Array, dark: readonly DarkPart[]): Float64Array {
  let at = 0
  const out = fluxLm.slice()
  for (const [b, board] of lamp.boards.entries()) {
    const type = lamp.boardTypes.find((t) => t.id === board.type)
    const count = type?.sites.length ?? 0
    const own = dark.filter((d) => d.board === board.id)
    const strings = parallelStrings(lamp, b)
    const off = new Set(own.flatMap((d) => d.string ?? []))
    const isOff = own.some((d) => d.string === undefined)
    const times = off.size > 0 ? fluxTimes(lamp, board, currentTimes(strings, off.size)) : 1
    for (let i = 0; i < count && own.length > 0; i++) {
      const isDark = isOff || off.has(stringOfSite(i, count, strings))
      out[at + i] = isDark ? 0 : times * (fluxLm[at + i] ?? 0)
    }
    at += count
  }
  return out
}

function fluxTimes(lamp: Lamp, board: Lamp['boards'][number], current: number): number {
  const type = lamp.boardTypes.find((t) => t.id === board.type)
  const emitter = lamp.emitterTypes.find((e) => e.id === type?.emitter)
  if (!emitter || !(board.currentA > 0)) return 1
  const { fluxLm } = makeEmitterTables(emitter)
  return fluxLm(current * board.currentA, emitter.ratedJunctionC) / fluxLm(board.currentA, emitter.ratedJunctionC)
}

/** A copy of the lamp with parts dark. A board with a dark string gets a type of its own, without that string's emitters. */
export function withDark(lamp: Lamp, dark: readonly DarkPart[]): Lamp {
  return dark.reduce(
    (of, part) => (part.string === undefined ? boardOff(of, part.board) : stringOff(of, part.board, part.string)),
    lamp,
  )
}

const boardOff = (lamp: Lamp, id: string): Lamp => ({
  ...lamp,
  boards: lamp.boards.map((b) => (b.id === id ? { ...b, currentA: 0 } : b)),
})

function stringOff(lamp: Lamp, id: string, string: number): Lamp {
  const at = lamp.boards.findIndex((b) => b.id === id)
  const board = lamp.boards[at]
  const type = lamp.boardTypes.find((t) => t.id === board?.type)
  if (!board || !type) return lamp
  const strings = parallelStrings(lamp, at)
  const rest = {
    ...type,
    id: `${type.id.slice(0, 40)} less ${string}`,
    sites: type.sites.filter((_, i) => stringOfSite(i, type.sites.length, strings) !== string),
    strings: strings - 1,
  }
  const known = lamp.boardTypes.some((t) => t.id === rest.id)
  const currentA = board.currentA * currentTimes(strings, 1)
  return {
    ...lamp,
    boardTypes: known ? lamp.boardTypes : [...lamp.boardTypes, rest],
    boards: lamp.boards.map((b) => (b.id === id ? { ...b, type: rest.id, currentA } : b)),
  }
}
