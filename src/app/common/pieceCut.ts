// A lens, cover or film as the section draws it: where the section's plane meets the piece, however it is moved, tilted and turned. Points (z, r) in mm.

import { conicSag } from '../../lamp/body.ts'
import type { Element, FresnelLens, SolidLens } from '../../lamp/schema.ts'
import { axesOf, type Cut } from './cut.ts'
import { crestMm, focusZMm, type Point } from './lensProfile.ts'
import { halfSizes, isRound, lampFromPiece, type Piece, pieceRotation, type Vec3 } from './piece.ts'

type OpticalPiece = Exclude<Piece, Extract<Element, { kind: 'cover' | 'diffuser' }>>
export const isOptical = (piece: Piece): piece is OpticalPiece => piece.kind !== 'cover' && piece.kind !== 'diffuser'

/** The line on which the section's plane meets a plane of the piece, by the distance t along it, rising in r. */
export interface Chord {
  /** From rim to rim. */
  fromMm: number
  toMm: number
  at(tMm: number): Point
  /** In the drawing, for each mm over the piece's plane. */
  up: Point
  /** t nearest to the optical axis, and how far that passes it. */
  axisMm: number
  missMm: number
}

/** The chord at `hMm` over the piece's plane; null where the section's plane passes beside the piece. */
export function chordOf(piece: Piece, cut: Cut, hMm = 0): Chord | null {
  const rot = pieceRotation(piece)
  const { r, off } = axesOf(cut)
  const place = lampFromPiece(piece)
  // Points (x, y) of the piece at that height that lie in the section: a x + b y + c = 0.
  const [a, b] = rot[off]
  const c = place([0, 0, hMm])[off]
  const norm = Math.hypot(a, b)
  const foot = [(-c * a) / norm ** 2, (-c * b) / norm ** 2] as const
  const rising = rot[r][0] * -b + rot[r][1] * a >= 0 ? 1 : -1
  const along = [(-b * rising) / norm, (a * rising) / norm] as const
  const span = within(piece, foot, along)
  if (!span) return null
  const centre = centreOf(piece)
  const axisMm = (centre[0] - foot[0]) * along[0] + (centre[1] - foot[1]) * along[1]
  const local = (t: number): Vec3 => [foot[0] + t * along[0], foot[1] + t * along[1], hMm]
  const nearest = local(axisMm)
  return {
    fromMm: span[0],
    toMm: span[1],
    at: (t) => {
      const p = place(local(t))
      return [p[2], p[r]]
    },
    up: upOf(rot, r, along),
    axisMm,
    missMm: Math.hypot(nearest[0] - centre[0], nearest[1] - centre[1]),
  }
}

type Pair = readonly [number, number]

/** In the section, square to the chord, so long that it rises 1 mm over the piece's plane. */
function upOf(rot: ReturnType<typeof pieceRotation>, r: 0 | 1, along: Pair): Point {
  const dr = rot[r][0] * along[0] + rot[r][1] * along[1]
  const dz = rot[2][0] * along[0] + rot[2][1] * along[1]
  const rise = dr * rot[2][2] - dz * rot[r][2]
  return [dr / rise, -dz / rise]
}

function within(piece: Piece, foot: Pair, along: Pair): Pair | null {
  const [w, h] = halfSizes(piece)
  if (isRound(piece)) {
    const half = Math.sqrt(w * w - foot[0] ** 2 - foot[1] ** 2)
    return half > 0 ? [-half, half] : null
  }
  let [from, to] = [-Infinity, Infinity]
  for (const [i, half] of [w, h].entries()) {
    const slope = along[i as 0 | 1]
    const at = foot[i as 0 | 1]
    if (Math.abs(slope) < 1e-12) {
      if (Math.abs(at) > half) return null
      continue
    }
    const ends = [(-half - at) / slope, (half - at) / slope]
    from = Math.max(from, Math.min(...ends))
    to = Math.min(to, Math.max(...ends))
  }
  return to > from ? [from, to] : null
}

const centreOf = (piece: Piece): Pair => (isOptical(piece) ? [piece.centreXMm ?? 0, piece.centreYMm ?? 0] : [0, 0])

/** Four corners of a plate between two heights: near side rising in r, far side back. */
export function plateCorners(piece: Piece, cut: Cut, nearMm: number, farMm: number): Point[] {
  const near = chordOf(piece, cut, nearMm)
  const far = chordOf(piece, cut, farMm)
  if (!near || !far) return []
  return [near.at(near.fromMm), near.at(near.toMm), far.at(far.toMm), far.at(far.fromMm)]
}

const raised = (chord: Chord, t: number, mm: number): Point => {
  const [z, r] = chord.at(t)
  return [z + mm * chord.up[0], r + mm * chord.up[1]]
}

/** Curved side of a solid lens over its flat side, from rim to rim. */
export function curveLine(lens: SolidLens, chord: Chord, steps = 96): Point[] {
  const way = lens.curved === 'target' ? 1 : -1
  return Array.from({ length: steps + 1 }, (_, i) => {
    const t = chord.fromMm + ((chord.toMm - chord.fromMm) * i) / steps
    const rho = Math.hypot(t - chord.axisMm, chord.missMm)
    const sag = conicSag(rho, lens.radiusMm, lens.conic)
    return raised(chord, t, way * Math.max(0, lens.thicknessMm - (Number.isFinite(sag) ? sag : lens.thicknessMm)))
  })
}

/** Valley, crest, valley, … of the rings between two places of the chord of the valleys. */
export function groovesBetween(lens: FresnelLens, valleys: Chord, fromMm: number, toMm: number): Point[] {
  const rise = lens.grooves === 'target' ? 1 : -1
  const lean = Math.tan((lens.draftDeg * Math.PI) / 180)
  const p = lens.pitchMm
  const from = Math.max(valleys.fromMm, fromMm)
  const to = Math.min(valleys.toMm, toMm)
  const farthest = Math.max(Math.abs(from - valleys.axisMm), Math.abs(to - valleys.axisMm))
  const nearest = from > valleys.axisMm ? from - valleys.axisMm : to < valleys.axisMm ? valleys.axisMm - to : 0
  const first = Math.floor(Math.hypot(nearest, valleys.missMm) / p)
  const last = Math.floor(Math.hypot(farthest, valleys.missMm) / p)
  const heightAt = (t: number): number => {
    const rho = Math.hypot(t - valleys.axisMm, valleys.missMm)
    const k = Math.floor(rho / p + 1e-9)
    const high = crestMm(lens, k)
    const riser = k === 0 ? 0 : high * lean
    const out = Math.max(0, rho - k * p)
    return rise * (out < riser ? out / lean : (high * (p - out)) / (p - riser))
  }
  const marks = [from, to].map((t) => ({ t, mm: heightAt(t) }))
  for (let k = first; k <= last; k++) {
    const high = crestMm(lens, k)
    for (const side of k === 0 ? [1] : [1, -1]) {
      for (const [rho, mm] of [
        [k * p, 0],
        [k === 0 ? 0 : k * p + high * lean, rise * high],
      ] as const) {
        const away = Math.sqrt(rho * rho - valleys.missMm ** 2)
        const t = valleys.axisMm + side * away
        if (away >= 0 && t > from && t < to && (k > 0 || mm !== 0)) marks.push({ t, mm })
      }
    }
  }
  return marks.sort((a, b) => a.t - b.t).map(({ t, mm }) => raised(valleys, t, mm))
}

/** Focus on the side of the face, in the lamp's frame, mm. */
export function focusOf(lens: OpticalPiece): Vec3 {
  const [x, y] = centreOf(lens)
  return lampFromPiece(lens)([x, y, focusZMm(lens) - lens.zMm])
}

/** The optical axis from `backMm` before the piece's plane to `aheadMm` behind it, as drawn. */
export function opticalAxis(lens: OpticalPiece, cut: Cut, backMm: number, aheadMm: number): [Point, Point] {
  const place = lampFromPiece(lens)
  const [x, y] = centreOf(lens)
  const { r } = axesOf(cut)
  const drawn = (z: number): Point => {
    const p = place([x, y, z])
    return [p[2], p[r]]
  }
  return [drawn(-backMm), drawn(aheadMm)]
}

/** Whether its axis is the lamp's. */
export const isOnAxis = (lens: OpticalPiece): boolean =>
  ![lens.tiltXDeg, lens.tiltYDeg].some(Boolean) &&
  Math.hypot(...(lampFromPiece(lens)([...centreOf(lens), 0]).slice(0, 2) as [number, number])) < 1e-9

/** Whether a lens is all that a lamp had before pieces: round or square, upright, in the middle. */
export const isPlain = (lens: OpticalPiece): boolean =>
  lens.aperture !== 'rectangle' && !lens.turnDeg && !lens.decentreXMm && !lens.decentreYMm && isOnAxis(lens)
