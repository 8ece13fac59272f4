// Where a place is: in front of the lamp, inside of it, or beside and behind it.
import type { Lamp } from '../../src/lamp/schema.ts'
import type { Zone } from './lamps.ts'
import { placeLens } from './lenses.ts'
import { placeWalls } from './tunnel.ts'

/** z of the foremost part. */
export function frontOf(lamp: Lamp): number {
  const tops = lamp.boards.map((board) => {
    const type = lamp.boardTypes.find((t) => t.id === board.type)
    const emitter = lamp.emitterTypes.find((e) => e.id === type?.emitter)
    const optic = lamp.opticTypes.find((o) => o.id === (board.optic ?? lamp.optic))
    return Math.max(emitter?.heightMm ?? 0, optic?.kind === 'collimator' ? optic.heightMm : 0)
  })
  return Math.max(0, ...tops, lamp.tunnel?.zOutMm ?? 0, lamp.lens ? placeLens(lamp.lens).backMm : 0)
}

/** No lamp here has a rectangle; a polygon’s size holds its corners. */
const FACE_SIDES = { round: 0, square: 4, hexagon: 6, rectangle: 4, polygon: 0 } as const

/** Half of the widest part, to the corners. */
export function reachOf(lamp: Lamp): number {
  const { face, tunnel, lens } = lamp
  const corner = (sides: number) => (sides === 0 ? 1 : 1 / Math.cos(Math.PI / sides))
  const ofFace = (face.sizeMm / 2) * corner(FACE_SIDES[face.shape])
  const ofTunnel = tunnel ? (Math.max(tunnel.inMm, tunnel.outMm) / 2) * corner(tunnel.sides) : 0
  return Math.max(ofFace, ofTunnel, (lens?.diameterMm ?? 0) / 2)
}

/** Just within the borders, so that both sides mean the same places. In a tunnel, the air inside of it. */
const MARGIN_MM = 1
/** Half a disc beyond the outline and a little: a disc there meets no light that runs inside. */
const OUTSIDE_MM = 6

export function placesOf(lamp: Lamp, zone: Zone): (x: number, y: number, z: number) => boolean {
  const front = frontOf(lamp)
  if (zone === 'front') return (_x, _y, z) => z >= front + MARGIN_MM
  const reach = reachOf(lamp)
  if (zone === 'outside') return (x, y, z) => z < front && (z < -OUTSIDE_MM || Math.hypot(x, y) > reach + OUTSIDE_MM)
  const walls = lamp.tunnel && placeWalls(lamp.tunnel)
  const top = lamp.lens ? placeLens(lamp.lens).frontMm : front
  return (x, y, z) => {
    if (z < MARGIN_MM || z > top - MARGIN_MM || Math.hypot(x, y) > reach) return false
    return !walls || z < walls.zInMm || z > walls.zOutMm || walls.inside(x, y, z)
  }
}
