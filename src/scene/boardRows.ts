// Boards that stop light, and the frames of tilted emitters.
import { boardRotation, boardTypeOf, type EmitterPlace, stopsLight } from '../lamp/place.ts'
import type { BoardType, Lamp } from '../lamp/schema.ts'
import * as BOARD from '../optics/boardRow.ts'
import * as FRAME from '../optics/frameRow.ts'

/**
 * Records of the boards that stop light (src/optics/boardRow.ts), lengths mm. A star board counts as its whole disc, one with corners of
 * its own as the rectangle about them and the origin's mirror of them.
 */
export function stoppingBoards(lamp: Lamp): Float32Array {
  const rows = lamp.boards.filter(stopsLight).map((board) => {
    const row = new Array<number>(BOARD.size).fill(0)
    row.splice(FRAME.rotation, FRAME.size, ...boardRotation(board), board.xMm, board.yMm, board.heightMm ?? 0)
    row.splice(BOARD.shape, 3, ...outlineNumbers(boardTypeOf(lamp, board).outline))
    return row
  })
  return Float32Array.from(rows.flat())
}

function outlineNumbers(outline: BoardType['outline']): [number, number, number] {
  switch (outline.shape) {
    case 'rectangle':
      return [0, outline.widthMm / 2, outline.heightMm / 2]
    case 'hexagon':
      return [1, outline.acrossMm / 2, outline.acrossMm / Math.sqrt(3)]
    case 'disc':
      return [2, outline.diameterMm / 2, outline.diameterMm / 2]
    case 'star':
      return [2, outline.acrossMm / 2, outline.acrossMm / 2]
    case 'polygon': {
      const far = (axis: 0 | 1) => Math.max(...outline.corners.map((corner) => Math.abs(corner[axis])))
      return [0, far(0), far(1)]
    }
  }
}

/** Frames of the emitters (src/optics/frameRow.ts), lengths mm; none when all stand on the face and look along the axis. */
export const emitterFrames = (places: readonly EmitterPlace[]): Float32Array =>
  places.every((place) => place.plain)
    ? new Float32Array(0)
    : Float32Array.from(places.flatMap((p) => [...p.rotation, p.xMm, p.yMm, p.baseZMm]))
