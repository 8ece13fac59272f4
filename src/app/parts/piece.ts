// The piece that fields belong to: the lens, or one of the further elements.
import { createContext, useContext } from 'react'
import type { Lamp } from '../../lamp/schema.ts'
import type { Piece } from '../common/piece.ts'
import { withElement, withLens } from './edits.ts'

export interface PieceHost {
  /** Part of the keys of what is open. */
  id: string
  read(lamp: Lamp): Piece | null
  /** An entry given as undefined is taken away. */
  write(lamp: Lamp, part: object): Lamp
}

const LENS: PieceHost = { id: 'lens', read: (lamp) => lamp.lens, write: withLens }

export const elementHost = (at: number): PieceHost => ({
  id: `element${at}`,
  read: (lamp) => lamp.elements?.[at] ?? null,
  write: (lamp, part) => withElement(lamp, at, part),
})

export const PieceContext = createContext<PieceHost>(LENS)
export const usePiece = (): PieceHost => useContext(PieceContext)

/** Reads and writes one number; absent: `absent`, which is not written. */
export const bindNumber = (host: PieceHost, key: string, absent: number | null = null) => ({
  read: (lamp: Lamp): number | null => {
    const value = (host.read(lamp) as Record<string, unknown> | null)?.[key]
    return typeof value === 'number' ? value : absent
  },
  write: (lamp: Lamp, v: number): Lamp => host.write(lamp, { [key]: v === absent ? undefined : v }),
})
