// A table of intensities over angles from the axis and planes around it, as photometric files hold them, made from a sheet's maps.
import { type Asymmetry, readAsymmetry } from './asymmetry.ts'
import { cellDeg, type DirectionLight, discMean, sphereMean, zoneMean } from './directions.ts'
import { zoneSr } from './profile.ts'

const RAD = Math.PI / 180

export interface IntensityTable {
  /** Angles from the axis, ascending, from 0 to 90 or 180. */
  thetaDeg: number[]
  /** Azimuths φ from +x, counterclockwise as seen from the target, 0 to below 360; a single 0 for a round beam. */
  phiDeg: number[]
  /** One row for each azimuth. */
  candela: number[][]
  /** Zonal sum: the mean of a zone's two edges times its solid angle; planes by the trapezoidal rule. */
  zonalLm: number
  tracedLm: number
  asymmetry: Asymmetry
  /** Half angle of the disc that each intensity near the axis is a mean of; null for a round beam. */
  discDeg: number | null
  notes: string[]
}
export type MadeTable = { ok: true; table: IntensityTable } | { ok: false; why: string }

/** The zonal sum and the traced flux differ by no more. */
const FLUX_WITHIN = 0.005
/** A map with fewer of its steps in half a beam is coarser than the beam; with fewer of these it is said. */
const LEAST_STEPS = 1.5
const FEW_STEPS = 5
const PEAK_WITHIN = 0.05
/** As far as the mean over azimuth reaches this share of its peak the angles are dense: so many of them, or in the narrowest half beam. */
const DENSE_SHARE = 0.02
const DENSE = 60
const IN_HALF_BEAM = 16
const MOST_DENSE = 240
const GROWTH = 1.15
const WIDEST_DEG = 5

/**
 * The table of a beam: dense angles within it, up to 5° apart outside; one plane for a round beam, else 24 to 180, as its variation around the
 * axis needs. Refused in words without light, where the map is coarser than the beam, and where its zonal sum misses the traced flux by over
 * half a per cent.
 */
export function makeIntensityTable(light: DirectionLight): MadeTable {
  const tracedLm = light.figures.fluxOutLm?.value ?? 0
  if (!(tracedLm > 0)) return { ok: false, why: 'No light leaves the lamp: there is nothing to write.' }
  const asymmetry = readAsymmetry(light)
  const halfDeg = narrowestHalf(light, asymmetry)
  const stepDeg = asymmetry.planes > 1 ? cellDeg(light.directionMap) : profileStep(light.profile)
  if (halfDeg < LEAST_STEPS * stepDeg)
    return {
      ok: false,
      why: `The beam is only ${short(2 * halfDeg)}° wide and the map over direction has steps of ${short(stepDeg)}°: too coarse to tell its shape. A spot in much wider light can’t be written.`,
    }
  const notes: string[] = []
  if (halfDeg < FEW_STEPS * stepDeg)
    notes.push(`The map over direction has steps of ${short(stepDeg)}°, coarse for a beam ${short(2 * halfDeg)}° wide.`)
  const discDeg = asymmetry.planes > 1 ? chooseDisc(light, halfDeg) : null
  for (let finer = 1; finer <= 4; finer *= 2) {
    const thetaDeg = chooseAngles(light, halfDeg, stepDeg, finer)
    const rows = discDeg === null ? [roundRow(light, thetaDeg)] : planeRows(light, thetaDeg, asymmetry.planes, discDeg)
    const zonalLm = zonalSum(thetaDeg, rows)
    if (Math.abs(zonalLm / tracedLm - 1) > FLUX_WITHIN) continue
    const phiDeg = rows.map((_, k) => (360 * k) / rows.length)
    const off = peakOff(light, rows)
    if (off > PEAK_WITHIN)
      notes.push(
        `Its greatest value is ${short(100 * off)} % off the peak of the beam sheet, which is narrower than the steps of this table or rests on other rays.`,
      )
    if (asymmetry.left > 0.02)
      notes.push(
        rows.length === 1
          ? `Round within ${short(100 * asymmetry.left)} % (rms): the mean over azimuth is written.`
          : `Between its ${rows.length} planes the beam varies by ${short(100 * asymmetry.left)} % (rms) more.`,
      )
    return { ok: true, table: { thetaDeg, phiDeg, candela: rows, zonalLm, tracedLm, asymmetry, discDeg, notes } }
  }
  return {
    ok: false,
    why: 'The intensities don’t add up to the traced light within half a per cent: the map over direction is too coarse for this beam, or too few rays were traced.',
  }
}

const short = (value: number): string => String(Number(value.toPrecision(2)))

/** A share. */
function peakOff({ figures }: DirectionLight, rows: readonly (readonly number[])[]): number {
  const peak = figures.peakIntensityCd?.value
  return peak ? Math.abs(Math.max(...rows.map((row) => Math.max(...row))) / peak - 1) : 0
}

/** Steps of the profile near the axis. */
const profileStep = ({ thetaDeg }: DirectionLight['profile']): number => (thetaDeg[2] ?? 180) - (thetaDeg[1] ?? 0)

/** Half width at half of the peak over that at a tenth: √(ln 2 / ln 10) of a Gaussian beam. */
const BEAM_OF_FIELD = 0.549

/**
 * From the profile's peak outwards to half of it. Where the beam isn't round, by its narrowest field angle: a pattern's dark places come
 * under half of the peak, seldom under a tenth.
 */
function narrowestHalf({ profile, directionMap, figures }: DirectionLight, { planes }: Asymmetry): number {
  if (planes > 1) {
    const halves = profile.byDirection.map(({ fieldDeg }) => (BEAM_OF_FIELD * fieldDeg) / 2)
    if (halves.length > 0) return Math.min(...halves)
    if (figures.beamAngleDeg) return Math.min(directionMap.toX, figures.beamAngleDeg.value / 2)
  }
  const cd = Array.from(profile.cd)
  const top = cd.indexOf(Math.max(...cd))
  const edge = cd.findIndex((v, i) => i > top && v < 0.5 * (cd[top] ?? 0))
  return (profile.thetaDeg[edge] ?? 90) - (profile.thetaDeg[top] ?? 0)
}

/** As wide as it takes to know the peak to a hundredth, from one cell up to a tenth of the beam's half width. */
function chooseDisc({ directionMap, figures, rays }: DirectionLight, halfDeg: number): number {
  const peak = figures.peakIntensityCd?.value ?? directionMap.values.reduce((most, cd) => Math.max(most, cd), 0)
  const oneRayLm = (figures.emittedLm?.value ?? 0) / Math.max(1, rays)
  const wanted = Math.sqrt((1e4 * oneRayLm) / (Math.PI * peak)) / RAD
  return Math.max(cellDeg(directionMap), Math.min(wanted, halfDeg / 10))
}

/** Ascending from 0 to 90°, or to 180° where light goes behind the lamp. */
function chooseAngles({ profile }: DirectionLight, halfDeg: number, mapStepDeg: number, finer: number): number[] {
  const { thetaDeg, cd } = profile
  let most = 0
  for (let i = 0; i < cd.length; i++) most = Math.max(most, cd[i] ?? 0)
  let [reach, behind] = [0, false]
  for (let i = 0; i < cd.length; i++) {
    if ((cd[i] ?? 0) >= DENSE_SHARE * most) reach = thetaDeg[i] ?? 0
    if ((cd[i] ?? 0) > 0 && (thetaDeg[i] ?? 0) > 90.5) behind = true
  }
  const end = behind ? 180 : 90
  reach = Math.min(reach, end)
  const wanted = Math.min(reach / DENSE, halfDeg / IN_HALF_BEAM) / finer
  const dense = Math.max(wanted, mapStepDeg / 2, reach / (finer * MOST_DENSE))
  const angles = [0]
  let step = dense
  for (let at = dense; at < end - 0.6 * step; at += step) {
    angles.push(Number(at.toFixed(4)))
    if (at > reach) step = Math.min(step * GROWTH, WIDEST_DEG)
  }
  return [...angles, end]
}

/** Half way to the neighbours on either side. */
function zoneAbout(angles: readonly number[], i: number): [number, number] {
  const at = angles[i] ?? 0
  return [(at + (angles[i - 1] ?? at)) / 2, (at + (angles[i + 1] ?? at)) / 2]
}

function roundRow({ profile, figures }: DirectionLight, angles: readonly number[]): number[] {
  return angles.map((_, i) => {
    if (i === 0 && figures.axialIntensityCd) return figures.axialIntensityCd.value
    return zoneMean(profile, ...zoneAbout(angles, i))
  })
}

function planeRows(light: DirectionLight, angles: readonly number[], planes: number, discDeg: number): number[][] {
  const { directionMap, sphereMap, profile } = light
  const rows = Array.from({ length: planes }, (_, k) => {
    const phiDeg = (360 * k) / planes
    return angles.map((at, i) => {
      const [from, to] = zoneAbout(angles, i)
      const near = discMean(directionMap, at, phiDeg, Math.max(discDeg, (to - from) / 2))
      if (near !== null) return near
      const beyond = Math.min(to, Math.max(from, directionMap.toX))
      return sphereMap ? sphereMean(sphereMap, beyond, to, phiDeg) : zoneMean(profile, beyond, to)
    })
  })
  // At 0° all planes meet in one direction.
  const axis = light.figures.axialIntensityCd?.value
  for (const row of rows) row[0] = axis ?? rows[0]?.[0] ?? 0
  return rows
}

/** Lumens of rows of intensities, cd, over angles from the axis, degrees; evenly spaced planes. Zonal method of the handbooks. */
function zonalSum(thetaDeg: readonly number[], rows: readonly (readonly number[])[]): number {
  const mean = thetaDeg.map((_, i) => rows.reduce((sum, row) => sum + (row[i] ?? 0), 0) / rows.length)
  let lm = 0
  for (let i = 1; i < thetaDeg.length; i++) {
    const [a, b] = [thetaDeg[i - 1] ?? 0, thetaDeg[i] ?? 0]
    lm += (((mean[i - 1] ?? 0) + (mean[i] ?? 0)) / 2) * zoneSr(a * RAD, b * RAD)
  }
  return lm
}
