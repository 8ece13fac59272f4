// Boards on wedges: what a tilt does to the board's own edges, and aimed optics of which the tracer takes more to turn than does.

import { elementsOf } from '../../lamp/assembly.ts'
import { elementSpan } from '../../lamp/body.ts'
import { topZMm } from '../../lamp/front.ts'
import { boardTypeOf, liesFlat, placeEmitters, spaceFromBoard, stopsLight } from '../../lamp/place.ts'
import type { Board, Lamp } from '../../lamp/schema.ts'
import { pastWallMm } from '../../lamp/section.ts'
import { outlinePath } from '../../layout/outline.ts'
import { sizeText } from '../../num/quantity.ts'
import type { Finding } from '../finding.ts'
import { counted, deg, mm, mmAtLeast, upThree } from '../words.ts'

const TOLERANCE_MM = 0.01

/** Heights of a board's corners above the face, mm. */
const heightsMm = (lamp: Lamp, board: Board): number[] =>
  outlinePath(boardTypeOf(lamp, board).outline).map(([x, y]) => spaceFromBoard(board, [x, y, 0])[2])
const lowestMm = (lamp: Lamp, board: Board): number => Math.min(...heightsMm(lamp, board))
const highestMm = (lamp: Lamp, board: Board): number => Math.max(...heightsMm(lamp, board))

export function underFace(lamp: Lamp): Finding[] {
  return lamp.boards.flatMap((board, boardIndex): Finding[] => {
    if (!board.wedge?.tiltDeg) return []
    const low = lowestMm(lamp, board)
    if (low >= -TOLERANCE_MM) return []
    const needed = Math.ceil(10 * ((board.heightMm ?? 0) - low) - 1e-9) / 10
    return [
      {
        rule: 'board-under-face',
        severity: 'severe',
        title: `The wedge puts an edge of ${board.id} ${mm(-low)} under the face.`,
        why: `A board tilted by ${deg(Math.abs(board.wedge.tiltDeg))} about its middle reaches as far down on one side as it rises on the other. Light that starts under the face is booked as blocked.`,
        cure: `Set its height to at least ${sizeText(String(needed), needed, 2, 'up')}, or tilt it less.`,
        place: { kind: 'board', boardIndex },
      },
    ]
  })
}

/** A raised board that the tunnel's wall or the lens would run through, with its emitters. */
export function boardInTheWay(lamp: Lamp): Finding[] {
  const { tunnel } = lamp
  const tops = new Map<number, number>()
  for (const place of placeEmitters(lamp)) {
    if (!place.plain) tops.set(place.boardIndex, Math.max(tops.get(place.boardIndex) ?? 0, topZMm(place)))
  }
  const nearMm = Math.min(...elementsOf(lamp).map((element) => elementSpan(element)[0]))
  return [...lamp.boards.entries()].flatMap(([boardIndex, board]): Finding[] => {
    if (liesFlat(board)) return []
    const place = { kind: 'board', boardIndex } as const
    const corners = outlinePath(boardTypeOf(lamp, board).outline).map(([x, y]) => spaceFromBoard(board, [x, y, 0]))
    const found: Finding[] = []
    const past = corners.map(([x, y, z]) =>
      tunnel && z > tunnel.zInMm && z < tunnel.zOutMm ? pastWallMm(tunnel, { xMm: x, yMm: y, zMm: z }) : 0,
    )
    const most = Math.max(...past)
    if (most > TOLERANCE_MM)
      found.push({
        rule: 'board-in-wall',
        severity: 'severe',
        title: `${board.id} reaches ${mm(most)} through the tunnel’s wall.`,
        why: 'A raised board stands inside the tunnel: its plate and the wall can’t take up the same room.',
        cure: 'Move it inwards, lower it, or begin the tunnel higher or wider.',
        place,
      })
    const top = Math.max(highestMm(lamp, board), tops.get(boardIndex) ?? 0)
    if (top > nearMm)
      found.push({
        rule: 'board-in-lens',
        severity: 'severe',
        title: `${board.id} reaches ${mm(top - nearMm)} into the lens.`,
        why: 'With its emitters it stands higher than the lens begins; its light is not traced as it would go.',
        cure: 'Lower the board, or move the lens away.',
        place,
      })
    return found
  })
}

/** Aluminium alloy 6060, W/mK: 200 to 210 (handbook value, from memory); the lower end is the hotter side. */
const ALUMINIUM_WMK = 200

/** What stands between a raised board and the face has no say in the heat: by how much it would. */
export function spacerHeat(lamp: Lamp): Finding[] {
  const raised = [...lamp.boards.entries()].filter(([, board]) => !liesFlat(board))
  const [first] = raised
  if (!first) return []
  const thickest = raised.reduce((most, [, board]) => Math.max(most, highestMm(lamp, board)), 0)
  // mm/(W/mK) is 10⁻³ K m²/W, which is 10 K cm²/W.
  const kcm2W = (10 * thickest) / ALUMINIUM_WMK
  return [
    {
      rule: 'spacer-heat',
      severity: 'warning',
      title: `${counted(raised.length, 'board')} ${raised.length === 1 ? 'stands' : 'stand'} on spacers or wedges; the heat is computed as if the face were right behind.`,
      why: `Solid aluminium, ${mm(thickest)} where it is thickest, adds ${upThree(kcm2W)} K·cm²/W between board and face (thickness over ${ALUMINIUM_WMK} W/mK). Plastic, or posts with air between them, add hundreds of times as much: the emitters overheat.`,
      cure: 'Make them of solid aluminium over the whole board, and add that to the joint of the board type under Heat.',
      place: { kind: 'board', boardIndex: first[0] },
    },
  ]
}

/** Boards that stop no light let it through to the face's plane: what comes together over them is known to the danger sheet alone. */
export function throughBoards(lamp: Lamp): Finding[] {
  const through = [...lamp.boards.entries()].filter(([, board]) => !liesFlat(board) && !stopsLight(board))
  const [first] = through
  if (!first) return []
  const highest = through.reduce((most, [, board]) => Math.max(most, highestMm(lamp, board)), 0)
  return [
    {
      rule: 'returned-below-boards',
      severity: 'note',
      title: `Light that comes back is read on the face, not on ${counted(through.length, 'raised board')} up to ${mmAtLeast(highest)} above it.`,
      why: 'Boards tilted by 10° or less stop no light: it is followed to the plane of the face behind them. Where it comes together above that plane it is hotter on the board than this sheet says.',
      cure: 'Take what comes back to the boards from the danger sheet: it searches the air up to their tops.',
      place: { kind: 'board', boardIndex: first[0] },
    },
  ]
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
      why: 'On the board the emitter stays flat under the tilted reflector, so its beam is not quite the one shown.',
      cure: 'Tilt the board itself where that matters.',
      place: { kind: 'emitter', boardIndex: first.boardIndex, siteIndex: first.siteIndex },
    },
  ]
}
