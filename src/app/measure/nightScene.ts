// The place that Night shows: level ground, a lamp 1.5 m above it, an endless wall at the target's distance. Metres; X to the
// right of someone who looks from the lamp to the target (the lamp's own x points the other way), Y up, Z to the target.
export type Triple = readonly [number, number, number]

export const LAMP_HEIGHT_M = 1.5
export const PERSON_M = 1.75

export type StationName = 'lamp' | 'raised'

export interface Station {
  eye: Triple
  right: Triple
  up: Triple
  forward: Triple
  /** Tangent of half the picture's width. */
  halfWidth: number
}
export interface PictureSize {
  width: number
  height: number
}

/** A point of this place in the lamp's frame. */
export const lampFromPlace = ([x, y, z]: Triple): [number, number, number] => [-x, y, z]

export interface Aim {
  distanceM: number
  widthM: number
  heightM: number
  fieldDeg: number
}

export function stationAt(name: StationName, aim: Aim, zoom: number, size: PictureSize): Station {
  const d = aim.distanceM
  if (name === 'raised') {
    const eye: Triple = [0.16 * d, 0.2 * d, -0.32 * d]
    return look(eye, [0, -LAMP_HEIGHT_M, 0.62 * d], Math.tan((23 * Math.PI) / 180) / zoom)
  }
  const radians = Math.PI / 180
  const target = 1.45 * Math.max(aim.widthM / 2 / d, (aim.heightM / 2 / d) * (size.width / Math.max(1, size.height)))
  const beam = Math.tan(0.62 * Math.min(90, aim.fieldDeg) * radians)
  const half = Math.min(Math.tan(42 * radians), Math.max(Math.tan(1.2 * radians), target, beam)) / zoom
  // Over the lamp, at the height of an eye; the axis stands a little above the middle of the picture.
  const eye: Triple = [0, 0.2, 0]
  const down = (0.12 * half * size.height) / Math.max(1, size.width)
  return look(eye, [0, -down * d, d], half)
}

function look(eye: Triple, at: Triple, halfWidth: number): Station {
  const forward = unit([at[0] - eye[0], at[1] - eye[1], at[2] - eye[2]])
  // Level horizon: right = up-of-the-world × forward, with X right, Y up, Z ahead (a left-handed triad).
  const right = unit([forward[2], 0, -forward[0]])
  const up: Triple = [
    forward[1] * right[2] * -1 + forward[2] * right[1],
    forward[2] * right[0] * -1 + forward[0] * right[2],
    forward[0] * right[1] * -1 + forward[1] * right[0],
  ]
  const upright: Triple = up[1] < 0 ? [-up[0], -up[1], -up[2]] : up
  return { eye, right, up: upright, forward, halfWidth }
}

const unit = (v: Triple): Triple => {
  const l = Math.hypot(...v)
  return [v[0] / l, v[1] / l, v[2] / l]
}
const dot = (a: Triple, b: Triple) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** Picture point of a place, px; null behind the eye. */
export function pictureOf(s: Station, size: PictureSize, at: Triple): [number, number] | null {
  const v: Triple = [at[0] - s.eye[0], at[1] - s.eye[1], at[2] - s.eye[2]]
  const deep = dot(v, s.forward)
  if (deep <= 1e-6) return null
  const scale = size.width / 2 / s.halfWidth / deep
  return [size.width / 2 + dot(v, s.right) * scale, size.height / 2 - dot(v, s.up) * scale]
}

/** Direction of sight through a picture point. */
export function sightThrough(s: Station, size: PictureSize, xPx: number, yPx: number): Triple {
  const a = ((xPx - size.width / 2) / (size.width / 2)) * s.halfWidth
  const b = ((size.height / 2 - yPx) / (size.width / 2)) * s.halfWidth
  return unit([
    s.forward[0] + a * s.right[0] + b * s.up[0],
    s.forward[1] + a * s.right[1] + b * s.up[1],
    s.forward[2] + a * s.right[2] + b * s.up[2],
  ])
}

export interface Hit {
  on: 'wall' | 'ground'
  at: Triple
}

/** What is seen there: the ground before the wall, or the wall. Null: the sky. */
export function hitOf(s: Station, sight: Triple, distanceM: number): Hit | null {
  const ground = sight[1] < 0 ? (-LAMP_HEIGHT_M - s.eye[1]) / sight[1] : Number.POSITIVE_INFINITY
  const wall = sight[2] > 0 ? (distanceM - s.eye[2]) / sight[2] : Number.POSITIVE_INFINITY
  const t = Math.min(ground, wall)
  if (!Number.isFinite(t)) return null
  return {
    on: ground < wall ? 'ground' : 'wall',
    at: [s.eye[0] + t * sight[0], s.eye[1] + t * sight[1], s.eye[2] + t * sight[2]],
  }
}

/** Distances worth a mark: 1, 2, 5 × 10ⁿ, none too near the last one, which is the target's own. */
export function distanceMarks(distanceM: number): number[] {
  const marks: number[] = []
  const start = 10 ** Math.floor(Math.log10(distanceM / 60))
  for (let ten = start; ten <= distanceM; ten *= 10) {
    for (const lead of [1, 2, 5]) {
      const m = Math.round(lead * ten * 1e6) / 1e6
      if (m >= distanceM / 60 && m < distanceM * 0.85) marks.push(m)
    }
  }
  return [...marks, distanceM]
}

/** Spacing of the joints drawn on the wall, m: some ten over the target's larger side. */
export function jointM(widthM: number, heightM: number): number {
  const about = Math.max(widthM, heightM) / 8
  const ten = 10 ** Math.floor(Math.log10(about))
  const lead = about / ten
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * ten
}

/** Right half of a standing person, feet at 0, in shares of the height: drawn from rounded proportions of our own. */
const PERSON_HALF: readonly (readonly [number, number])[] = [
  [0.0, 1.0],
  [0.04, 0.985],
  [0.055, 0.94],
  [0.05, 0.9],
  [0.032, 0.865],
  [0.035, 0.845],
  [0.1, 0.825],
  [0.13, 0.79],
  [0.14, 0.7],
  [0.15, 0.58],
  [0.155, 0.47],
  [0.135, 0.445],
  [0.125, 0.47],
  [0.115, 0.58],
  [0.1, 0.69],
  [0.09, 0.6],
  [0.1, 0.5],
  [0.095, 0.38],
  [0.085, 0.27],
  [0.07, 0.05],
  [0.095, 0.012],
  [0.09, 0.0],
  [0.03, 0.0],
  [0.028, 0.06],
  [0.025, 0.26],
  [0.012, 0.44],
  [0.0, 0.47],
]

/** Closed outline (X, Y above the feet), m. */
export function personOutline(heightM = PERSON_M): [number, number][] {
  const right = PERSON_HALF.map(([x, y]): [number, number] => [x * heightM, y * heightM])
  return [
    ...right,
    ...right
      .slice(1, -1)
      .toReversed()
      .map(([x, y]): [number, number] => [-x, y]),
  ]
}
