// Beam and field angle plane by plane, for beams that aren't round: the window map near the axis, the whole sphere beyond it.
import type { Folded } from '../run/batches.ts'
import { zoneSr } from './profile.ts'
import { windowCd, windowCellRad } from './windowMap.ts'

const DEG = 180 / Math.PI
const WEDGES = 24
const WEDGE = (2 * Math.PI) / WEDGES

export interface PlaneAngles {
  azimuthDeg: number
  beamDeg: number
  fieldDeg: number
}

/**
 * Beam and field angle, degrees, in twelve planes through the axis: in each, the outermost crossings of 50 % and 10 %
 * of `peakCd` in the two opposite sectors, 30° wide, are added up. Empty when a direction has no crossing. No errors.
 * Sectors: our choice.
 */
export function readAnglesByPlane(folded: Folded, peakCd: number): PlaneAngles[] {
  const wedges = readWedges(folded)
  const sectors = Array.from({ length: WEDGES }, (_, k) => averageSteps(readSector(wedges, k), wedges.fineSteps))
  const half = (wedge: number, level: number) => findOutermost(wedges.thetaRad, sectors[wedge]!, level)
  const planes: PlaneAngles[] = []
  for (let k = 0; k < WEDGES / 2; k++) {
    const across = (level: number) => {
      const [a, b] = [half(k, level), half(k + WEDGES / 2, level)]
      return a === null || b === null ? null : (a + b) * DEG
    }
    const [beamDeg, fieldDeg] = [across(0.5 * peakCd), across(0.1 * peakCd)]
    if (beamDeg === null || fieldDeg === null) return []
    planes.push({ azimuthDeg: (k * 360) / WEDGES, beamDeg, fieldDeg })
  }
  return planes
}

interface Wedges {
  thetaRad: Float64Array
  /** How many of the steps lie in the window. */
  fineSteps: number
  lm: Float64Array
  sr: Float64Array
}

/** Lumens and solid angle by step of θ and wedge of azimuth, wedge k from k · 15° on. */
function readWedges(folded: Folded): Wedges {
  const { shape } = folded.run
  const n = shape.windowN
  const cell = windowCellRad(shape)
  const fineSteps = n >> 1
  const gammaStep = Math.PI / shape.sphereGamma
  const firstGamma = Math.ceil(shape.fineHalfRad / gammaStep)
  const steps = fineSteps + Math.max(0, shape.sphereGamma - firstGamma)
  const lm = new Float64Array(steps * WEDGES)
  const sr = new Float64Array(steps * WEDGES)
  const thetaRad = new Float64Array(steps)
  for (let i = 0; i < fineSteps; i++) thetaRad[i] = (i + 0.5) * cell
  const cd = windowCd(folded, folded.all)
  const { at, fromAxis } = getCells(n)
  for (let i = 0; i < cd.length; i++) {
    const to = at[i]!
    if (to < 0) continue
    const theta = fromAxis[i]! * cell
    const cellSr = cell * cell * (Math.sin(theta) / theta)
    lm[to]! += cd[i]! * cellSr
    sr[to]! += cellSr
  }
  for (let g = firstGamma; g < shape.sphereGamma; g++) {
    const step = fineSteps + g - firstGamma
    thetaRad[step] = (g + 0.5) * gammaStep
    const zone = zoneSr(g * gammaStep, (g + 1) * gammaStep)
    for (let c = 0; c < shape.sphereC; c++) {
      const at = step * WEDGES + wedgeOf(((c + 0.5) / shape.sphereC) * 2 * Math.PI)
      lm[at]! += folded.all.data[folded.layout.sphereLm + g * shape.sphereC + c]! * folded.all.lmPerWeight
      sr[at]! += zone / shape.sphereC
    }
  }
  return { thetaRad, fineSteps, lm, sr }
}

interface Cells {
  /** Step · WEDGES + wedge of each cell of the window; −1: further out than its steps. */
  at: Int32Array
  /** In cells. */
  fromAxis: Float64Array
}

let cellsCache: { n: number; value: Cells } | null = null

/** A lookup, the same for a window of so many cells, whatever angle it spans. */
function getCells(n: number): Cells {
  if (cellsCache?.n === n) return cellsCache.value
  const value: Cells = { at: new Int32Array(n * n).fill(-1), fromAxis: new Float64Array(n * n) }
  for (let i = 0; i < n * n; i++) {
    const [x, y] = [(i % n) + 0.5 - n / 2, Math.floor(i / n) + 0.5 - n / 2]
    value.fromAxis[i] = Math.hypot(x, y)
    const step = Math.floor(value.fromAxis[i]!)
    if (step < n >> 1) value.at[i] = step * WEDGES + wedgeOf(Math.atan2(y, x))
  }
  cellsCache = { n, value }
  return value
}

const wedgeOf = (azimuth: number) => ((Math.floor(azimuth / WEDGE) % WEDGES) + WEDGES) % WEDGES

/** Intensity in the sector 30° wide about the azimuth where wedge k starts; next to the axis, where it has no cell, over the full circle. */
function readSector({ thetaRad, lm, sr }: Wedges, k: number): Float64Array {
  const cd = new Float64Array(thetaRad.length)
  for (let i = 0; i < cd.length; i++) {
    const a = i * WEDGES + ((k + WEDGES - 1) % WEDGES)
    const b = i * WEDGES + (k % WEDGES)
    let solid = sr[a]! + sr[b]!
    let light = lm[a]! + lm[b]!
    if (solid === 0) {
      for (let w = 0; w < WEDGES; w++) {
        solid += sr[i * WEDGES + w]!
        light += lm[i * WEDGES + w]!
      }
    }
    cd[i] = solid > 0 ? light / solid : 0
  }
  return cd
}

/** Three steps averaged inside the window, where they are narrow. */
function averageSteps(raw: Float64Array, fineSteps: number): Float64Array {
  const cd = raw.slice()
  for (let i = 1; i < Math.min(fineSteps, raw.length) - 1; i++) cd[i] = (raw[i - 1]! + raw[i]! + raw[i + 1]!) / 3
  return cd
}

function findOutermost(thetaRad: Float64Array, cd: Float64Array, level: number): number | null {
  for (let i = cd.length - 2; i >= 0; i--) {
    const a = cd[i]!
    const b = cd[i + 1]!
    if (a >= level && b < level) return thetaRad[i]! + ((a - level) / (a - b)) * (thetaRad[i + 1]! - thetaRad[i]!)
  }
  return null
}
