// The beam, read from a run: what leaves the lamp, how bright, how wide, with errors; a figure that can't be read has
// its reason in `absent`.
import type { Lamp } from '../lamp/schema.ts'
import { type Folded, fold, jackknife, overBatches, type Tally } from '../run/batches.ts'
import type { Figure, GridMap } from '../run/figure.ts'
import type { Run } from '../run/types.ts'
import { type Crossing, findOutermostCrossing } from './crossing.ts'
import { findPeak, type Peak } from './peak.ts'
import { type PlaneAngles, readAnglesByPlane } from './planes.ts'
import { findHalfAngle, type Profile, readSmoothProfile, thetaEdges, weightInside } from './profile.ts'
import { findExtremeSpot, readDirectionMap, windowCellRad } from './windowMap.ts'

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
  /** How the figures were read, where the run's bins or the user's choices set a limit. */
  notes: string[]
  /** The azimuth mean falls through 50 % or 10 % of the peak, rises again, and falls for good further out. */
  patterned: boolean
  peakAt: { thetaDeg: number; azimuthDeg: number /** A ring about the axis: the mean over azimuth. */; around: boolean }
  /** The profile with the values without one batch; null when no light leaves. */
  smoothed: Profile | null
  /** Half angles of beam and field with the values without one batch, for the ledger; absent when they can't be had. */
  angles: Angles
  profile: { thetaDeg: Float32Array; cd: Float32Array; seCd: Float32Array; byDirection: PlaneAngles[] }
  directionMap: GridMap
}

export interface HalfAngle {
  rad: number
  without: number[]
}
export interface Angles {
  beam?: HalfAngle
  field?: HalfAngle
}

const NO_LIGHT = 'No light leaves the lamp.'

/**
 * All figures of the beam with standard errors (lm, cd, degrees, fractions, m), from a valid run of that lamp. Never
 * throws: what can't be read is in `absent`, in words.
 * Angles at 50 % and 10 % of the peak, by the outermost crossing (choices of the model); beam distance √(I/0.25 lx),
 * ANSI/PLATO FL 1.
 */
export function readBeam(run: Run, lamp: Lamp): Beam {
  const folded = fold(run)
  const beam = readFluxFigures(folded, lamp)
  if (!beam.figures.fluxOutLm) return beam
  const profile = readSmoothProfile(folded)
  const peak = findPeak(folded, profile)
  beam.figures.axialIntensityCd = overBatches(run, (t, lm) => (t[folded.layout.axialLm]! * lm) / axialSr(run))
  if (beam.figures.axialIntensityCd.value <= 0) {
    delete beam.figures.axialIntensityCd
    beam.absent.axialIntensityCd = 'No ray has gone into the axial cone so far: the axis is dark, or needs more rays.'
  }
  if (!(peak.value > 0)) return markPeakAbsent(beam)
  beam.figures.peakIntensityCd = { value: peak.value, se: peak.se }
  beam.figures.beamDistanceM = jackknife(
    Math.sqrt(peak.value / BEAM_DISTANCE_LX),
    peak.without.map((v) => Math.sqrt(Math.max(0, v) / BEAM_DISTANCE_LX)),
  )
  beam.peakAt = { thetaDeg: peak.thetaRad * DEG, azimuthDeg: peak.azimuthRad * DEG, around: peak.around }
  beam.smoothed = profile
  readAngles(beam, folded, profile, peak)
  readPattern(beam, folded)
  beam.profile = {
    thetaDeg: Float32Array.from(profile.thetaRad, (t) => t * DEG),
    cd: Float32Array.from(profile.cd),
    seCd: Float32Array.from(profile.seCd),
    byDirection: readAnglesByPlane(folded, peak.value),
  }
  return beam
}

const axialSr = (run: Run) => 4 * Math.PI * Math.sin(run.shape.axialConeHalfRad / 2) ** 2

function readFluxFigures(folded: Folded, lamp: Lamp): Beam {
  const { run, layout } = folded
  const edges = thetaEdges(run.shape)
  const out = (t: Float64Array) => weightInside(t, layout.profileLm, edges, Math.PI)
  const beam: Beam = {
    figures: { emittedLm: { value: run.emittedLm, se: 0 } },
    absent: {},
    notes: readingNotes(run),
    patterned: false,
    peakAt: { thetaDeg: 0, azimuthDeg: 0, around: true },
    smoothed: null,
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
  const angle = (share: number) => overBatches(run, (t) => 2 * DEG * findHalfAngle(t, layout.profileLm, edges, share))
  figures.halfFluxAngleDeg = angle(0.5)
  figures.ninetyFluxAngleDeg = angle(0.9)
  const target = lamp.target.coneHalfDeg * RAD
  figures.spillOutsideTarget = overBatches(run, (t) => 1 - weightInside(t, layout.profileLm, edges, target) / out(t))
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

function markPeakAbsent(beam: Beam): Beam {
  const why = 'Too few rays have left the lamp so far to find its peak.'
  for (const name of AFTER_EMITTED) if (!beam.figures[name]) beam.absent[name] ??= why
  return beam
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

function readAngles(beam: Beam, folded: Folded, profile: Profile, peak: Peak): void {
  const { layout, run } = folded
  const edges = thetaEdges(run.shape)
  const inside = (t: Tally, half: number) =>
    weightInside(t.data, layout.profileLm, edges, half) / weightInside(t.data, layout.profileLm, edges, Math.PI)
  for (const [share, angle, spill, key] of [
    [0.5, 'beamAngleDeg', 'spillOutsideBeam', 'beam'],
    [0.1, 'fieldAngleDeg', 'spillOutsideField', 'field'],
  ] as const) {
    const level = share * peak.value
    const found = findOutermostCrossing(
      profile,
      level,
      peak.without.map((v) => share * v),
    )
    const why = whyNoAngle(found, share)
    if (!found || why) {
      beam.absent[angle] = why
      beam.absent[spill] = why
      continue
    }
    beam.patterned ||= found.inner
    beam.angles[key] = { rad: found.halfRad, without: found.without }
    const doubled = (half: number) => 2 * DEG * half
    beam.figures[angle] = jackknife(doubled(found.halfRad), found.without.map(doubled))
    beam.figures[spill] = jackknife(
      1 - inside(folded.all, found.halfRad),
      folded.without.map((t, b) => 1 - inside(t, found.without[b]!)),
    )
  }
}

function whyNoAngle(found: Crossing | null, share: number): string {
  const level = `${share * 100} % of the peak`
  if (!found)
    return `The mean over azimuth does not fall through ${level}: the peak is a small spot off the axis, or the light goes everywhere.`
  return found.halfRad > Math.PI / 2 ? `The intensity falls through ${level} only behind the lamp, beyond 180°.` : ''
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
  const allowed = (row: number, column: number) =>
    Math.hypot(row + 0.5 - middle, column + 0.5 - middle) * cell <= Math.max(half, cell)
  const reach = Math.ceil(Math.max(half, cell) / cell) + 1
  const span = [Math.max(0, middle - reach), Math.min(shape.windowN, middle + reach)] as const
  const search = { allowed, within: { rows: span, columns: span } }
  const most = findExtremeSpot(folded, shape.axialConeHalfRad, search)
  const least = findExtremeSpot(folded, shape.axialConeHalfRad, { ...search, least: true })
  const contrast = (a: number, b: number) => (a + b > 0 ? Math.max(0, (a - b) / (a + b)) : 0)
  const n = most.inBatch.length
  const [sumA, sumB] = [most, least].map((s) => s.inBatch.reduce((x, y) => x + y, 0)) as [number, number]
  beam.figures.patternContrast = jackknife(
    contrast(most.value, least.value),
    most.inBatch.map((v, i) => contrast((sumA - v) / (n - 1), (sumB - least.inBatch[i]!) / (n - 1))),
  )
}
