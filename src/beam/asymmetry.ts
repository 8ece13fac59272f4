// How far a beam is from round, and how many planes through the axis tell it: by the harmonics of its intensity around the axis.
import { cellDeg, type DirectionLight, discMean } from './directions.ts'
import { zoneSr } from './profile.ts'

const RAD = Math.PI / 180
const STEPS = 180
const HARMONICS = 60
/** Luminous weights of single rays differ by their wavelengths: the square's mean over the mean's square, of white light. Our estimate. */
const WEIGHTS = 1.5

export interface Asymmetry {
  /** Variation around the axis, rms over the beam as a share of the rms intensity, chance taken off. */
  share: number
  /** Of the table's planes, evenly over the turn; 1: the mean over azimuth tells it all. */
  planes: number
  /** What straight lines between those planes leave out, as `share`. */
  left: number
}

/** A beam that varies less than this around the axis is called round. Our choice. */
const ROUND = 0.03
/** What is left out between planes. Our choice. */
const LEFT = 0.01
const PLANES = [24, 36, 48, 72, 90, 120, 180]

/**
 * Variation around the axis of the part of the beam above a twentieth of its peak, in the direction map, and the planes that a table wants.
 * Straight lines between planes 2π/n apart miss a harmonic m by (2πm/n)²/8 of its amplitude at most, √(8/15) of that on average (series of the
 * cosine). Noise adds 1/n to the square of each harmonic of a ring that n rays have gone through.
 */
export function readAsymmetry({ directionMap, figures, rays, profile }: DirectionLight): Asymmetry {
  const cell = cellDeg(directionMap)
  const oneRayLm = (figures.emittedLm?.value ?? 0) / Math.max(1, rays)
  const peak = Math.max(...Array.from(profile.cd))
  const energy = new Float64Array(HARMONICS + 1)
  let noise = 0
  for (let thetaDeg = cell; thetaDeg < directionMap.toX; thetaDeg += cell) {
    const sr = zoneSr((thetaDeg - cell / 2) * RAD, (thetaDeg + cell / 2) * RAD)
    const ring = Float64Array.from(
      { length: STEPS },
      (_, k) => discMean(directionMap, thetaDeg, (360 * k) / STEPS, cell) ?? 0,
    )
    const mean = ring.reduce((sum, cd) => sum + cd, 0) / STEPS
    if (!(Math.max(...ring) > 0.05 * peak)) continue
    const raysHere = (mean * sr) / Math.max(oneRayLm, 1e-300)
    for (const [m, square] of harmonics(ring).entries()) energy[m] = (energy[m] ?? 0) + sr * square
    noise += (sr * mean * mean * WEIGHTS) / Math.max(1, raysHere)
  }
  const [all = 0] = energy
  if (!(all > 0)) return { share: 0, planes: 1, left: 0 }
  const significant = energy.map((e, m) => (m > 0 && e > 2 * noise ? 2 * (e - noise) : 0))
  const share = Math.sqrt(significant.reduce((sum, e) => sum + e, 0) / all)
  if (share < ROUND) return { share, planes: 1, left: share }
  const leftBy = (planes: number) =>
    Math.sqrt(significant.reduce((sum, e, m) => sum + e * missed(m, planes) ** 2, 0) / all)
  const planes = PLANES.find((n) => leftBy(n) < LEFT) ?? 180
  return { share, planes, left: leftBy(planes) }
}

const missed = (m: number, planes: number): number =>
  Math.min(1, (((2 * Math.PI * m) / planes) ** 2 / 8) * Math.sqrt(8 / 15))

/** Squares of the amplitudes |c_m|², m from 0, of values evenly round the turn. */
function harmonics(ring: Float64Array): number[] {
  return Array.from({ length: HARMONICS + 1 }, (_, m) => {
    let [re, im] = [0, 0]
    for (const [k, value] of ring.entries()) {
      const turn = (2 * Math.PI * ((k * m) % STEPS)) / STEPS
      re += value * Math.cos(turn)
      im += value * Math.sin(turn)
    }
    return (re * re + im * im) / (STEPS * STEPS)
  })
}
