// The bodies of lenses, covers and films: how deep they are, and where they stand when they are moved and tilted.
import { type Rotation, turnVector, type Vector } from '../num/rotation.ts'
import { elementsOf, pieceHalves } from './assembly.ts'
import type { Element, Lamp, Lens } from './schema.ts'

const RAD = Math.PI / 180

/** Depth of a conic of vertex radius R and conic constant k at radius r (ISO 10110-12); NaN beyond its edge. */
export function conicSag(r: number, vertexRadius: number, conic: number): number {
  const c = 1 / vertexRadius
  return (c * r * r) / (1 + Math.sqrt(1 - (1 + conic) * c * c * r * r))
}

/** Nearest and farthest z of the lens's body, mm. The groove layer is taken as two pitches deep (our choice; only facets steeper than 63° reach deeper). */
export function lensSpan(lens: Lens): [number, number] {
  if (lens.kind === 'ideal') return [lens.zMm, lens.zMm]
  if (lens.kind === 'solid') {
    return lens.curved === 'target' ? [lens.zMm, lens.zMm + lens.thicknessMm] : [lens.zMm - lens.thicknessMm, lens.zMm]
  }
  const layer = 2 * lens.pitchMm
  return lens.grooves === 'target'
    ? [lens.zMm, lens.zMm + lens.thicknessMm + layer]
    : [lens.zMm - layer, lens.zMm + lens.thicknessMm]
}

type Placed = Pick<Element, 'decentreXMm' | 'decentreYMm' | 'tiltXDeg' | 'tiltYDeg' | 'turnDeg'>

/**
 * The nine numbers, by rows, of the rotation Rx·Ry·Rz that takes an element's own frame into the lamp's: tilted about its own x, then its
 * own y, then turned about its own z, right-handed.
 */
export function rotationOf({ tiltXDeg = 0, tiltYDeg = 0, turnDeg = 0 }: Placed): Rotation {
  const [xc, xs] = [Math.cos(tiltXDeg * RAD), Math.sin(tiltXDeg * RAD)]
  const [yc, ys] = [Math.cos(tiltYDeg * RAD), Math.sin(tiltYDeg * RAD)]
  const [zc, zs] = [Math.cos(turnDeg * RAD), Math.sin(turnDeg * RAD)]
  return [
    ...[yc * zc, -yc * zs, ys],
    ...[xc * zs + xs * ys * zc, xc * zc - xs * ys * zs, -xs * yc],
    ...[xs * zs - xc * ys * zc, xs * zc + xc * ys * zs, xc * yc],
  ] as unknown as Rotation
}

/** From the frame of an element whose origin is (decentre, zMm) into the lamp, mm. */
export function fromFrame(element: Placed & { zMm: number }, point: Vector): Vector {
  const [x, y, z] = turnVector(rotationOf(element), point)
  return [x + (element.decentreXMm ?? 0), y + (element.decentreYMm ?? 0), z + element.zMm]
}

/** The planes of its body in its own frame, mm from its origin: towards the source, towards the target. */
export function bodyPlanes(element: Element | Lens): [number, number] {
  if (element.kind === 'diffuser') return [0, 0]
  if (element.kind === 'cover') return [0, element.thicknessMm]
  return lensSpan({ ...element, zMm: 0 })
}

/** Least and greatest place of the body along a direction of the lamp (unit vector), mm from its origin. */
export function spanAlong(element: Element | Lens, [nx, ny, nz]: Vector): [number, number] {
  const r = rotationOf(element)
  const [x, y, z] = [0, 1, 2].map(
    (k) => (r[k] ?? 0) * nx + (r[k + 3] ?? 0) * ny + (r[k + 6] ?? 0) * nz,
  ) as unknown as Vector
  const { round, xMm, yMm } = pieceHalves(element)
  const reach = round ? xMm * Math.hypot(x, y) : xMm * Math.abs(x) + yMm * Math.abs(y)
  const middle = (element.decentreXMm ?? 0) * nx + (element.decentreYMm ?? 0) * ny + element.zMm * nz
  const [front, back] = bodyPlanes(element)
  return [middle + Math.min(front * z, back * z) - reach, middle + Math.max(front * z, back * z) + reach]
}

/** Least and greatest z of the body in the lamp, mm. */
export const elementSpan = (element: Element | Lens): [number, number] => spanAlong(element, [0, 0, 1])

/** Direction of the frame's z in the lamp: the element's normal. */
export function normalOf(element: Placed): Vector {
  const r = rotationOf(element)
  return [r[2], r[5], r[8]]
}

/** z of the foremost of its elements, mm; null without any. */
export function foremostZMm(lamp: Lamp): number | null {
  const all = elementsOf(lamp)
  return all.length > 0 ? Math.max(...all.map((e) => elementSpan(e)[1])) : null
}

/** Corners of the box about its body, in the lamp, mm. */
function bodyCorners(element: Element | Lens): Vector[] {
  const { xMm, yMm } = pieceHalves(element)
  return bodyPlanes(element).flatMap((z) =>
    [-1, 1].flatMap((sx) => [-1, 1].map((sy) => fromFrame(element, [sx * xMm, sy * yMm, z]))),
  )
}

/** Farthest that its body reaches from the lamp's axis, mm. */
function reachFromAxisMm(element: Element | Lens): number {
  const { round, xMm } = pieceHalves(element)
  if (round) return Math.hypot(element.decentreXMm ?? 0, element.decentreYMm ?? 0) + xMm
  return bodyCorners(element).reduce((most, [x, y]) => Math.max(most, Math.hypot(x, y)), 0)
}

/** The same of the widest of the lamp's elements; null without any. */
export function widestReachMm(lamp: Lamp): number | null {
  const all = elementsOf(lamp)
  return all.length > 0 ? Math.max(...all.map(reachFromAxisMm)) : null
}

/** The middle and points of the outline in the piece's frame, mm: corners, or so many on a round one. */
export function outlinePoints(piece: Element | Lens, steps = 72): (readonly [number, number])[] {
  const { round: isRound, xMm, yMm } = pieceHalves(piece)
  const corners = [-1, 1].flatMap((sx) => [-1, 1].map((sy) => [sx * xMm, sy * yMm] as const))
  const circle = Array.from({ length: steps }, (_, i) => (2 * Math.PI * i) / steps)
  return [[0, 0], ...(isRound ? circle.map((at) => [xMm * Math.cos(at), xMm * Math.sin(at)] as const) : corners)]
}

/** z of a plane of the piece, hMm over its own, where a line along the lamp's z meets it; null beside the piece. */
export function surfaceZ(piece: Element | Lens, x: number, y: number, hMm: number): number | null {
  const [xx, xy, nx, yx, yy, ny, zx, zy, nz] = rotationOf(piece)
  const [x0, y0, z0] = fromFrame(piece, [0, 0, hMm])
  const [dx, dy] = [x - x0, y - y0]
  // The plane's normal is the frame's z: the third column.
  const dz = -(nx * dx + ny * dy) / nz
  const [ownX, ownY] = [xx * dx + yx * dy + zx * dz, xy * dx + yy * dy + zy * dz]
  return isOver(piece, ownX, ownY) ? z0 + dz : null
}

/** Whether a point of the piece's frame lies over its outline, mm. */
function isOver(piece: Element | Lens, x: number, y: number): boolean {
  const { round: isRound, xMm, yMm } = pieceHalves(piece)
  return isRound ? Math.hypot(x, y) <= xMm + 1e-9 : Math.abs(x) <= xMm + 1e-9 && Math.abs(y) <= yMm + 1e-9
}

/** Whether a piece stands over the whole of another along the lamp's axis. */
export function coversPiece(over: Element | Lens, under: Element | Lens): boolean {
  return outlinePoints(under).every(([x, y]) => {
    const [px, py] = fromFrame(under, [x, y, 0])
    return surfaceZ(over, px, py, 0) !== null
  })
}
