// Illuminance on the target plane, from the exit rays themselves and not from I/d²: right in the near field as well.
import { apertureReachMm, frontZMm } from '../lamp/front.ts'
import type { Lamp } from '../lamp/schema.ts'
import { mean as meanOfCells } from '../num/stats.ts'
import { boundShare, type Folded, fold, jackknife, meanOf, ratioOf } from '../run/batches.ts'
import { type RayColumns, rayColumns } from '../run/exits.ts'
import { betweenExtremes } from '../run/extreme.ts'
import type { Figure, GridMap } from '../run/figure.ts'
import { tallyLayout } from '../run/layout.ts'
import { lumensPerWeight } from '../run/scale.ts'
import { BATCHES, type Run, type TallyShape } from '../run/types.ts'
import { findDarkest } from './darkest.ts'
import { oneRayLm, readSmoothProfile } from './profile.ts'
import { windowCd, windowCellRad } from './windowMap.ts'

type TargetFigure = 'targetCentreLx' | 'targetMeanLx' | 'targetMinLx' | 'targetEvenness'

export interface TargetReading {
  figures: Partial<Record<TargetFigure, Figure>>
  absent: Partial<Record<TargetFigure, string>>
  map: GridMap
  notes: string[]
  /** Radius of the disc that the centre was read from; null where it is the far field's. */
  centreRadiusM: number | null
}

/**
 * Radius, m, of the disc that the centre is the mean over, where rays are many enough: the axial cone's at that
 * distance, or a tenth of half the target's shorter side if that is wider; at most all of that half side. Our choice.
 */
export function centreDiscM(target: Lamp['target'], coneHalfRad: number): number {
  const most = Math.min(target.widthM, target.heightM) / 2
  return Math.min(most, Math.max(target.distanceM * Math.tan(coneHalfRad), most / 10))
}

/** Fewer rays than this on the target tell nothing; the far field is then used. */
const ENOUGH_RAYS = 400
const RAYS_A_MAP_CELL = 12
const CELLS = 15
const MAP_CELLS = 48
/** Counts so small are no longer spread evenly about their mean. */
const RAYS_IN_CENTRE = 20
/** Sums of rays of full weight, but for rounding. */
const ALMOST = 1 - 1e-6

/** The lamp's target as a run counts it (mm, lamp frame): its distance is taken from the lamp's front. */
export function targetCells(lamp: Lamp): TallyShape['target'] {
  const { target, reading } = lamp
  return {
    n: CELLS,
    zMm: frontZMm(lamp) + 1000 * target.distanceM,
    halfXMm: 500 * target.widthM,
    halfYMm: 500 * target.heightM,
    centreMm: 1000 * centreDiscM(target, (reading.axialConeHalfDeg * Math.PI) / 180),
  }
}

/**
 * Illuminance on the target (lx): centre, mean, minimum and their ratio, with errors, from all rays of the run, which has counted them by
 * `targetCells(lamp)`; and a map from the exit rays. Where fewer than 400 hit the target, I cos³θ/d² of the far field (inverse-square and cosine
 * law), which the notes report. `absent`, in words, for a dark target.
 */
export function readTarget(run: Run, lamp: Lamp): TargetReading {
  const cells = cellsOf(run)
  const areaM2 = lamp.target.widthM * lamp.target.heightM
  const mean = meanOf(cells.map(meanOfCells))
  const rays = (mean.value * areaM2) / oneRayLm(run)
  if (rays >= ENOUGH_RAYS * ALMOST) return readFromRays(run, lamp, cells)
  const few = rays >= BATCHES * ALMOST ? { value: mean.value, se: Math.max(mean.se, oneRayLm(run) / areaM2) } : null
  return readFromFarField(fold(run), lamp, few)
}

/** Illuminance of each cell, lx, batch by batch, each batch scaled to stand for the whole. */
function cellsOf(run: Run): Float64Array[] {
  const { targetLm } = tallyLayout(run.shape)
  const { n, halfXMm, halfYMm } = run.shape.target
  const perM2 = (n * n) / (4e-6 * halfXMm * halfYMm)
  return run.tallies.map((tally) => {
    const lx = new Float64Array(n * n)
    const scale = lumensPerWeight(run, tally) * perM2
    for (let k = 0; k < lx.length; k++) lx[k] = tally[targetLm + k]! * scale
    return lx
  })
}

/** Where rays land on the target, mm, with their lumens; the first `count` of each. */
interface Landed {
  count: number
  xMm: Float32Array
  yMm: Float32Array
  lumens: Float32Array
}

const makeLanded = (count: number): Landed => ({
  count: 0,
  xMm: new Float32Array(count),
  yMm: new Float32Array(count),
  lumens: new Float32Array(count),
})

/** Used again from run to run: what landed before is then lost. */
let landed = makeLanded(0)

/** The rays that land within ± half of the axis; valid until the next call. */
function landOnTarget(rays: RayColumns, distanceMm: number, halfXMm: number, halfYMm: number): Landed {
  if (landed.xMm.length < rays.count) landed = makeLanded(rays.count)
  const { xMm, yMm, slopeX, slopeY, lumens } = rays
  let count = 0
  for (let i = 0; i < rays.count; i++) {
    const x = Math.fround(xMm[i]! + slopeX[i]! * distanceMm)
    const y = Math.fround(yMm[i]! + slopeY[i]! * distanceMm)
    if (!(Math.abs(x) < halfXMm && Math.abs(y) < halfYMm)) continue
    landed.xMm[count] = x
    landed.yMm[count] = y
    landed.lumens[count] = lumens[i]!
    count++
  }
  return { ...landed, count }
}

/** About square cells for the map, so many that each has a dozen rays on average. */
function mapCells(count: number, { widthM, heightM }: Lamp['target']): { columns: number; rows: number } {
  const wanted = Math.sqrt(count / RAYS_A_MAP_CELL)
  const aspect = Math.sqrt(widthM / heightM)
  const within = (n: number) => Math.min(MAP_CELLS, Math.max(1, Math.floor(n)))
  return { columns: within(wanted * aspect), rows: within(wanted / aspect) }
}

/** Illuminance, lx, of the rays that land in each cell. */
function binRays(
  { count, xMm, yMm, lumens }: Landed,
  target: Lamp['target'],
): { columns: number; rows: number; lx: Float64Array } {
  const { widthM, heightM } = target
  const { columns, rows } = mapCells(count, target)
  const lx = new Float64Array(columns * rows)
  const scale = (columns * rows) / (widthM * heightM)
  for (let k = 0; k < count; k++) {
    const column = Math.min(columns - 1, Math.floor((xMm[k]! / (1000 * widthM) + 0.5) * columns))
    const row = Math.min(rows - 1, Math.floor((yMm[k]! / (1000 * heightM) + 0.5) * rows))
    lx[row * columns + column]! += lumens[k]! * scale
  }
  return { columns, rows, lx }
}

function readFromRays(run: Run, lamp: Lamp, cells: readonly Float64Array[]): TargetReading {
  const { target } = lamp
  const { n, halfXMm, halfYMm, centreMm } = run.shape.target
  const { mean, least, evenness } = readSpread(cells, n, (oneRayLm(run) * n * n) / (4e-6 * halfXMm * halfYMm))
  const centreRadiusM = centreMm / 1000
  const centre = readCentre(run)
  const columns = rayColumns(run, frontZMm(lamp))
  const map = binRays(landOnTarget(columns, 1000 * target.distanceM, halfXMm, halfYMm), target)
  const notes = [
    `Distances to the target are taken from the lamp’s front.`,
    `The centre is the mean over a disc of ${metres(2 * centreRadiusM)}; the minimum is over ${n} × ${n} cells.`,
  ]
  return {
    figures: {
      ...(centre && { targetCentreLx: centre }),
      targetMeanLx: mean,
      targetMinLx: least,
      targetEvenness: evenness,
    },
    absent: centre ? {} : { targetCentreLx: TOO_FEW_IN_CENTRE },
    map: makeGridMap(target, map.columns, map.rows, (cell) => map.lx[cell]!),
    notes,
    centreRadiusM,
  }
}

const metres = (m: number) => (m < 1 ? `${Number((1000 * m).toPrecision(3))} mm` : `${Number(m.toPrecision(3))} m`)

function makeGridMap(target: Lamp['target'], columns: number, rows: number, at: (cell: number) => number): GridMap {
  return {
    columns,
    rows,
    fromX: -target.widthM / 2,
    toX: target.widthM / 2,
    fromY: -target.heightM / 2,
    toY: target.heightM / 2,
    unit: 'm',
    values: Float32Array.from({ length: columns * rows }, (_, i) => at(i)),
    of: 'lx',
  }
}

/** Mean, minimum and their ratio; one ray in a cell is `oneRayLx`. Cells are lx, batch by batch, n × n. */
function readSpread(
  cells: readonly Float64Array[],
  n: number,
  oneRayLx: number,
): { mean: Figure; least: Figure; evenness: Figure } {
  const whole = cells.map(meanOfCells)
  const { dark, own, noise } = findDarkest(cells, n)
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0)
  const [all, allDark] = [sum(whole), sum(dark)]
  const evenness = jackknife(
    ratioOf(allDark, all),
    whole.map((w, b) => ratioOf(allDark - dark[b]!, all - w)),
  )
  const mean = meanOf(whole)
  const split = meanOf(dark)
  const inside = { value: Math.min(split.value, mean.value), se: Math.max(split.se, noise) }
  const least = betweenExtremes(inside, own)
  const share = betweenExtremes(
    { value: ratioOf(inside.value, mean.value), se: Math.max(evenness.se, ratioOf(noise, mean.value)) },
    ratioOf(own, mean.value),
  )
  return {
    mean,
    least: { value: least.value, se: Math.max(least.se, oneRayLx) },
    evenness: boundShare(share, mean.value > 0 ? oneRayLx / mean.value : 1),
  }
}

/**
 * Mean over the disc of `centreDiscM`, however few rays it holds: a wider one would be another figure where light is uneven. Null where so few tell
 * nothing.
 */
function readCentre(run: Run): Figure | null {
  const at = tallyLayout(run.shape).targetCentreLm
  const { value, se } = meanOf(run.tallies.map((tally) => tally[at]! * lumensPerWeight(run, tally)))
  if (value < RAYS_IN_CENTRE * oneRayLm(run) * ALMOST) return null
  const area = Math.PI * (run.shape.target.centreMm / 1000) ** 2
  return { value: value / area, se: se / area }
}

function readFarCentre(folded: Folded, lamp: Lamp): Figure {
  const axial = folded.layout.axialLm
  const area = 4 * Math.PI * Math.sin(folded.run.shape.axialConeHalfRad / 2) ** 2 * lamp.target.distanceM ** 2
  const of = (t: { data: Float64Array; lmPerWeight: number }) => (t.data[axial]! * t.lmPerWeight) / area
  const { value, se } = jackknife(of(folded.all), folded.without.map(of))
  return { value, se: Math.max(se, oneRayLm(folded.run) / area) }
}

/** The target is so far or so small that hardly an exit ray hits it: I cos³θ / d² of the traced intensity. */
function readFromFarField(folded: Folded, lamp: Lamp, ofRays: Figure | null): TargetReading {
  const { target } = lamp
  const intensity = makeFarIntensity(folded)
  const n = CELLS
  const lxAt = (cell: number) => {
    const x = (((cell % n) + 0.5) / n - 0.5) * target.widthM
    const y = ((Math.floor(cell / n) + 0.5) / n - 0.5) * target.heightM
    const theta = Math.atan2(Math.hypot(x, y), target.distanceM)
    return (intensity(theta, Math.atan2(y, x)) * Math.cos(theta) ** 3) / target.distanceM ** 2
  }
  const map = makeGridMap(target, n, n, lxAt)
  const centre = readFarCentre(folded, lamp)
  // The cone's mean is the disc's only where the cone is the disc, and the lamp is a point beside it.
  const coneMm = 1000 * target.distanceM * Math.tan(folded.run.shape.axialConeHalfRad)
  const tellsCentre = coneMm <= 500 * Math.min(target.widthM, target.heightM) && apertureReachMm(lamp) <= 0.1 * coneMm
  const notes = [
    'Distances to the target are taken from the lamp’s front.',
    'Too few exit rays hit the target: its illuminance is the far field’s, I cos³θ / d². Close to the lamp that is not exact.',
  ]
  const mean = map.values.reduce((a, b) => a + b, 0) / map.values.length
  if (!(mean > 0)) {
    const why = 'No light falls on the target.'
    const absent = { targetCentreLx: why, targetMeanLx: why, targetMinLx: why, targetEvenness: why }
    return { figures: {}, absent, map, notes, centreRadiusM: null }
  }
  // So few rays that the error of the axial cone stands for that of the mean: a target that they hit so seldom is hardly wider than that cone.
  const relative = centre.value > 0 ? centre.se / centre.value : 1
  return {
    figures: {
      ...(tellsCentre && centre.value > 0 && { targetCentreLx: centre }),
      targetMeanLx: ofRays ?? { value: mean, se: relative * mean },
    },
    absent: {
      ...(!(tellsCentre && centre.value > 0) && { targetCentreLx: TOO_FEW_IN_CENTRE }),
      targetMinLx: TOO_FEW_FOR_LEAST,
      targetEvenness: TOO_FEW_FOR_LEAST,
    },
    map,
    notes,
    centreRadiusM: null,
  }
}

const TOO_FEW_IN_CENTRE = 'Too few rays hit the middle of the target so far.'
const TOO_FEW_FOR_LEAST = 'Too few rays hit the target so far to find its darkest place.'

/** Inside the axial cone the cone's own mean; then the window map; beyond it the azimuth mean. */
function makeFarIntensity(folded: Folded): (theta: number, phi: number) => number {
  const { shape } = folded.run
  const profile = readSmoothProfile(folded)
  const cd = windowCd(folded, folded.all)
  const cell = windowCellRad(shape)
  const n = shape.windowN
  return (theta, phi) => {
    if (theta <= shape.axialConeHalfRad) return profile.cd[0]!
    if (theta < shape.fineHalfRad) {
      const column = Math.floor((theta * Math.cos(phi)) / cell + n / 2)
      const row = Math.floor((theta * Math.sin(phi)) / cell + n / 2)
      return cd[row * n + column]!
    }
    let j = profile.thetaRad.findIndex((t) => t >= theta)
    if (j < 0) j = profile.thetaRad.length - 1
    return profile.cd[j]!
  }
}
