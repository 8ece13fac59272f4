// Intensity in any direction of a sheet: near the axis from the direction map, beyond it from the sphere map, and its mean over azimuth.
import type { Figure, GridMap } from '../run/figure.ts'
import { zoneSr } from './profile.ts'

const RAD = Math.PI / 180

/** What a table of intensities is made of; a beam sheet has it all. */
export interface DirectionLight {
  /** Mean over azimuth; 0° first, then the middles of its bins. */
  profile: {
    thetaDeg: ArrayLike<number>
    cd: ArrayLike<number>
    /** Field angle in planes through the axis, where it is known. */
    byDirection: readonly { fieldDeg: number }[]
  }
  /** Intensity over (θ cos φ, θ sin φ) near the axis. */
  directionMap: GridMap
  /** Absent: beyond the map the mean over azimuth stands for every direction. */
  sphereMap?: GridMap
  figures: Partial<
    Record<
      'emittedLm' | 'fluxOutLm' | 'axialIntensityCd' | 'peakIntensityCd' | 'beamAngleDeg' | 'inverseSquareFromM',
      Figure
    >
  >
  rays: number
}

/** Points in a disc of radius 1, evenly by area: rings of 1, 6, 12 and 18 places, each in the middle of its share. */
const DISC: readonly (readonly [number, number])[] = [0, 1, 2, 3].flatMap((ring) => {
  const places = ring === 0 ? 1 : 6 * ring
  const before = ring === 0 ? 0 : 1 + 3 * ring * (ring - 1)
  const radius = ring === 0 ? 0 : Math.sqrt((before + places / 2) / 37)
  return Array.from({ length: places }, (_, k): [number, number] => {
    const turn = (2 * Math.PI * (k + 0.5)) / places
    return [radius * Math.cos(turn), radius * Math.sin(turn)]
  })
})

/** Width of a cell of the direction map, degrees. */
export const cellDeg = ({ columns, fromX, toX }: GridMap): number => (toX - fromX) / columns

/**
 * Mean intensity, cd, over a disc of the direction map about (θ, φ), all in degrees; null beyond the map's half width. Cells are even in
 * themselves; where the disc reaches past the map's edge, its outermost cells stand for what lies there.
 */
export function discMean(map: GridMap, thetaDeg: number, phiDeg: number, discDeg: number): number | null {
  if (thetaDeg > map.toX) return null
  const cell = cellDeg(map)
  const x = (thetaDeg * Math.cos(phiDeg * RAD) - map.fromX) / cell
  const y = (thetaDeg * Math.sin(phiDeg * RAD) - map.fromY) / cell
  const reach = discDeg / cell
  let sum = 0
  for (const [u, v] of DISC) {
    const column = Math.min(map.columns - 1, Math.max(0, Math.floor(x + reach * u)))
    const row = Math.min(map.rows - 1, Math.max(0, Math.floor(y + reach * v)))
    sum += map.values[row * map.columns + column] ?? 0
  }
  return sum / DISC.length
}

/** Mean over the zone between two angles from the axis, degrees, of the profile, cd; its points joined by straight lines. */
export function zoneMean({ thetaDeg, cd }: DirectionLight['profile'], fromDeg: number, toDeg: number): number {
  if (!(toDeg > fromDeg)) return profileAt(thetaDeg, cd, fromDeg)
  // So many parts that none is wider than the narrowest step between points in the zone.
  let points = 0
  for (let i = 0; i < thetaDeg.length; i++) if ((thetaDeg[i] ?? 0) > fromDeg && (thetaDeg[i] ?? 0) < toDeg) points++
  const parts = Math.max(4, 4 * points)
  let lm = 0
  let sr = 0
  for (let k = 0; k < parts; k++) {
    const [a, b] = [fromDeg + ((toDeg - fromDeg) * k) / parts, fromDeg + ((toDeg - fromDeg) * (k + 1)) / parts]
    const zone = zoneSr(a * RAD, b * RAD)
    lm += zone * profileAt(thetaDeg, cd, (a + b) / 2)
    sr += zone
  }
  return lm / sr
}

function profileAt(x: ArrayLike<number>, y: ArrayLike<number>, at: number): number {
  let low = 0
  let high = x.length - 1
  if (at >= (x[high] ?? 0)) return y[high] ?? 0
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if ((x[middle] ?? 0) <= at) low = middle
    else high = middle
  }
  const [x0, x1, y0, y1] = [x[low] ?? 0, x[high] ?? 0, y[low] ?? 0, y[high] ?? 0]
  return x1 > x0 ? y0 + ((y1 - y0) * (at - x0)) / (x1 - x0) : y0
}

/** Mean over the part of a zone beyond the direction map at one azimuth, cd; angles in degrees. Columns are joined by straight lines. */
export function sphereMean(map: GridMap, fromDeg: number, toDeg: number, phiDeg: number): number {
  const { columns, rows, values } = map
  const rowDeg = (map.toY - map.fromY) / rows
  const at = (((phiDeg / 360) * columns - 0.5) % columns) + columns
  const left = Math.floor(at) % columns
  const right = (left + 1) % columns
  const part = at - Math.floor(at)
  let lm = 0
  let sr = 0
  for (let row = Math.floor(fromDeg / rowDeg); row < rows && row * rowDeg < toDeg; row++) {
    const zone = zoneSr(Math.max(fromDeg, row * rowDeg) * RAD, Math.min(toDeg, (row + 1) * rowDeg) * RAD)
    const of = (column: number) => values[row * columns + column] ?? 0
    lm += zone * ((1 - part) * of(left) + part * of(right))
    sr += zone
  }
  return sr > 0 ? lm / sr : 0
}
