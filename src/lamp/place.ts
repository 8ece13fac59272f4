// Where each emitter of a lamp is, and with which type and optic. One list, in document order: the tracer, the plan
// view and the findings all count emitters by it.
import type { Board, BoardType, EmitterType, Lamp, OpticType } from './schema.ts'

export interface EmitterPlace {
  boardIndex: number
  siteIndex: number
  xMm: number
  yMm: number
  /** Turn of the emitter about the lamp axis, board and site together. */
  turnDeg: number
  currentA: number
  emitter: EmitterType
  optic: OpticType
}

const byId = <T extends { id: string }>(rows: readonly T[], what: string) => {
  const map = new Map(rows.map((row) => [row.id, row]))
  return (id: string): T => {
    const found = map.get(id)
    if (!found) throw new Error(`lamp: no ${what} called "${id}"`) // read.ts refuses such documents
    return found
  }
}

export const boardTypeOf = (lamp: Lamp, board: Board): BoardType => byId(lamp.boardTypes, 'board type')(board.type)

/** A point of a board's own frame, in the lamp's frame. */
export function lampFromBoard(
  board: Pick<Board, 'xMm' | 'yMm' | 'turnDeg'>,
  xMm: number,
  yMm: number,
): [number, number] {
  const turn = (board.turnDeg * Math.PI) / 180
  const c = Math.cos(turn)
  const s = Math.sin(turn)
  return [board.xMm + c * xMm - s * yMm, board.yMm + s * xMm + c * yMm]
}

export function placeEmitters(lamp: Lamp): EmitterPlace[] {
  const typeOf = byId(lamp.boardTypes, 'board type')
  const emitterOf = byId(lamp.emitterTypes, 'emitter type')
  const opticOf = byId(lamp.opticTypes, 'optic type')
  const places: EmitterPlace[] = []
  for (const [boardIndex, board] of lamp.boards.entries()) {
    const type = typeOf(board.type)
    const emitter = emitterOf(type.emitter)
    for (const [siteIndex, site] of type.sites.entries()) {
      const [xMm, yMm] = lampFromBoard(board, site.xMm, site.yMm)
      const optic = opticOf(board.siteOptics?.[siteIndex] ?? board.optic ?? lamp.optic)
      const turnDeg = board.turnDeg + (site.turnDeg ?? 0)
      places.push({ boardIndex, siteIndex, xMm, yMm, turnDeg, currentA: board.currentA, emitter, optic })
    }
  }
  return places
}

/** Names of the optics on the face that are moulded of plastic: the document doesn't say of what, so every collimator. */
export const plasticOpticsOf = (lamp: Lamp): string[] => [
  ...new Set(placeEmitters(lamp).flatMap(({ optic }) => (optic.kind === 'collimator' ? [optic.name] : []))),
]
