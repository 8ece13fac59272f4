// A jig that holds the boards while they are put on the face: a plate with pockets. Boards lie in it face down, their backs a little proud;
// the face plate comes down on them, edge to edge with the jig, and both are turned over. Emitters reach through openings in its floor.
import { faceBox } from '../lamp/facePlate.ts'
import { boardTypeOf, lampFromBoard, liesFlat } from '../lamp/place.ts'
import type { Board, Lamp } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { fitsBed, mm } from './bed.ts'
import { BOARD_MM, boardRegion, emitterOf } from './boardsOnFace.ts'
import { UPSIDE_DOWN } from './elementBodies.ts'
import { faceRegion } from './facePlate.ts'
import type { Room } from './kernel.ts'
import { cannot, noNeed, type Printed, type PrintedPiece, SOFTENS } from './printed.ts'
import {
  box,
  cutRegion,
  disc,
  grown,
  joined,
  joinedRegion,
  movedRegion,
  outlines,
  placed,
  prism,
  type Region,
  type Solid,
  sharedRegion,
  withoutThin,
} from './shape.ts'

/** So much of a board stands out of its pocket, mm: the face plate must touch boards, not the jig. */
const PROUD_MM = 0.4

export function boardJig(room: Room, lamp: Lamp): Printed {
  const flat = lamp.boards.filter(liesFlat)
  if (lamp.boards.length === 0) return noNeed('The lamp has no boards.')
  if (flat.length === 0) return noNeed('No board lies flat on the face.')
  const { printer } = workshopOf(lamp)
  const { wallMm, clearanceMm } = printer
  const face = faceRegion(lamp)
  const pockets = joinedRegion(flat.map((board) => grown(regionOf(lamp, board), clearanceMm)))
  const posts = withoutThin(cutRegion(face, pockets), wallMm)
  if (room.measure(posts).areaMm2 < wallMm ** 2)
    return cannot(`The boards leave no wall of ${mm(wallMm)} between them or at the edge of the face.`)
  const floor = withoutThin(cutRegion(face, openings(lamp, flat, clearanceMm)), wallMm)
  if (room.measure(floor).parts !== 1)
    return cannot(
      `The emitters stand so close that a floor with walls of ${mm(wallMm)} between their openings falls apart.`,
    )
  const left = lamp.boards.length - flat.length
  const notes = [
    'Boards go in face down. The jig’s edge lies on the edge of the face; it goes on before the optics.',
    ...(left > 0 ? [`${left} boards on spacers or wedges have no pocket.`] : []),
    SOFTENS,
  ]
  return { ok: true, pieces: tiles(room, lamp, posts, floor), notes }
}

const regionOf = (lamp: Lamp, board: Board): Region =>
  movedRegion(boardRegion(boardTypeOf(lamp, board)), board.xMm, board.yMm, board.turnDeg)

function openings(lamp: Lamp, boards: readonly Board[], clearanceMm: number): Region {
  return joinedRegion(
    boards.flatMap((board) => {
      const type = boardTypeOf(lamp, board)
      const { bodyMm } = emitterOf(lamp, type)
      return type.sites.map((site) => disc(bodyMm + 2 * clearanceMm, ...lampFromBoard(board, site.xMm, site.yMm)))
    }),
  )
}

/** As it lies over the boards of the lamp, posts down to the face and the floor over the boards; then turned over, as it is printed. */
function jigSolid(posts: Region, floor: Region, wallMm: number): Solid {
  // The two overlap a little, so that they become one.
  const jig = joined([prism(posts, PROUD_MM, BOARD_MM + 0.01), prism(floor, BOARD_MM, BOARD_MM + wallMm)])
  return placed(jig, { rotation: UPSIDE_DOWN, shiftMm: [0, 0, 0] })
}

/** Equal tiles of a grid, seen as it is printed, from the lower left on; each by itself where it is more than one. */
function tiles(room: Room, lamp: Lamp, posts: Region, floor: Region): PrintedPiece[] {
  const { printer } = workshopOf(lamp)
  const { wallMm } = printer
  const { fromX, toX, fromY, toY } = faceBox(lamp.face)
  const [width, height] = [toX - fromX, toY - fromY]
  if (fitsBed(width, height, printer)) return [{ name: 'board jig', count: 1, solid: jigSolid(posts, floor, wallMm) }]
  const upright = Math.ceil(width / printer.bedXMm) * Math.ceil(height / printer.bedYMm)
  const across = Math.ceil(width / printer.bedYMm) * Math.ceil(height / printer.bedXMm)
  const [bedX, bedY] = upright <= across ? [printer.bedXMm, printer.bedYMm] : [printer.bedYMm, printer.bedXMm]
  const [columns, rows] = [Math.ceil(width / bedX), Math.ceil(height / bedY)]
  return Array.from({ length: rows * columns }, (_, i) => [Math.floor(i / columns), i % columns] as const).flatMap(
    ([row, column]) => {
      // Turned over, the lowest row is the face's uppermost.
      const [x, y] = [fromX + (column * width) / columns, toY - ((row + 1) * height) / rows]
      const tile = outlines(box(x, y, x + width / columns, y + height / rows))
      const base = sharedRegion(floor, tile)
      if (room.measure(base).areaMm2 < 1) return []
      const solid = jigSolid(sharedRegion(posts, tile), base, wallMm)
      return [{ name: `board jig, row ${row + 1}, column ${column + 1}`, count: 1, solid }]
    },
  )
}
