// Volumes and centres of lenses, covers and fins, and areas of bent sheet.
import { isRectangle, pieceHalves, type Stretch } from '../lamp/assembly.ts'
import { conicSag, fromFrame } from '../lamp/body.ts'
import { type FaceSize, faceAreaMm2, faceBox, faceChordMm } from '../lamp/facePlate.ts'
import type { Cover, FresnelLens, RefractingLens, Sink, Tunnel } from '../lamp/schema.ts'
import { cutIndex } from '../library/lensMaterial.ts'
import { centroid, stretchesAlongY } from '../num/polygon.ts'
import { gaussLegendre } from '../num/quadrature.ts'

export type Point = readonly [number, number, number]

export interface Body {
  volumeMm3: number
  centreMm: Point
}

type Massive = RefractingLens | Cover

/** Of a column over one place of the piece: volume by area, mm, and its moment about the piece's plane z = 0, mm². */
interface Column {
  mm: number
  moment: number
}

const RULE = gaussLegendre(32)
const TURNS = 64

/**
 * Volume and centre of a lens or a cover as it stands in the lamp. Exact but for quadrature (1e-9 where the optical axis goes through the
 * middle); of a Fresnel lens each groove counts as its triangle, cut for a thin plate. Draft and tips take nothing off.
 */
export function elementBody(piece: Massive): Body {
  const { round, xMm, yMm } = pieceHalves(piece)
  const column = columnOf(piece)
  const sum = { v: 0, x: 0, y: 0, z: 0 }
  const add = (x: number, y: number, area: number) => {
    const { mm, moment } = column(x, y)
    sum.v += area * mm
    sum.x += area * mm * x
    sum.y += area * mm * y
    sum.z += area * moment
  }
  const { nodes, weights } = RULE
  for (const [i, u] of nodes.entries()) {
    const share = (1 + u) / 2
    const wide = (weights[i] ?? 0) / 2
    if (round)
      for (let k = 0; k < TURNS; k++) {
        const at = (2 * Math.PI * k) / TURNS
        const r = xMm * share
        add(r * Math.cos(at), r * Math.sin(at), ((2 * Math.PI) / TURNS) * r * xMm * wide)
      }
    else for (const [j, v] of nodes.entries()) add(xMm * u, yMm * v, 4 * xMm * yMm * wide * ((weights[j] ?? 0) / 2))
  }
  const centre: Point = sum.v > 0 ? [sum.x / sum.v, sum.y / sum.v, sum.z / sum.v] : [0, 0, 0]
  return { volumeMm3: sum.v, centreMm: fromFrame(piece, [...centre]) }
}

function columnOf(piece: Massive): (x: number, y: number) => Column {
  const t = piece.thicknessMm
  if (piece.kind === 'cover') return () => ({ mm: t, moment: (t * t) / 2 })
  const { centreXMm = 0, centreYMm = 0 } = piece
  const fromAxis = (x: number, y: number) => Math.hypot(x - centreXMm, y - centreYMm)
  if (piece.kind === 'solid') {
    const up = piece.curved === 'target' ? 1 : -1
    return (x, y) => {
      const sag = conicSag(fromAxis(x, y), piece.radiusMm, piece.conic)
      // Beyond the curve's edge, and where it meets the flat side, nothing is left.
      const h = sag <= t ? t - sag : 0
      return { mm: h, moment: (up * h * h) / 2 }
    }
  }
  const up = piece.grooves === 'target'
  const depth = grooveDepth(piece)
  return (x, y) => {
    const d = depth(fromAxis(x, y))
    // A triangle: half of its depth, its centre a third of it from the valley.
    const moment = up ? (t * t) / 2 + (d / 2) * (t + d / 3) : (t * t) / 2 - (d * d) / 6
    return { mm: t + d / 2, moment }
  }
}

/**
 * Depth of the groove at a radius, mm: p tan α/(1 + tan α tan δ), pitch p, draft δ. Facet α of a thin plate by the law of refraction: tan α = sin θ/(n − cos θ)
 * to the source, sin θ/(√(n² − sin²θ) − 1) to the target, tan θ = r/f (textbook).
 */
function grooveDepth(lens: FresnelLens): (r: number) => number {
  const n = cutIndex(lens)
  const draft = Math.tan((lens.draftDeg * Math.PI) / 180)
  return (r) => {
    const theta = Math.atan2(r, lens.focalMm)
    const sin = Math.sin(theta)
    const tan = sin / (lens.grooves === 'target' ? Math.sqrt(n * n - sin * sin) - 1 : n - Math.cos(theta))
    return (lens.pitchMm * tan) / (1 + tan * draft)
  }
}

export interface Sheet {
  areaMm2: number
  /** Along the axis. */
  zMm: number
}

/** Inside of a stretch's wall: exact area of a cone, of a regular polygon's flats, or of a rectangle's four, and the height of its centre. */
export function stretchSheet(tunnel: Tunnel, s: Stretch): Sheet {
  const long = s.zOutMm - s.zInMm
  /** `n` flats that are from … to wide, on a slope that leans out by `outMm`. */
  const flats = (n: number, from: number, to: number, leans: number) => {
    const area = (n * Math.hypot(long, leans) * (from + to)) / 2
    return { area, share: from + to > 0 ? (from + 2 * to) / (3 * (from + to)) : 0.5 }
  }
  const leanX = (s.outMm - s.inMm) / 2
  const leanY = (s.outHeightMm - s.inHeightMm) / 2
  const walls = isRectangle(tunnel)
    ? [flats(2, s.inHeightMm, s.outHeightMm, leanX), flats(2, s.inMm, s.outMm, leanY)]
    : [flats(1, aroundMm(tunnel.sides, s.inMm), aroundMm(tunnel.sides, s.outMm), leanX)]
  const areaMm2 = walls.reduce((sum, w) => sum + w.area, 0)
  return { areaMm2, zMm: s.zInMm + (long * walls.reduce((sum, w) => sum + w.area * w.share, 0)) / areaMm2 }
}

/** Way around a section of this size across flats, mm. */
const aroundMm = (sides: number, acrossMm: number): number =>
  sides === 0 ? Math.PI * acrossMm : sides * acrossMm * Math.tan(Math.PI / sides)

/** What lies in one of two sections at a joint and not in the other, mm²; 0 without a step. */
export function stepAreaMm2(tunnel: Tunnel, below: Stretch, above: Stretch): number {
  if (isRectangle(tunnel)) {
    const [a, b] = [below.outMm * below.outHeightMm, above.inMm * above.inHeightMm]
    return a + b - 2 * Math.min(below.outMm, above.inMm) * Math.min(below.outHeightMm, above.inHeightMm)
  }
  // A regular polygon's area: its way around times half of the size across flats, halved.
  const area = (mm: number) => (aroundMm(tunnel.sides, mm) * mm) / 4
  return Math.abs(area(above.inMm) - area(below.outMm))
}

/** Middle of the face's area, mm. */
export const faceCentre = (face: FaceSize): [number, number] =>
  face.shape === 'polygon' ? centroid(face.corners ?? []) : [0, 0]

export interface FinBodies {
  /** That find room on the face. */
  count: number
  volumeMm3: number
  /** All of them, mm. */
  lengthMm: number
  centreMm: readonly [number, number]
}

/** Fins along y, side by side about the middle of the face, each as long as the face there or as stated; pins all over it, as many as find room: as src/heat/sink.ts has them. */
export function finBodies(sink: Extract<Sink, { kind: 'fins' | 'pins' }>, face: FaceSize): FinBodies {
  if (sink.kind === 'pins') {
    const pitch = sink.spacingMm + sink.diameterMm
    const count = Math.min(sink.count, Math.floor(faceAreaMm2(face) / (pitch * pitch)))
    const volumeMm3 = (count * Math.PI * sink.diameterMm ** 2 * sink.heightMm) / 4
    return { count, volumeMm3, lengthMm: count * sink.heightMm, centreMm: faceCentre(face) }
  }
  const { fromX, toX } = faceBox(face)
  const pitch = sink.spacingMm + sink.thicknessMm
  let [count, lengthMm, x, y] = [0, 0, 0, 0]
  for (let i = 0; i < sink.count; i++) {
    const at = (fromX + toX) / 2 + (i - (sink.count - 1) / 2) * pitch
    const chord = faceChordMm(face, at)
    if (chord <= 0) continue
    const own = sink.lengthMm ?? chord
    count++
    lengthMm += own
    x += own * at
    y += own * chordMiddle(face, at)
  }
  const centreMm = lengthMm > 0 ? ([x / lengthMm, y / lengthMm] as const) : faceCentre(face)
  return { count, volumeMm3: lengthMm * sink.thicknessMm * sink.heightMm, lengthMm, centreMm }
}

/** Middle of what the face has along y at x, mm. */
function chordMiddle(face: FaceSize, x: number): number {
  if (face.shape !== 'polygon') return 0
  const all = stretchesAlongY(face.corners ?? [], x)
  const long = all.reduce((sum, [from, to]) => sum + to - from, 0)
  return all.reduce((sum, [from, to]) => sum + ((to - from) * (from + to)) / 2, 0) / long
}
