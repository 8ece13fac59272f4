// Where each emitter of a lamp is and which way it looks, and with which type and optic. One list, in document order: the tracer, the plan
// view and the findings all count emitters by it.
import {
  joinTurns,
  NO_TURN,
  type Rotation,
  turnAbout,
  turnAboutZ,
  turnOnto,
  turnVector,
  type Vector,
} from '../num/rotation.ts'
import type { Aim, Board, BoardType, EmitterType, Lamp, OpticType } from './schema.ts'

export interface EmitterPlace {
  boardIndex: number
  siteIndex: number
  /** Foot of its axis on the board: its emitting surface lies `heightMm` of its type farther along that axis. */
  xMm: number
  yMm: number
  /** Height of the foot above the face. */
  baseZMm: number
  /** Turn of the emitter about the lamp axis, board, site and optic together; of a tilted one about its own axis, before the tilt. */
  turnDeg: number
  /** From the emitter's own frame (its axis is z) to the lamp's. */
  rotation: Rotation
  /** Its axis is parallel to the lamp's, and its foot stands on the face. */
  plain: boolean
  currentA: number
  emitter: EmitterType
  optic: OpticType
}

const RAD = Math.PI / 180
const UP: Vector = [0, 0, 1]

const byId = <T extends { id: string }>(rows: readonly T[], what: string) => {
  const map = new Map(rows.map((row) => [row.id, row]))
  return (id: string): T => {
    const found = map.get(id)
    if (!found) throw new Error(`lamp: no ${what} called "${id}"`) // read.ts refuses such documents
    return found
  }
}

export const boardTypeOf = (lamp: Lamp, board: Board): BoardType => byId(lamp.boardTypes, 'board type')(board.type)

/** A point of a board's own frame, in the lamp's frame, seen from the front. */
export function lampFromBoard(
  board: Pick<Board, 'xMm' | 'yMm' | 'turnDeg' | 'wedge'>,
  xMm: number,
  yMm: number,
): [number, number] {
  if (board.wedge?.tiltDeg) {
    const [x, y] = turnVector(boardRotation(board), [xMm, yMm, 0])
    return [board.xMm + x, board.yMm + y]
  }
  const turn = (board.turnDeg * Math.PI) / 180
  const c = Math.cos(turn)
  const s = Math.sin(turn)
  return [board.xMm + c * xMm - s * yMm, board.yMm + s * xMm + c * yMm]
}

type Pose = Pick<Board, 'xMm' | 'yMm' | 'turnDeg' | 'heightMm' | 'wedge'>

/** Whether a board lies flat on the face. */
export const liesFlat = (board: Pick<Board, 'heightMm' | 'wedge'>): boolean => !board.heightMm && !board.wedge?.tiltDeg

/** From a board's own frame to the lamp's: the turn about +z, then the wedge's tilt about its axis in the face. */
export function boardRotation({ turnDeg, wedge }: Pick<Board, 'turnDeg' | 'wedge'>): Rotation {
  const turn = turnAboutZ(turnDeg * RAD)
  if (!wedge?.tiltDeg) return turn
  const axis = wedge.axisDeg * RAD
  return joinTurns(turnAbout([Math.cos(axis), Math.sin(axis), 0], wedge.tiltDeg * RAD), turn)
}

/** A point of a board's own frame (z above its surface), in the lamp's frame, with its height and wedge. */
export function spaceFromBoard(board: Pose, point: Vector): [number, number, number] {
  const [x, y, z] = turnVector(boardRotation(board), point)
  return [board.xMm + x, board.yMm + y, (board.heightMm ?? 0) + z]
}

/** A point of an emitter's own frame (z from its foot along its axis), in the lamp's frame. */
export function spaceFromEmitter(
  place: Pick<EmitterPlace, 'xMm' | 'yMm' | 'baseZMm' | 'rotation'>,
  point: Vector,
): [number, number, number] {
  const [x, y, z] = turnVector(place.rotation, point)
  return [place.xMm + x, place.yMm + y, place.baseZMm + z]
}

const known = new WeakMap<Lamp, readonly EmitterPlace[]>()

/** Made once for each document: every sheet asks for them a dozen times. Not to be written into. */
export function placeEmitters(lamp: Lamp): readonly EmitterPlace[] {
  let places = known.get(lamp)
  if (!places) {
    places = findPlaces(lamp)
    known.set(lamp, places)
  }
  return places
}

function findPlaces(lamp: Lamp): EmitterPlace[] {
  const typeOf = byId(lamp.boardTypes, 'board type')
  const emitterOf = byId(lamp.emitterTypes, 'emitter type')
  const opticOf = byId(lamp.opticTypes, 'optic type')
  const places: EmitterPlace[] = []
  for (const [boardIndex, board] of lamp.boards.entries()) {
    const type = typeOf(board.type)
    const emitter = emitterOf(type.emitter)
    const rotation = boardRotation(board)
    for (const [siteIndex, site] of type.sites.entries()) {
      const optic = opticOf(board.siteOptics?.[siteIndex] ?? board.optic ?? lamp.optic)
      const own = (site.turnDeg ?? 0) + (optic.kind === 'collimator' ? (optic.turnDeg ?? 0) : 0)
      const aim = optic.kind === 'bare' ? undefined : (board.siteAims?.[siteIndex] ?? board.aim)
      const turnDeg = board.turnDeg + own
      const { currentA } = board
      const looksStraight = optic.kind === 'bare' || !(aim ? aim.xDeg || aim.yDeg : lamp.aimAt)
      // Entries one by one: spread from a rest they took eighty times as long, and every sheet places the emitters several times.
      if (liesFlat(board) && looksStraight) {
        const [xMm, yMm] = lampFromBoard(board, site.xMm, site.yMm)
        const turned = turnAboutZ(turnDeg * RAD)
        places.push({
          boardIndex,
          siteIndex,
          xMm,
          yMm,
          baseZMm: 0,
          turnDeg,
          rotation: turned,
          plain: true,
          currentA,
          emitter,
          optic,
        })
        continue
      }
      // The optic turns about the middle of the emitting surface, which stays at its focus.
      const pivot = spaceFromBoard(board, [site.xMm, site.yMm, emitter.heightMm])
      const aimed = aim ? joinTurns(rotation, aimTurn(aim)) : joinTurns(lookAt(lamp, optic, rotation, pivot), rotation)
      const [ax, ay, az] = turnVector(aimed, UP)
      const h = emitter.heightMm
      places.push({
        boardIndex,
        siteIndex,
        xMm: pivot[0] - h * ax,
        yMm: pivot[1] - h * ay,
        baseZMm: pivot[2] - h * az,
        turnDeg,
        rotation: joinTurns(aimed, turnAboutZ(own * RAD)),
        plain: false,
        currentA,
        emitter,
        optic,
      })
    }
  }
  return places
}

/** About the board's x, then about its own y. */
const aimTurn = ({ xDeg, yDeg }: Aim): Rotation =>
  joinTurns(turnAbout([1, 0, 0], xDeg * RAD), turnAbout([0, 1, 0], yDeg * RAD))

/** The smallest turn that makes an optic look from where its emitter is at the point that the lamp's optics look at. */
function lookAt({ aimAt }: Lamp, optic: OpticType, rotation: Rotation, from: Vector): Rotation {
  if (!aimAt || optic.kind === 'bare') return NO_TURN
  const to: Vector = [aimAt.xMm - from[0], aimAt.yMm - from[1], 1000 * aimAt.distanceM - from[2]]
  const far = Math.hypot(...to)
  return far > 0 ? turnOnto(turnVector(rotation, UP), [to[0] / far, to[1] / far, to[2] / far]) : NO_TURN
}

/** Tilted by more than this, a board stops light itself; less, and light comes back to the plane z = 0 (a stated approximation). */
const STOPS_FROM_DEG = 10

/** Whether light meets the board as it stands, and not the face's plane under it. */
export const stopsLight = ({ wedge }: Pick<Board, 'wedge'>): boolean => Math.abs(wedge?.tiltDeg ?? 0) > STOPS_FROM_DEG

/** Names of the optics on the face that are moulded of plastic: the document doesn't say of what, so every collimator. */
export const plasticOpticsOf = (lamp: Lamp): string[] => [
  ...new Set(placeEmitters(lamp).flatMap(({ optic }) => (optic.kind === 'collimator' ? [optic.name] : []))),
]
