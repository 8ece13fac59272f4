// Where a finding's place lies on the section.
import type { Place } from '../../../checks/finding.ts'
import { elementsOf, labelOf, mappedElement } from '../../../lamp/assembly.ts'
import { faceHalfMm } from '../../../lamp/facePlate.ts'
import { spaceFromBoard } from '../../../lamp/place.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import { axesOf, type Cut, wallLine } from '../../common/cut.ts'
import { boxOf } from '../../common/piece.ts'

/** Centre (z, r) of the place and radius of a ring about it, mm; null when the section can't show it. */
export function ringOfPlace(lamp: Lamp, place: Place, cut: Cut): { zMm: number; rMm: number; ringMm: number } | null {
  const { r } = axesOf(cut)
  if (place.kind === 'point') {
    return { zMm: place.zMm, rMm: r === 0 ? place.xMm : place.yMm, ringMm: 0 }
  }
  if (place.kind === 'part') return ringOfPart(lamp, place, cut)
  const board = lamp.boards[place.boardIndex]
  if (!board) return null
  if (place.kind === 'board') return { zMm: board.heightMm ?? 0, rMm: r === 0 ? board.xMm : board.yMm, ringMm: 0 }
  const site = lamp.boardTypes.find((t) => t.id === board.type)?.sites[place.siteIndex]
  if (!site) return null
  const at = spaceFromBoard(board, [site.xMm, site.yMm, 0])
  return { zMm: at[2], rMm: at[r], ringMm: 0 }
}

function ringOfPart(lamp: Lamp, { part, of }: Extract<Place, { kind: 'part' }>, cut: Cut) {
  const { tunnel, face } = lamp
  switch (part) {
    case 'lens': {
      const piece = elementsOf(lamp).find((e) => labelOf(e) === of) ?? mappedElement(lamp)
      if (!piece) return null
      const { from, to } = boxOf(piece)
      const { r } = axesOf(cut)
      return { zMm: piece.zMm, rMm: (from[r] + to[r]) / 2, ringMm: (to[r] - from[r]) / 2 }
    }
    case 'tunnel': {
      if (!tunnel) return null
      const widest = Math.max(...wallLine(tunnel, cut, 1).map(([, r]) => r))
      const ringMm = Math.hypot(tunnel.zOutMm - tunnel.zInMm, 2 * widest) / 2
      return { zMm: (tunnel.zInMm + tunnel.zOutMm) / 2, rMm: 0, ringMm }
    }
    case 'target':
      return null
    default:
      return { zMm: 0, rMm: 0, ringMm: faceHalfMm(face) }
  }
}
