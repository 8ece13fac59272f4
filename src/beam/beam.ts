// The beam, read from a run: what leaves the lamp, how bright, how wide, with errors; a figure that can't be read has
// its reason in `absent`.
import type { Lamp } from '../lamp/schema.ts'
import type { FoundPlace } from '../num/gridDisc.ts'
import { T95 } from '../num/stats.ts'
import { type Folded, fold, jackknife, overBatches } from '../run/batches.ts'
import { betweenExtremes, rootOf } from '../run/extreme.ts'
import type { Figure, GridMap } from '../run/figure.ts'
import type { Run } from '../run/types.ts'
import { ANGLES, type Angles, type PeakLevel, type Ring, readAngles, TABLE } from './angles.ts'
import { hedge, wideCellSe } from './hedge.ts'
import { choosePeak, findPeakCandidates, findRivals, type Peak, type PeakCandidates } from './peak.ts'
import { type PlaneAngles, readAnglesByPlane } from './planes.ts'
import {
  coneSr,
  findHalfAngle,
  oneRayLm,
  type Profile,
  readSmoothProfile,
  thetaEdges,
  unevenInBin,
  weightInside,
} from './profile.ts'
import { findExtremeSpot, findOwnSpots, readDirectionMap, readOwnCone, windowCellRad } from './windowMap.ts'

const DEG = 180 / Math.PI
const RAD = Math.PI / 180
/** Illuminance that ends the beam distance, lx: ANSI/PLATO FL 1. */
const BEAM_DISTANCE_LX = 0.25

export type BeamFigure =
  | 'emittedLm'
  | 'fluxOutLm'
  | 'efficiency'
  | 'axialIntensityCd'
  | 'peakIntensityCd'
  | 'beamAngleDeg'
  | 'fieldAngleDeg'
  | 'halfFluxAngleDeg'
  | 'ninetyFluxAngleDeg'
  | 'patternContrast'
  | 'spillOutsideBeam'
  | 'spillOutsideField'
  | 'spillOutsideTarget'
  | 'beamDistanceM'

export interface Beam {
  figures: Partial<Record<BeamFigure, Figure>>
  absent: Partial<Record<BeamFigure, string>>
  /** What more rays leave of a figure's standard error: bins, tables, cells of the map. In its unit; absent: nothing. */
  floors: Partial<Record<BeamFigure, number>>
  /** How the figures were read, where the run's bins or the user's choices set a limit. */
  notes: string[]
  /** The azimuth mean falls through 50 % or 10 % of the peak, rises again, and falls for good further out. */
  patterned: boolean
  peakAt: { thetaDeg: number; azimuthDeg: number /** A ring about the axis: the mean over azimuth. */; around: boolean }
  /** The peak is a mean over a cell of the map so wide, which is wider than the cone. */
  peakCellDeg?: number
  /** The profile with the values without one batch; null when no light leaves. */
  smoothed: Profile | null
  /** What may be the peak, by the forward rays; null when no light leaves. */
  peaks: PeakCandidates | null
  /** Half angles of beam and field with the values without one batch, for the ledger; absent when they can't be had. */
  angles: Angles
  profile: { thetaDeg: Float32Array; cd: Float32Array; seCd: Float32Array; byDirection: PlaneAngles[] }
  directionMap: GridMap
}

const NO_LIGHT = 'No light leaves the lamp.'

/**
 * All figures of the beam with standard errors (lm, cd, degrees, fractions, m), from a valid run of that lamp. Never
 * throws: what can't be read is in `absent`, in words.
 * Angles at 50 % and 10 % of the peak, by the outermost crossing (choices of the model); beam distance √(I/0.25 lx),
 * ANSI/PLATO FL 1.
 */
export function readBeam(run: Run, lamp: Lamp): Beam {
  const light = readLight(run, lamp)
  if (!light.peaks) return light
  const chosen = choosePeak(light.peaks)
  return readByPeak(light, run, forwardPeak(chosen, findRivals(light.peaks, chosen)))
}

/** The peak by the forward rays, as sure as its place is. On the axis its level moves with the batches, elsewhere its error is its own. */
export function forwardPeak(chosen: Peak, rivals: readonly Peak[]): PeakLevel & Peak {
  if (chosen.own === undefined && rivals.length === 0) return { ...chosen, isOwn: false }
  const figure = hedge(chosen, rivals)
  const floorSe = chosen.cell ? wideCellSe(chosen.cell) : 0
  return { ...chosen, ...figure, floorSe, without: chosen.without.map(() => figure.value), isOwn: true }
}

/** The beam without what hangs on its peak, which backward tracing may know better: `readByPeak` adds it where there are `peaks`. */
export function readLight(run: Run, lamp: Lamp): Beam {
  const folded = fold(run)
  const beam = readFluxFigures(folded, lamp)
  if (!beam.figures.fluxOutLm) return beam
  const profile = readSmoothProfile(folded)
  const axial = overBatches(run, (t, lm) => (t[folded.layout.axialLm]! * lm) / axialSr(run))
  beam.figures.axialIntensityCd = { value: axial.value, se: Math.max(axial.se, oneRayLm(run) / axialSr(run)) }
  if (axial.value <= 0) {
    delete beam.figures.axialIntensityCd
    beam.absent.axialIntensityCd = 'No ray has gone into the axial cone so far: the axis is dark, or needs more rays.'
  }
  beam.peaks = findPeakCandidates(folded, profile)
  beam.smoothed = profile
  beam.profile = {
    thetaDeg: Float32Array.from(profile.thetaRad, (t) => t * DEG),
    cd: new Float32Array(profile.cd),
    seCd: new Float32Array(profile.seCd),
    byDirection: [],
  }
  return beam
}

/**
 * The beam with what hangs on the peak: its place, beam and field angle, spill, pattern, beam distance. `peak`: by the forward rays, or joined
 * with backward tracing; `rings`: the azimuth mean near the crossings by backward tracing.
 */
export function readByPeak(
  beam: Beam,
  run: Run,
  peak: PeakLevel & Pick<Peak, 'thetaRad' | 'azimuthRad' | 'around' | 'cell'>,
  rings: Partial<Record<keyof Angles, Ring>> = {},
): Beam {
  if (!(peak.value > 0) || !beam.smoothed) return markPeakAbsent(beam, NO_PEAK)
  const peakAt = { thetaDeg: peak.thetaRad * DEG, azimuthDeg: peak.azimuthRad * DEG, around: peak.around }
  if (peak.cell?.alone) return { ...markPeakAbsent(beam, inOneCell(peak.cell.rad * DEG)), peakAt }
  const known = (T95 * peak.se) / peak.value
  if (known > PEAK_GIVEN) {
    const percent = Math.ceil(100 * known)
    return markPeakAbsent(
      beam,
      percent < 100 ? `The peak is known to ± ${percent} % only so far: more rays tell.` : NO_PEAK,
    )
  }
  const folded = fold(run)
  const reading = readAngles(folded, beam.smoothed, peak, rings)
  const figures = { ...beam.figures, ...reading.figures }
  const absent = { ...beam.absent, ...reading.absent }
  for (const { angle, spill } of ANGLES)
    for (const name of [angle, spill]) delete (reading.figures[name] ? absent : figures)[name]
  figures.peakIntensityCd = { value: peak.value, se: peak.se }
  const floorSe = peak.floorSe ?? 0
  const floors = { ...beam.floors, ...reading.floors, peakIntensityCd: floorSe }
  // FL 1: the beam distance is 2 √I; its ± reaches to the root of the lower end, which is farther off than that of the upper.
  figures.beamDistanceM = rootOf({ value: peak.value / BEAM_DISTANCE_LX, se: peak.se / BEAM_DISTANCE_LX })
  const out: Beam = {
    ...beam,
    figures,
    absent,
    // Of a root: half of the share.
    floors: { ...floors, beamDistanceM: (figures.beamDistanceM.value * floorSe) / peak.value / 2 },
    peakAt,
    ...(peak.cell && { peakCellDeg: peak.cell.rad * DEG }),
    angles: reading.angles,
    patterned: reading.patterned,
    profile: { ...beam.profile, byDirection: reading.angles.beam ? readAnglesByPlane(folded, peak.value) : [] },
  }
  readPattern(out, folded)
  return out
}

const axialSr = (run: Run) => 4 * Math.PI * Math.sin(run.shape.axialConeHalfRad / 2) ** 2

function readFluxFigures(folded: Folded, lamp: Lamp): Beam {
  const { run, layout } = folded
  const edges = thetaEdges(run.shape)
  const out = (t: Float64Array) => weightInside(t, layout.profileLm, edges, Math.PI)
  const beam: Beam = {
    figures: { emittedLm: { value: run.emittedLm, se: 0 } },
    absent: {},
    floors: {},
    notes: readingNotes(run),
    patterned: false,
    peakAt: { thetaDeg: 0, azimuthDeg: 0, around: true },
    smoothed: null,
    peaks: null,
    angles: {},
    profile: { thetaDeg: new Float32Array(), cd: new Float32Array(), seCd: new Float32Array(), byDirection: [] },
    directionMap: readDirectionMap(folded),
  }
  if (!(out(folded.all.data) > 0)) {
    for (const name of AFTER_EMITTED) beam.absent[name] = NO_LIGHT
    return beam
  }
  const { figures } = beam
  figures.fluxOutLm = overBatches(run, (t, lm) => out(t) * lm)
  figures.efficiency = overBatches(run, (t, lm) => (out(t) * lm) / run.emittedLm)
  const { data } = folded.all
  const oneRay = data[layout.emitted + 1]! / run.rays
  const put = (name: 'halfFluxAngleDeg' | 'ninetyFluxAngleDeg', share: number) => {
    const { value, se } = overBatches(run, (t) => 2 * DEG * findHalfAngle(t, layout.profileLm, edges, share))
    const rad = value / 2 / DEG
    const bin = edges.findIndex((edge) => edge > rad) - 1
    // By the weight that the bin has for each radian.
    const perRad = bin >= 0 ? data[layout.profileLm + bin]! / (edges[bin + 1]! - edges[bin]!) : 0
    const toDeg = (weight: number) => (perRad > 0 ? (2 * DEG * weight) / perRad : 0)
    const floor = Math.hypot(TABLE * value, toDeg(unevenInBin(data, layout.profileLm, edges, rad)))
    figures[name] = { value, se: Math.hypot(se, floor, toDeg(oneRay)) }
    beam.floors[name] = floor
  }
  put('halfFluxAngleDeg', 0.5)
  put('ninetyFluxAngleDeg', 0.9)
  const target = lamp.target.coneHalfDeg * RAD
  const spill = overBatches(run, (t) => 1 - weightInside(t, layout.profileLm, edges, target) / out(t))
  const floor = unevenInBin(data, layout.profileLm, edges, target) / out(data)
  figures.spillOutsideTarget = { value: spill.value, se: Math.hypot(spill.se, floor, oneRay / out(data)) }
  beam.floors.spillOutsideTarget = floor
  return beam
}

const AFTER_EMITTED: BeamFigure[] = [
  'fluxOutLm',
  'efficiency',
  'axialIntensityCd',
  'peakIntensityCd',
  'beamAngleDeg',
  'fieldAngleDeg',
  'halfFluxAngleDeg',
  'ninetyFluxAngleDeg',
  'patternContrast',
  'spillOutsideBeam',
  'spillOutsideField',
  'spillOutsideTarget',
  'beamDistanceM',
]

const NO_PEAK = 'Too few rays have left the lamp so far to find its peak.'
const inOneCell = (deg: number) =>
  `The brightest light fills one cell of the map over direction, ${Number(deg.toPrecision(2))}° wide, and hardly those beside it: how bright it is in a cone narrower than that can’t be read.`
/** Known less well than this (95 %) it may be off by four times. Our choice. */
const PEAK_GIVEN = 0.6

function markPeakAbsent(beam: Beam, why: string): Beam {
  const absent = { ...beam.absent }
  for (const name of AFTER_EMITTED) if (!beam.figures[name]) absent[name] ??= why
  return { ...beam, absent }
}

function readingNotes(run: Run): string[] {
  const { shape } = run
  const deg = (rad: number) => `${Number((rad * DEG).toPrecision(3))}°`
  const notes = [`Intensities are means over a cone of ${deg(shape.axialConeHalfRad)} half angle.`]
  const fine = shape.fineHalfRad / shape.fineBins
  if (shape.axialConeHalfRad < fine / 2)
    notes.push(`Off the axis the profile is a mean over bins of ${deg(fine)}, which are wider than that cone.`)
  if (shape.axialConeHalfRad < windowCellRad(shape) / 2)
    notes.push(`The map over direction has cells of ${deg(windowCellRad(shape))}, wider than that cone.`)
  if (shape.axialConeHalfRad > shape.fineHalfRad / 2)
    notes.push('The cone is as wide as the beam: peak and angles are smoothed by it.')
  return notes
}

/** (max − min)/(max + min) of the smoothed map in the cone on the axis whose full angle is half the field angle. */
function readPattern(beam: Beam, folded: Folded): void {
  const { shape } = folded.run
  const field = beam.angles.field
  if (!field) {
    beam.absent.patternContrast = beam.absent.fieldAngleDeg ?? NO_LIGHT
    return
  }
  const half = field.rad / 2
  const cell = windowCellRad(shape)
  if (half > shape.fineHalfRad) {
    beam.absent.patternContrast = 'The field is wider than the map over direction near the axis.'
    return
  }
  const middle = shape.windowN / 2
  const edge = Math.max(half, cell) / cell
  const reach = Math.ceil(edge) + 1
  const span = [Math.max(0, middle - reach), Math.min(shape.windowN, middle + reach)] as const
  const about = { column: middle, row: middle, cells: edge }
  const search = { about, within: { rows: span, columns: span } }
  const contrast = (a: number, b: number) => (a + b > 0 ? (a - b) / (a + b) : 0)
  const sides = [search, { ...search, least: true }]
  const [most, least] = sides.map((of) => findExtremeSpot(folded, shape.axialConeHalfRad, of).inBatch) as [
    Batches,
    Batches,
  ]
  const own = sides.map((of) => findOwnSpots(folded, shape.axialConeHalfRad, of)[0])
  const [top, bottom] = own.map((place) => place?.mean ?? 0) as [number, number]
  const [sumA, sumB] = [most, least].map((s) => s.reduce((x, y) => x + y, 0)) as [number, number]
  const n = most.length
  const split = jackknife(
    contrast(sumA, sumB),
    most.map((v, i) => contrast(sumA - v, sumB - least[i]!)),
  )
  // The darkest place is known no better than to one ray in its cone, by d/db of (a − b)/(a + b).
  const oneRayCd = oneRayLm(folded.run) / coneSr(shape.axialConeHalfRad)
  const oneRay = sumA > 0 ? ((2 * sumA) / (sumA + sumB) ** 2) * n * oneRayCd : 0
  const inside = { value: Math.max(0, split.value), se: Math.max(split.se, oneRay) }
  const found = betweenExtremes(inside, Math.max(inside.value, contrast(top, bottom)))
  // Places on the edge of that cone move with the field angle.
  const { value: fieldDeg, se: fieldSe } = beam.figures.fieldAngleDeg!
  const moved = [-1, 1].map((side) => {
    const times = 1 + (side * T95 * fieldSe) / fieldDeg
    const [a, b] = own.map((place) => (place ? readMoved(folded, place, edge, times) : 0)) as [number, number]
    return Math.abs(contrast(a, b) - contrast(top, bottom))
  })
  const movedSe = Math.max(...moved) / T95
  beam.figures.patternContrast = { ...found, se: Math.hypot(found.se, movedSe) }
  beam.floors = {
    ...beam.floors,
    patternContrast: fieldSe > 0 ? (movedSe * (beam.floors.fieldAngleDeg ?? 0)) / fieldSe : 0,
  }
}

/** The map's mean over the cone there; of a place on the circle of so many cells about the axis, where that circle is wider by so many times. */
function readMoved(folded: Folded, place: FoundPlace, cells: number, times: number): number {
  const middle = folded.run.shape.windowN / 2
  const [x, y] = [place.column - middle, place.row - middle]
  if (Math.hypot(x, y) < ON_EDGE * cells) return place.mean
  const at = { column: middle + times * x, row: middle + times * y }
  return readOwnCone(folded, at)
}
/** Nearer to the edge than this it lies there only because it may lie no further out. */
const ON_EDGE = 0.995

type Batches = number[]
