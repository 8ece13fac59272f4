// The place that Night shows: level ground or water, the lamp above it, a target at its distance. Metres; the lamp's front at the
// origin, X to the right of someone who looks along the beam (the lamp's own x points the other way), Y up, Z to the target.
export type Triple = readonly [number, number, number]

export type TargetKind = 'wall' | 'person' | 'boat' | 'field'
export type StationName = 'lamp' | 'aside' | 'near'

export const TARGETS: readonly { key: TargetKind; name: string }[] = [
  { key: 'wall', name: 'Wall' },
  { key: 'person', name: 'Person' },
  { key: 'boat', name: 'Boat' },
  { key: 'field', name: 'Field' },
]

/** Heights above the ground of the lamp and of the point that it is aimed at: our assumptions, stated on screen. */
const HEIGHTS: Record<TargetKind, { lampM: number; aimM: number }> = {
  wall: { lampM: 1.5, aimM: 1.5 },
  person: { lampM: 1.5, aimM: 1.2 },
  boat: { lampM: 3, aimM: 0.3 },
  field: { lampM: 8, aimM: 0 },
}

export interface Target {
  distanceM: number
  widthM: number
  heightM: number
}

export interface Place extends Target {
  kind: TargetKind
  /** Height of the lamp over the ground. */
  lampM: number
  /** The point aimed at, exactly `distanceM` from the lamp. */
  centre: Triple
  /** Unit vector along the beam. */
  axis: Triple
}

export function placeOf(kind: TargetKind, target: Target): Place {
  const { aimM } = HEIGHTS[kind]
  const { distanceM: d } = target
  // The lamp never looks down at a near target by more than 53°.
  const lampM = Math.min(HEIGHTS[kind].lampM, aimM + 0.8 * d)
  const y = aimM - lampM
  const z = Math.sqrt(d * d - y * y)
  return { ...target, kind, lampM, centre: [0, y, z], axis: [0, y / d, z / d] }
}

/** The target's name selects its picture; any unknown name gets the wall. */
export function kindByName(name: string): TargetKind {
  if (/\b(kayak|boat|canoe|ship|buoy|dinghy|water|sea|lake)/i.test(name)) return 'boat'
  if (/\b(field|pitch|ice|grass|lawn|ground|court|yard|path|road|track)/i.test(name)) return 'field'
  if (/\b(person|people|walker|swimmer|child|man|woman|figure)/i.test(name)) return 'person'
  return 'wall'
}

/** A point (or direction) of this place in the lamp's frame. */
export function lampFromPlace({ axis }: Pick<Place, 'axis'>, [x, y, z]: Triple): [number, number, number] {
  const [, sin, cos] = axis
  return [-x, y * cos - z * sin, y * sin + z * cos]
}

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

const RAD = Math.PI / 180

export function stationAt(name: StationName, p: Place, fieldDeg: number, zoom: number, size: PictureSize): Station {
  const tall = size.height / Math.max(1, size.width)
  const { distanceM: d, centre } = p
  if (name === 'aside') return asideStation(p, zoom)
  if (name === 'near') return nearStation(p, zoom, tall)
  const target = 1.45 * Math.max(p.widthM / 2 / d, p.heightM / 2 / d / tall)
  const beam = Math.tan(0.62 * Math.min(90, fieldDeg) * RAD)
  const half = Math.min(Math.tan(42 * RAD), Math.max(Math.tan(1.2 * RAD), target, beam)) / zoom
  // Beside the lamp and a little behind it: an operator there is not blinded by the lit air at the lamp.
  const eye: Triple = [Math.min(4, 0.1 * d), Math.max(0.25, 1.7 - p.lampM), -Math.min(1, 0.06 * d)]
  const up = p.kind === 'field' ? 0 : 0.12 * half * tall * d
  return view(eye, [0, centre[1] - up, centre[2]], half)
}

/** From the side and a little above, with the lamp at the left edge of the picture and the target at the right edge. */
function asideStation(p: Place, zoom: number): Station {
  const d = p.distanceM
  const eye: Triple = [0.8 * d, Math.max(0.1 * d, 1.6 - p.lampM), 0.22 * d]
  const at: Triple = [0, 0.5 * p.centre[1] + 0.02 * d, 0.4 * d]
  const s = view(eye, at, 1)
  const across = (q: Triple) => {
    const v: Triple = [q[0] - eye[0], q[1] - eye[1], q[2] - eye[2]]
    return Math.abs(dot(v, s.right) / dot(v, s.forward))
  }
  return { ...s, halfWidth: Math.max(across([0, 0, 0]), across(p.centre)) / 0.86 / zoom }
}

/** The frame near the target and its viewpoint: degrees round from the lamp's side, height of the eye in m. */
function nearFrame(p: Place): { widthM: number; heightM: number; roundDeg: number; eyeM: number; lookM: number } {
  if (p.kind === 'person') return { widthM: 2.6, heightM: 2.3, roundDeg: 28, eyeM: 1.6, lookM: 0.9 }
  if (p.kind === 'boat') return { widthM: 6.4, heightM: 3.6, roundDeg: 32, eyeM: 2, lookM: 0.45 }
  const side = Math.max(p.widthM, p.heightM)
  if (p.kind === 'field')
    return { widthM: 1.25 * p.widthM, heightM: 0.8 * side, roundDeg: 30, eyeM: 0.4 * side, lookM: 0 }
  return { widthM: 1.3 * p.widthM, heightM: 1.3 * p.heightM, roundDeg: 18, eyeM: 1.6, lookM: p.lampM }
}

/** From that eye, with the figure filling the frame. */
export function insetStation(p: Place, eye: Triple): Station {
  const { widthM, lookM } = nearFrame(p)
  const away = Math.hypot(p.centre[0] - eye[0], p.centre[2] - eye[2])
  return view(eye, [0, lookM - p.lampM, p.centre[2]], widthM / 2 / Math.max(away, 1e-6))
}

function nearStation(p: Place, zoom: number, tall: number): Station {
  const frame = nearFrame(p)
  const wide = Math.max(frame.widthM, frame.heightM / tall)
  const wanted = wide / 2 / Math.tan(19 * RAD)
  const away = Math.min(wanted, 0.85 * p.centre[2])
  const round = frame.roundDeg * RAD
  const y = frame.eyeM - p.lampM
  const eye: Triple = [away * Math.sin(round), y, p.centre[2] - away * Math.cos(round)]
  return view(eye, [0, frame.lookM - p.lampM, p.centre[2]], wide / 2 / Math.max(away, 1e-6) / zoom)
}

function view(eye: Triple, at: Triple, halfWidth: number): Station {
  const forward = unit([at[0] - eye[0], at[1] - eye[1], at[2] - eye[2]])
  // Level horizon; with X right, Y up, Z ahead (a left-handed triad) right is up-of-the-world × forward.
  const right = unit([forward[2], 0, -forward[0]])
  const up: Triple = [
    -forward[1] * right[2] + forward[2] * right[1],
    -forward[2] * right[0] + forward[0] * right[2],
    -forward[0] * right[1] + forward[1] * right[0],
  ]
  const upright: Triple = up[1] < 0 ? [-up[0], -up[1], -up[2]] : up
  return { eye, right, up: upright, forward, halfWidth }
}

const unit = (v: Triple): Triple => {
  const l = Math.hypot(...v)
  return [v[0] / l, v[1] / l, v[2] / l]
}
const dot = (a: Triple, b: Triple) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** Projects a point to the picture, px; null behind the eye. */
export function pictureOf(s: Station, size: PictureSize, at: Triple): [number, number] | null {
  const v: Triple = [at[0] - s.eye[0], at[1] - s.eye[1], at[2] - s.eye[2]]
  const deep = dot(v, s.forward)
  if (deep <= 1e-6) return null
  const scale = size.width / 2 / s.halfWidth / deep
  return [size.width / 2 + dot(v, s.right) * scale, size.height / 2 - dot(v, s.up) * scale]
}

/** View direction through a point of the picture. */
export function viewDirection(s: Station, size: PictureSize, xPx: number, yPx: number): Triple {
  const a = ((xPx - size.width / 2) / (size.width / 2)) * s.halfWidth
  const b = ((size.height / 2 - yPx) / (size.width / 2)) * s.halfWidth
  return unit([
    s.forward[0] + a * s.right[0] + b * s.up[0],
    s.forward[1] + a * s.right[1] + b * s.up[1],
    s.forward[2] + a * s.right[2] + b * s.up[2],
  ])
}

/** Distances to mark, m: 1, 2, 5 × 10ⁿ units of `unitM`, none too near the last one, which is that of the target. */
export function distanceMarks(distanceM: number, unitM = 1): number[] {
  const marks: number[] = []
  const start = unitM * 10 ** Math.floor(Math.log10(distanceM / unitM / 60))
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
