// The edits of the parts column as pure functions.
import type { BoardType, Element, EmitterType, KeepOut, Lamp, OpticType, Tunnel } from '../../lamp/schema.ts'

type Rows = 'emitterTypes' | 'opticTypes' | 'boardTypes'

/** Changes one row of a list of types; the others stay the same objects. */
const withRow = <T extends { id: string }>(rows: readonly T[], id: string, change: (row: T) => T): T[] =>
  rows.map((row) => (row.id === id ? change(row) : row))

export const withEmitter = (lamp: Lamp, id: string, part: Partial<EmitterType>): Lamp => ({
  ...lamp,
  emitterTypes: withRow(lamp.emitterTypes, id, (e) => ({ ...e, ...part })),
})
export const withOptic = (lamp: Lamp, id: string, part: object): Lamp => ({
  ...lamp,
  opticTypes: withRow(lamp.opticTypes, id, (o) => ({ ...o, ...part }) as OpticType),
})
export const withBoardType = (lamp: Lamp, id: string, part: Partial<BoardType>): Lamp => ({
  ...lamp,
  boardTypes: withRow(lamp.boardTypes, id, (b) => ({ ...b, ...part })),
})
export const withTunnel = (lamp: Lamp, part: Partial<Tunnel>): Lamp =>
  lamp.tunnel ? { ...lamp, tunnel: { ...lamp.tunnel, ...part } } : lamp
/** An entry given as undefined is taken away. */
const merged = <T extends object>(of: T, part: object): T =>
  Object.fromEntries(Object.entries({ ...of, ...part }).filter(([, value]) => value !== undefined)) as T

export const withLens = (lamp: Lamp, part: object): Lamp =>
  lamp.lens ? { ...lamp, lens: merged(lamp.lens, part) } : lamp
export const withElement = (lamp: Lamp, at: number, part: object): Lamp =>
  withElements(
    lamp,
    (lamp.elements ?? []).map((e, i) => (i === at ? merged(e, part) : e)),
  )
/** None: the lamp has no such entry. */
export function withElements(lamp: Lamp, elements: readonly Element[]): Lamp {
  const { elements: _, ...rest } = lamp
  return elements.length > 0 ? { ...rest, elements: [...elements] } : rest
}
export const withFace = (lamp: Lamp, part: Partial<Lamp['face']>): Lamp => ({
  ...lamp,
  face: { ...lamp.face, ...part },
})
export const withKeepOut = (lamp: Lamp, at: number, part: object): Lamp =>
  withFace(lamp, {
    keepOuts: lamp.face.keepOuts.map((k, i) => (i === at ? ({ ...k, ...part } as KeepOut) : k)),
  })

/** An unused id: the wished one, or that with a number appended. */
export function freeId(rows: readonly { id: string }[], wished: string): string {
  const stem = wished.replace(/[^\w .+-]/g, '').slice(0, 50) || 'type'
  if (!rows.some((r) => r.id === stem)) return stem
  for (let n = 2; ; n++) if (!rows.some((r) => r.id === `${stem} ${n}`)) return `${stem} ${n}`
}

const boardTypesOf = (lamp: Lamp, emitterId: string): Set<string> =>
  new Set(lamp.boardTypes.filter((t) => t.emitter === emitterId).map((t) => t.id))

/** Current of all boards with an emitter type; null when they differ or there are none. */
export function currentOf(lamp: Lamp, emitterId: string): number | null {
  const types = boardTypesOf(lamp, emitterId)
  return commonValue(lamp.boards.filter((b) => types.has(b.type)).map((b) => b.currentA))
}

export function withCurrentOf(lamp: Lamp, emitterId: string, currentA: number): Lamp {
  const types = boardTypesOf(lamp, emitterId)
  return { ...lamp, boards: lamp.boards.map((b) => (types.has(b.type) ? { ...b, currentA } : b)) }
}

/** The value shared by all entries, or null. */
export function commonValue<T>(values: readonly T[]): T | null {
  const first = values[0]
  return first !== undefined && values.every((v) => v === first) ? first : null
}

/** Replaces an emitter type by a library class, under the same id; currents above its limit are set to its rated current. */
export function replacedEmitter(lamp: Lamp, id: string, by: EmitterType): Lamp {
  const types = boardTypesOf(lamp, id)
  return {
    ...lamp,
    emitterTypes: withRow(lamp.emitterTypes, id, () => ({ ...by, id })),
    boards: lamp.boards.map((b) =>
      types.has(b.type) && b.currentA > by.maxCurrentA ? { ...b, currentA: by.ratedCurrentA } : b,
    ),
  }
}

/** Whether anything in the lamp refers to a type. */
export function isUsed(lamp: Lamp, rows: Rows, id: string): boolean {
  if (rows === 'emitterTypes') return lamp.boardTypes.some((t) => t.emitter === id)
  if (rows === 'boardTypes') return lamp.boards.some((b) => b.type === id)
  return lamp.optic === id || lamp.boards.some((b) => b.optic === id || Object.values(b.siteOptics ?? {}).includes(id))
}

export const withoutType = (lamp: Lamp, rows: Rows, id: string): Lamp => ({
  ...lamp,
  [rows]: lamp[rows].filter((row) => row.id !== id),
})
