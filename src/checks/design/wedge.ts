// Boards on wedges: what a tilt does to the board's own edges, and aimed optics of which the tracer takes more to turn than does.
import { boardTypeOf, placeEmitters, spaceFromBoard } from '../../lamp/place.ts'
import type { Board, Lamp } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import type { Finding } from '../finding.ts'
import { counted, deg, mm } from '../words.ts'

const TOLERANCE_MM = 0.01

/** Height of the lowest edge above the face, mm. */
function lowestMm(lamp: Lamp, board: Board): number {
  const path = outlinePath(boardTypeOf(lamp, board).outline)
  return path.reduce((least, [x, y]) => Math.min(least, spaceFromBoard(board, [x, y, 0])[2]), Number.POSITIVE_INFINITY)
}

export function underFace(lamp: Lamp): Finding[] {
  return lamp.boards.flatMap((board, boardIndex): Finding[] => {
    if (!board.wedge?.tiltDeg) return []
    const low = lowestMm(lamp, board)
    if (low >= -TOLERANCE_MM) return []
    const needed = Math.ceil(10 * ((board.heightMm ?? 0) - low)) / 10
    return [
      {
        rule: 'board-under-face',
        severity: 'severe',
        title: `The wedge puts an edge of ${board.id} ${mm(-low)} under the face.`,
        why: `A board tilted by ${deg(Math.abs(board.wedge.tiltDeg))} about its middle reaches as far down on one side as it rises on the other. Light that starts under the face is booked as blocked.`,
        cure: `Set its height to at least ${needed} mm, or tilt it less.`,
        place: { kind: 'board', boardIndex },
      },
    ]
  })
}

/** The emitter of an aimed reflector stays flat on its board; it is traced as turned with its reflector. */
export function aimedReflector(lamp: Lamp): Finding[] {
  const aimed = placeEmitters(lamp).filter(
    ({ optic, boardIndex, siteIndex }) =>
      optic.kind === 'reflector' &&
      (lamp.aimAt || lamp.boards[boardIndex]?.aim || lamp.boards[boardIndex]?.siteAims?.[siteIndex]),
  )
  const [first] = aimed
  if (!first) return []
  return [
    {
      rule: 'aimed-reflector',
      severity: 'note',
      title: `${counted(aimed.length, 'aimed reflector')} ${aimed.length === 1 ? 'is' : 'are'} traced with the emitter turned as well.`,
      why: 'On the board the emitter stays flat under the tilted reflector, so its beam is a little less even than the one shown.',
      cure: 'Tilt the board itself where that matters.',
      place: { kind: 'emitter', boardIndex: first.boardIndex, siteIndex: first.siteIndex },
    },
  ]
}
