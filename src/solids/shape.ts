// What a solid is, as plain data: prisms over flat regions, tubes and stacks of rings, put together by union, difference and intersection.
// Functions of the lamp make these; kernel.ts alone turns them into triangles. mm; z up where a part is printed, along the lamp's axis else.
import type { Point } from '../layout/shape.ts'
import { joinTurns, NO_TURN, type Rotation, turnVector, type Vector } from '../num/rotation.ts'

/** A flat region. `cut`: the first without the others. */
export type Region =
  /** Closed outlines either way round; one inside another is a hole in it. */
  | { kind: 'outlines'; outlines: readonly (readonly Point[])[] }
  /** Grown by so much all round (shrunk below zero); its outer corners become round. */
  | { kind: 'grown'; of: Region; byMm: number }
  | { kind: 'moved'; of: Region; turnDeg: number; xMm: number; yMm: number }
  | { kind: 'joined' | 'cut' | 'shared'; of: readonly Region[] }

/** Corners of one section of a tube or a stack. */
export type Ring = readonly Vector[]

export interface Place {
  rotation: Rotation
  shiftMm: Vector
}

export type Solid =
  | { kind: 'prism'; region: Region; fromMm: number; toMm: number }
  /** Rings of equally many corners, each joined to the next and the last to the first: outside up, inside down. */
  | { kind: 'tube'; rings: readonly Ring[] }
  /** Rings from below to above, closed at both ends by fans about a point. */
  | { kind: 'stack'; rings: readonly Ring[]; below: Vector; above: Vector }
  | { kind: 'placed'; of: Solid; place: Place }
  | { kind: 'joined' | 'cut' | 'shared'; of: readonly Solid[] }

export const AT_ORIGIN: Place = { rotation: NO_TURN, shiftMm: [0, 0, 0] }

/** First `inner`, then `outer`. */
export function joinPlaces(outer: Place, inner: Place): Place {
  const rotation: Rotation = joinTurns(outer.rotation, inner.rotation)
  const [x, y, z] = turnVector(outer.rotation, inner.shiftMm)
  const [ox, oy, oz] = outer.shiftMm
  const shiftMm: Vector = [x + ox, y + oy, z + oz]
  return { rotation, shiftMm }
}

/** A chord's greatest distance from its arc, mm: finer than a printer's line is wide (our choice). */
const CHORD_MM = 0.05
const STEPS = { least: 24, most: 240 }

/** Steps of a full circle so that its chords stay within CHORD_MM, a multiple of 8. */
export function circleSteps(radiusMm: number, chordMm = CHORD_MM): number {
  const steps = radiusMm > chordMm ? Math.PI / Math.acos(1 - chordMm / radiusMm) : STEPS.least
  return Math.min(STEPS.most, Math.max(STEPS.least, 8 * Math.ceil(steps / 8)))
}

/** Corners on a circle, anticlockwise from +x. */
export const circle = (radiusMm: number, xMm = 0, yMm = 0, steps = circleSteps(radiusMm)): Point[] =>
  Array.from({ length: steps }, (_, i) => {
    const at = (2 * Math.PI * i) / steps
    return [xMm + radiusMm * Math.cos(at), yMm + radiusMm * Math.sin(at)] as const
  })

/** About the origin, anticlockwise. */
export const rectangle = (widthMm: number, heightMm: number): Point[] =>
  box(-widthMm / 2, -heightMm / 2, widthMm / 2, heightMm / 2)

export const box = (fromX: number, fromY: number, toX: number, toY: number): Point[] => [
  [fromX, fromY],
  [toX, fromY],
  [toX, toY],
  [fromX, toY],
]

export const outlines = (...of: readonly (readonly Point[])[]): Region => ({ kind: 'outlines', outlines: of })
export const disc = (diameterMm: number, xMm = 0, yMm = 0): Region => outlines(circle(diameterMm / 2, xMm, yMm))
export const joinedRegion = (of: readonly Region[]): Region => ({ kind: 'joined', of })
export const cutRegion = (from: Region, ...of: readonly Region[]): Region => ({ kind: 'cut', of: [from, ...of] })
export const sharedRegion = (...of: readonly Region[]): Region => ({ kind: 'shared', of })
export const grown = (of: Region, byMm: number): Region => ({ kind: 'grown', of, byMm })
export const movedRegion = (of: Region, xMm: number, yMm: number, turnDeg = 0): Region => ({
  kind: 'moved',
  of,
  turnDeg,
  xMm,
  yMm,
})

/** What is left where parts narrower than `widthMm` are taken away (an opening: shrunk, then grown, within what was there). */
export const withoutThin = (of: Region, widthMm: number): Region =>
  sharedRegion(of, grown(grown(of, -0.499 * widthMm), 0.499 * widthMm))

export const prism = (region: Region, fromMm: number, toMm: number): Solid => ({ kind: 'prism', region, fromMm, toMm })
export const placed = (of: Solid, place: Place): Solid => ({ kind: 'placed', of, place })
export const joined = (of: readonly Solid[]): Solid => ({ kind: 'joined', of })
export const cut = (from: Solid, ...of: readonly Solid[]): Solid => ({ kind: 'cut', of: [from, ...of] })
export const shared = (...of: readonly Solid[]): Solid => ({ kind: 'shared', of })

export const ringAt = (points: readonly Point[], zMm: number): Ring => points.map(([x, y]): Vector => [x, y, zMm])

/** Outer and inner sections by their heights, from below to above. */
export const tube = (outer: readonly Ring[], inner: readonly Ring[]): Solid => ({
  kind: 'tube',
  rings: [...outer, ...inner.toReversed()],
})

/** A solid of revolution about z from its profile, from below to above; `tipMm`: where the axis meets its upper side. */
export function turned(profile: readonly { rMm: number; zMm: number }[], tipMm?: number): Solid {
  const widest = profile.reduce((most, p) => Math.max(most, p.rMm), 0)
  const steps = circleSteps(widest)
  const rings = profile.map(({ rMm, zMm }) => ringAt(circle(rMm, 0, 0, steps), zMm))
  return {
    kind: 'stack',
    rings,
    below: [0, 0, profile[0]?.zMm ?? 0],
    above: [0, 0, tipMm ?? profile.at(-1)?.zMm ?? 0],
  }
}

/** The same hollow: a tube about z from the profiles of its outside and its inside, each from below to above. */
export function turnedTube(
  outer: readonly { rMm: number; zMm: number }[],
  inner: readonly { rMm: number; zMm: number }[],
): Solid {
  const steps = circleSteps([...outer, ...inner].reduce((most, p) => Math.max(most, p.rMm), 0))
  const rings = (of: typeof outer) => of.map(({ rMm, zMm }) => ringAt(circle(rMm, 0, 0, steps), zMm))
  return tube(rings(outer), rings(inner))
}

/** A frustum of a circular cone, or a cylinder, upright on z. */
export const frustum = (belowMm: number, aboveMm: number, fromMm: number, toMm: number): Solid =>
  turned([
    { rMm: belowMm / 2, zMm: fromMm },
    { rMm: aboveMm / 2, zMm: toMm },
  ])
