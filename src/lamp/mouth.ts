// What the sun can reach past the pieces in front of it: the tunnel's mouth, and pieces behind others.
import { elementsOf, isRectangle, pieceHalves, rowOrder } from './assembly.ts'
import { fromFrame, normalOf, surfaceZ } from './body.ts'
import type { Element, Lamp, Lens, Tunnel } from './schema.ts'
import { aboutSectionMm, acrossFlatsMm, sectionAt } from './section.ts'

type Piece = Element | Lens
type Vector = readonly [number, number, number]

/** Points across the mouth, each way. */
const ACROSS = 96
/** Less than that is the grid's own coarseness. */
const LEAST = 0.002

/** Share of the mouth's area over which, seen along the axis, none of the pieces stands. */
export function bareMouthShare(pieces: readonly Piece[], tunnel: Tunnel): number {
  const share = bareShare(mouthPoints(tunnel, ACROSS), pieces, [0, 0])
  return share > LEAST ? share : 0
}

/** Points even over the tunnel's mouth, `across` each way, mm. */
function mouthPoints(tunnel: Tunnel, across: number): Vector[] {
  const about = aboutSectionMm(tunnel, tunnel.zOutMm)
  const isWide = isRectangle(tunnel)
  const [w, h] = isWide ? [tunnel.outMm / 2, (tunnel.outHeightMm ?? tunnel.outMm) / 2] : [about, about]
  const apothem = isWide ? null : sectionAt(tunnel, tunnel.zOutMm).xMm
  return evenly(across)
    .map(([u, v]) => [w * u, h * v, tunnel.zOutMm] as const)
    .filter(([x, y]) => apothem === null || acrossFlatsMm(tunnel.sides, x, y) <= apothem)
}

/** Points even over a piece, in the lamp, mm. */
function piecePoints(piece: Piece, across: number): Vector[] {
  const { round, xMm, yMm } = pieceHalves(piece)
  return evenly(across)
    .filter(([u, v]) => !round || Math.hypot(u, v) <= 1)
    .map(([u, v]) => fromFrame(piece, [xMm * u, yMm * v, 0]))
}

const evenly = (across: number): [number, number][] =>
  Array.from({ length: across * across }, (_, k) => [
    (2 * (k % across) + 1) / across - 1,
    (2 * Math.floor(k / across) + 1) / across - 1,
  ])

/** Share of the points from which light towards the sun, that runs by these slopes (x and y per z), meets none of the pieces. */
function bareShare(points: readonly Vector[], pieces: readonly Piece[], [sx, sy]: readonly [number, number]): number {
  const bare = points.filter(([x, y, z]) => pieces.every((piece) => !meets(piece, x - sx * z, y - sy * z, sx, sy)))
  return bare.length / points.length
}

/** Whether a line through (x, y) at z = 0 by these slopes meets the piece. */
function meets(piece: Piece, x: number, y: number, sx: number, sy: number): boolean {
  if (sx === 0 && sy === 0) return surfaceZ(piece, x, y, 0) !== null
  // Where it meets the piece's plane it is as a line along z through that point.
  const [nx, ny, nz] = normalOf(piece)
  const [px, py, pz] = fromFrame(piece, [0, 0, 0])
  const along = sx * nx + sy * ny + nz
  if (along === 0) return false
  const z = ((px - x) * nx + (py - y) * ny + pz * nz) / along
  return surfaceZ(piece, x + sx * z, y + sy * z, 0) !== null
}

/** Directions from which the sun is looked for past what stands in front: tilts, and azimuths at each. */
const TILTS_DEG = [15, 30, 45]
const AZIMUTHS = 12
const FEW_ACROSS = 24
/** A slit as low as a mount is no opening: as much of one as this may lie bare to a sun from the side (our choice). */
const SLIT = 0.05
const RAD = Math.PI / 180

const isPane = (piece: Piece): boolean => piece.kind === 'cover'

/**
 * The lamp as it meets sunlight that shines past some of its pieces: once for each piece, and the tunnel's mouth, that others in front leave bare, seen along
 * the axis or from the side; without these others, all of it then open to the sun (the hot side). Clear covers shade nothing. Empty as a rule.
 */
export function openedLamps(lamp: Lamp): Lamp[] {
  const pieces = elementsOf(lamp)
  const opened: Lamp[] = []
  for (let count = pieces.length - 1; count >= 0; count--) {
    const outermost = pieces[count - 1]
    if (count === 0 ? !lamp.tunnel : outermost && isPane(outermost)) continue
    const over = pieces.slice(count)
    const shading = over.filter((piece) => !isPane(piece))
    const isBare = outermost
      ? shading.length > 0 && liesBare(piecePoints(outermost, FEW_ACROSS), shading)
      : lamp.tunnel && (bareMouthShare(over, lamp.tunnel) > 0 || liesOpen(lamp.tunnel, shading))
    if (isBare) opened.push(withFirst(lamp, count))
  }
  return opened
}

const liesOpen = (tunnel: Tunnel, shading: readonly Piece[]): boolean =>
  shading.length > 0 && liesBare(mouthPoints(tunnel, FEW_ACROSS), shading)

function liesBare(points: readonly Vector[], shading: readonly Piece[]): boolean {
  if (bareShare(points, shading, [0, 0]) > LEAST) return true
  return TILTS_DEG.some((tilt) =>
    Array.from({ length: AZIMUTHS }, (_, k) => (2 * Math.PI * k) / AZIMUTHS).some(
      (azimuth) =>
        bareShare(points, shading, [
          Math.tan(tilt * RAD) * Math.cos(azimuth),
          Math.tan(tilt * RAD) * Math.sin(azimuth),
        ]) > SLIT,
    ),
  )
}

/** With so many of its pieces, counted from the face. */
function withFirst(lamp: Lamp, count: number): Lamp {
  const first = rowOrder(lamp).slice(0, count)
  const { elements = [], ...rest } = lamp
  const own = elements.filter((_, i) => first.includes(i))
  return { ...rest, lens: first.includes(-1) ? lamp.lens : null, ...(own.length > 0 && { elements: own }) }
}
