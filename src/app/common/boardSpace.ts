// Height, wedge and aims of boards: edits as pure functions. What is nought is left out of the document.
import type { Aim, Board, Lamp } from '../../lamp/schema.ts'
import { withBoards } from './boardEdits.ts'
import { readEmitterKey } from './selection.ts'

export const withHeight = (lamp: Lamp, ids: readonly string[], heightMm: number): Lamp =>
  withBoards(lamp, ids, ({ heightMm: _old, ...b }) => (heightMm === 0 ? b : { ...b, heightMm }))

export const withTilt = (lamp: Lamp, ids: readonly string[], tiltDeg: number): Lamp =>
  withBoards(lamp, ids, ({ wedge, ...b }) =>
    tiltDeg === 0 ? b : { ...b, wedge: { tiltDeg, axisDeg: wedge?.axisDeg ?? 0 } },
  )

export const withTiltAxis = (lamp: Lamp, ids: readonly string[], axisDeg: number): Lamp =>
  withBoards(lamp, ids, (b) => (b.wedge ? { ...b, wedge: { ...b.wedge, axisDeg } } : b))

const STRAIGHT: Aim = { xDeg: 0, yDeg: 0 }

/** Aim of all optics of the boards, single ones included; null: as the lamp has it. */
export const withAim = (lamp: Lamp, ids: readonly string[], part: Partial<Aim> | null): Lamp =>
  withBoards(lamp, ids, ({ siteAims: _single, aim, ...b }) =>
    part ? { ...b, aim: { ...STRAIGHT, ...aim, ...part } } : b,
  )

/** The same of single emitters; null: as their board. */
export function withEmitterAim(lamp: Lamp, keys: readonly string[], part: Partial<Aim> | null): Lamp {
  const sites = new Map<string, number[]>()
  for (const key of keys) {
    const { boardId, siteIndex } = readEmitterKey(key)
    sites.set(boardId, [...(sites.get(boardId) ?? []), siteIndex])
  }
  return withBoards(lamp, [...sites.keys()], ({ siteAims, ...b }) => {
    const aims: Record<string, Aim> = { ...siteAims }
    for (const i of sites.get(b.id) ?? []) {
      if (part) aims[i] = { ...STRAIGHT, ...(aims[i] ?? b.aim), ...part }
      else delete aims[i]
    }
    return Object.keys(aims).length > 0 ? { ...b, siteAims: aims } : b
  })
}

/** Aim of an emitter of a board as the document has it: its own, else the board's; null: neither. */
export const aimOf = (b: Pick<Board, 'aim' | 'siteAims'>, siteIndex: number): Aim | null =>
  b.siteAims?.[siteIndex] ?? b.aim ?? null
