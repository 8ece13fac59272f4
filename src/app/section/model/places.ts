// Where a finding's place lies on the section.
import type { Place } from '../../../checks/finding.ts'
import { spaceFromBoard } from '../../../lamp/place.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import { axesOf, type Cut } from '../../common/cut.ts'

/** Centre (z, r) of the place and radius of a ring about it, mm; null when the section can't show it. */
export function ringOfPlace(lamp: Lamp, place: Place, cut: Cut): { zMm: number; rMm: number; ringMm: number } | null {
  const { r } = axesOf(cut)
  if (place.kind === 'point') {
    return { zMm: place.zMm, rMm: r === 0 ? place.xMm : place.yMm, ringMm: 0 }
  }
  if (place.kind === 'part') return ringOfPart(lamp, place.part)
  const board = lamp.boards[place.boardIndex]
  if (!board) return null
  if (place.kind === 'board') return { zMm: board.heightMm ?? 0, rMm: r === 0 ? board.xMm : board.yMm, ringMm: 0 }
  const site = lamp.boardTypes.find((t) => t.id === board.type)?.sites[place.siteIndex]
  if (!site) return null
  const at = spaceFromBoard(board, [site.xMm, site.yMm, 0])
  return { zMm: at[2], rMm: at[r], ringMm: 0 }
}

function ringOfPart(lamp: Lamp, part: Extract<Place, { kind: 'part' }>['part']) {
  const { tunnel, lens, face } = lamp
  switch (part) {
    case 'lens':
      return lens ? { zMm: lens.zMm, rMm: 0, ringMm: lens.diameterMm / 2 } : null
    case 'tunnel':
      return tunnel
        ? {
            zMm: (tunnel.zInMm + tunnel.zOutMm) / 2,
            rMm: 0,
            ringMm: Math.hypot(tunnel.zOutMm - tunnel.zInMm, Math.max(tunnel.inMm, tunnel.outMm)) / 2,
          }
        : null
    case 'target':
      return null
    default:
      return { zMm: 0, rMm: 0, ringMm: face.sizeMm / 2 }
  }
}
