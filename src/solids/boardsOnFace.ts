// Boards where they stand, with their emitters and optics. Each kind is one solid in its own frame; a lamp places it many times.
import { boardRotation, boardTypeOf, type EmitterPlace, placeEmitters, spaceFromBoard } from '../lamp/place.ts'
import type { Board, BoardType, EmitterType, Lamp, OpticType } from '../lamp/schema.ts'
import { outlinePath } from '../layout/outline.ts'
import { TYPICAL_BOARD } from '../library/typicalPower.ts'
import { NO_TURN, turnAboutZ } from '../num/rotation.ts'
import {
  cutRegion,
  disc,
  frustum,
  joinedRegion,
  joinPlaces,
  outlines,
  type Place,
  prism,
  type Region,
  rectangle,
  type Solid,
  turnedTube,
} from './shape.ts'

/** Thickness that boards are taken to have, mm: typical of a metal-core board. */
export const BOARD_MM = TYPICAL_BOARD.metalMm + TYPICAL_BOARD.dielectricMm

/** Thinnest that a board is drawn where its emitters' surface lies lower than a board is thick (a check lamp's at 0), mm. */
const LEAST_BOARD_MM = 0.2

/** Sheet of a bought reflector, mm (our choice). */
const REFLECTOR_MM = 0.5

/** Height of the emitting layer in the model, mm, so that it is seen. */
const LAYER_MM = 0.05

const DEG = 180 / Math.PI

/** Step of curves on boards, degrees: a board of 36 mm stays within 0.03 mm. */
const STEP_DEG = 5

export const boardRegion = (type: BoardType): Region => outlines(outlinePath(type.outline, STEP_DEG))

export const boardThicknessMm = (emitter: EmitterType): number =>
  Math.min(BOARD_MM, Math.max(LEAST_BOARD_MM, emitter.heightMm))

export const emitterOf = (lamp: Lamp, type: BoardType): EmitterType => {
  const found = lamp.emitterTypes.find((e) => e.id === type.emitter)
  if (!found) throw new Error(`solids: no emitter type called "${type.emitter}"`) // read.ts refuses such documents
  return found
}

/** In the board's own frame, its underside on z = 0. */
function boardSolid(lamp: Lamp, type: BoardType): Solid {
  const holes = (type.holes ?? []).map((h) => disc(h.diameterMm, h.xMm, h.yMm))
  const region = holes.length > 0 ? cutRegion(boardRegion(type), joinedRegion(holes)) : boardRegion(type)
  return prism(region, 0, boardThicknessMm(emitterOf(lamp, type)))
}

/** Its package, and the layer that emits, in its own frame from the board's underside on. */
function emitterSolids(emitter: EmitterType): { body: Solid; layer: Solid } {
  const from = boardThicknessMm(emitter)
  const top = Math.max(emitter.heightMm, from + LAYER_MM)
  const { source } = emitter
  const region =
    source.shape === 'disc' ? disc(source.diameterMm) : outlines(rectangle(source.widthMm, source.heightMm))
  return { body: frustum(emitter.bodyMm, emitter.bodyMm, from, top), layer: prism(region, top, top + LAYER_MM) }
}

/** Radius of a reflector at a height over the emitter's foot, mm; its focus is at the emitting surface, moved by `shift`. */
export function reflectorProfile(
  emitter: EmitterType,
  optic: Extract<OpticType, { kind: 'reflector' }>,
): { rMm: number; zMm: number }[] {
  const vertexMm = emitter.heightMm - optic.shiftZMm - optic.focalMm
  const rim = optic.exitDiameterMm / 2
  const rimMm = vertexMm + rim ** 2 / (4 * optic.focalMm)
  const from = Math.max(boardThicknessMm(emitter), vertexMm)
  const neck = Math.min(rim, Math.max(emitter.bodyMm / 2, Math.sqrt(4 * optic.focalMm * (from - vertexMm))))
  const steps = 24
  return Array.from({ length: steps + 1 }, (_, i) => {
    const rMm = neck + ((rim - neck) * i) / steps
    return { rMm, zMm: vertexMm + rMm ** 2 / (4 * optic.focalMm) }
  }).filter(({ zMm }) => zMm <= rimMm + 1e-9)
}

/** In the emitter's frame; null where there is none, or nothing of it stands over the board. */
function opticSolid(emitter: EmitterType, optic: OpticType): Solid | null {
  if (optic.kind === 'bare') return null
  if (optic.kind === 'collimator') {
    const from = Math.max(emitter.heightMm, boardThicknessMm(emitter)) + 2 * LAYER_MM
    const to = Math.max(optic.heightMm, from + 0.5)
    return frustum(Math.min(emitter.bodyMm, optic.exitDiameterMm), optic.exitDiameterMm, from, to)
  }
  const inner = reflectorProfile(emitter, optic)
  const [first, last] = [inner[0], inner.at(-1)]
  if (!first || !last || last.rMm - first.rMm < 0.05) return null
  // The sheet lies outside, as thick across its slope as along the axis it is wide.
  const outer = inner.map(({ rMm, zMm }) => ({
    rMm: rMm + (REFLECTOR_MM * Math.hypot(1, rMm / (2 * optic.focalMm))) / (rMm / (2 * optic.focalMm)),
    zMm,
  }))
  return turnedTube(outer, inner)
}

export interface PlacedPart {
  name: string
  material: 'board' | 'package' | 'light' | 'optic'
  solid: Solid
  place: Place
}

/** Of one board: its own frame in the lamp's. */
const boardPlace = (board: Board): Place => ({
  rotation: boardRotation(board),
  shiftMm: spaceFromBoard(board, [0, 0, 0]),
})

const memo = <T>(make: (key: string) => T): ((key: string) => T) => {
  const known = new Map<string, T>()
  return (key) => {
    const found = known.get(key)
    if (found !== undefined || known.has(key)) return found as T
    const made = make(key)
    known.set(key, made)
    return made
  }
}

/** Boards by their ids, then each board's emitters and optics, counted from 1 as its type lists them. */
export function boardParts(lamp: Lamp): PlacedPart[] {
  const typeOf = (id: string) => boardTypeOf(lamp, { type: id } as Board)
  const boardOf = memo((id) => boardSolid(lamp, typeOf(id)))
  const packageOf = memo((id) => emitterSolids(emitterOf(lamp, typeOf(id))))
  const byOptic = new Map<string, Solid | null>()
  const opticOf = ({ emitter, optic }: EmitterPlace): Solid | null => {
    const key = `${emitter.id}/${optic.id}`
    const known = byOptic.get(key)
    if (known !== undefined) return known
    const made = opticSolid(emitter, optic)
    byOptic.set(key, made)
    return made
  }
  const places = placeEmitters(lamp)
  let next = 0
  return lamp.boards.flatMap((board, index) => {
    const at = boardPlace(board)
    const type = typeOf(board.type)
    const parts: PlacedPart[] = [
      { name: `Board ${board.id}`, material: 'board', solid: boardOf(board.type), place: at },
    ]
    for (let place = places[next]; place?.boardIndex === index; place = places[++next]) {
      const n = `${board.id}.${place.siteIndex + 1}`
      const site = type.sites[place.siteIndex]
      const { body, layer } = packageOf(board.type)
      const turn = turnAboutZ((site?.turnDeg ?? 0) / DEG)
      const own = joinPlaces(at, { rotation: turn, shiftMm: [site?.xMm ?? 0, site?.yMm ?? 0, 0] })
      parts.push({ name: `Emitter ${n}`, material: 'package', solid: body, place: own })
      parts.push({ name: `Light of ${n}`, material: 'light', solid: layer, place: own })
      const solid = opticOf(place)
      if (solid) parts.push({ name: `Optic ${n}`, material: 'optic', solid, place: opticPlace(place) })
    }
    return parts
  })
}

/** A reflector stands so that its emitter is moved from its focus; its height is in its profile. */
function opticPlace(place: EmitterPlace): Place {
  const at: Place = { rotation: place.rotation, shiftMm: [place.xMm, place.yMm, place.baseZMm] }
  const { optic } = place
  if (optic.kind !== 'reflector') return at
  return joinPlaces(at, { rotation: NO_TURN, shiftMm: [-optic.shiftXMm, -optic.shiftYMm, 0] })
}
