// Profile, angles and lumens from lux along a line on a wall.
import type { LineSet, Meter } from '../lamp/readings.ts'
import { meterDoubt, readingDoubt } from './meter.ts'
import { combined, type Measured, propagate, rectangular } from './uncertainty.ts'

interface ProfilePoint {
  atMm: number
  /** From the axis; negative on the other side. */
  thetaRad: number
  /** Without stray light. */
  lx: number
  cd: number
  /** Standard uncertainty of the reading by itself (not the meter's scale), lx. */
  uLx: number
}

export interface LineReading {
  profile: ProfilePoint[]
  /** What all points share, as a share: meter and distance. */
  scale: number
  peakCd: Measured | null
  /** Full angles between half and a tenth of the brightest reading; null: the readings don't reach down to it. */
  beamDeg: Measured | null
  fieldDeg: Measured | null
  /** Within the cone that the readings reach on both sides, of a beam taken as round. */
  lumens: (Measured & { coneHalfDeg: number; trapezoidLm: number }) | null
}

/** How far a reading lies from the place that is written down, mm, where nothing is stated. Our choice. */
export const PLACE_MM = 5
/** The same of the wall's distance. */
export const WALL_MM = 20

/** Angle to the axis of a place on a wall, rad. */
export const wallAngle = (atMm: number, distanceM: number): number => Math.atan2(atMm, 1000 * distanceM)

/**
 * Intensity, cd, from illuminance on a wall at a distance from the lamp's front, m: E d²/cos³θ with the meter flat on the wall, E d²/cos²θ turned to
 * the lamp (photometric distance law, CIE e-ILV 17-25-104; check values 7.7, 7.8).
 */
export const wallCd = (lx: number, distanceM: number, thetaRad: number, faces: LineSet['faces']): number =>
  (lx * distanceM ** 2) / Math.cos(thetaRad) ** (faces === 'wall' ? 3 : 2)

/**
 * Profile, beam and field angle (deg, full, 50 % and 10 % of the brightest reading, straight lines between the readings over the angle; what lines over the
 * logarithm give instead counts as uncertainty) and lumens from
 * lux along a line through the axis. The two sides are taken apart; a line of one side stands for both. Lumens: mean intensity of neighbours times the
 * solid angle of their zone; what the sum differs by from the trapezoid of 2π E x dx counts as uncertainty (check values 7.9, 7.21). `own`: standard
 * uncertainty of each row by itself, lx, where it isn't the meter's.
 */
export function readLine(set: LineSet, ofAll?: Meter, own?: readonly number[]): LineReading {
  const meter = set.meter ?? ofAll
  const placeMm = set.placeDoubtMm ?? PLACE_MM
  const scale = combined([meterDoubt(meter).scale, (2 * (set.distanceDoubtMm ?? WALL_MM)) / (1000 * set.distanceM)])
  const profile = set.rows
    .map(({ atMm, lx: read }, i) => {
      const lx = Math.max(0, read - (set.strayLx ?? 0))
      const thetaRad = wallAngle(atMm, set.distanceM)
      const uLx = own?.[i] ?? readingDoubt(lx, meter, set.faces === 'wall' ? thetaRad : 0)
      return { atMm, thetaRad, lx, uLx, cd: wallCd(lx, set.distanceM, thetaRad, set.faces) }
    })
    .sort((a, b) => a.atMm - b.atMm)
  const inputs = [
    ...profile.map((p) => ({ value: p.lx, u: p.uLx })),
    // Every place by itself would cancel: what they share counts, and it is the zero.
    { value: 0, u: placeMm },
  ]
  const at = (x: readonly number[]): Spot[] => {
    const shiftMm = x.at(-1) ?? 0
    return profile.map((p, i) => {
      const thetaRad = wallAngle(p.atMm + shiftMm, set.distanceM)
      const lx = x[i] ?? 0
      return { thetaRad, lx, xM: (p.atMm + shiftMm) / 1000, cd: wallCd(lx, set.distanceM, thetaRad, set.faces) }
    })
  }
  const figures = (x: readonly number[]) => figuresOf(at(x), set)
  const now = figures(inputs.map((i) => i.value))
  if (!now.peakCd) return { profile, scale, peakCd: null, beamDeg: null, fieldDeg: null, lumens: null }
  const names = ['peakCd', 'beamDeg', 'fieldDeg', 'lumensLm'] as const
  const { results } = propagate((x) => {
    const f = figures(x)
    return names.map((name) => f[name] ?? now[name] ?? 0)
  }, inputs)
  const [peak, beam, field, lumens] = results
  const withScale = (m: Measured): Measured => ({ value: m.value, u: combined([m.u, m.value * scale]) })
  const distanceShare = (set.distanceDoubtMm ?? WALL_MM) / (1000 * set.distanceM)
  // Between two readings the curve may be a straight line or fall by a like share each step: how far apart the two are is what the steps leave open.
  const withDistance = (m: Measured, byLog: number | null): Measured => ({
    value: m.value,
    u: combined([m.u, m.value * distanceShare, rectangular(Math.abs(m.value - (byLog ?? m.value)))]),
  })
  const gap = Math.abs(now.lumensLm - now.trapezoidLm)
  return {
    profile,
    scale,
    peakCd: peak ? withScale(peak) : null,
    beamDeg: beam && now.beamDeg !== null ? withDistance(beam, now.beamLogDeg) : null,
    fieldDeg: field && now.fieldDeg !== null ? withDistance(field, now.fieldLogDeg) : null,
    lumens:
      lumens && now.lumensLm > 0
        ? {
            value: lumens.value,
            u: combined([withScale(lumens).u, rectangular(gap)]),
            coneHalfDeg: now.coneHalfDeg,
            trapezoidLm: now.trapezoidLm,
          }
        : null,
  }
}

interface Spot {
  xM: number
  thetaRad: number
  lx: number
  cd: number
}

interface LineFigures {
  peakCd: number
  beamDeg: number | null
  fieldDeg: number | null
  /** By straight lines over the logarithm of the intensity. */
  beamLogDeg: number | null
  fieldLogDeg: number | null
  lumensLm: number
  trapezoidLm: number
  coneHalfDeg: number
}

function figuresOf(spots: readonly Spot[], { distanceM, faces }: LineSet): LineFigures {
  const peakCd = Math.max(0, ...spots.map((s) => s.cd))
  const sides = sidesOf(spots)
  const deg = 180 / Math.PI
  const angleAt = (share: number, scale: (cd: number) => number = asItIs): number | null => {
    const halves = sides.map((side) => lastCrossing(side, share * peakCd, scale))
    if (halves.length === 0 || halves.some((h) => h === null)) return null
    return (2 * deg * halves.reduce<number>((sum, h) => sum + (h ?? 0), 0)) / halves.length
  }
  const zones = sides.map((side) => zonalLm(side))
  const trapezoids = sides.map((side) => trapezoidLm(side, distanceM, faces))
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / Math.max(1, values.length)
  return {
    peakCd,
    beamDeg: angleAt(0.5),
    fieldDeg: angleAt(0.1),
    beamLogDeg: angleAt(0.5, logOf),
    fieldLogDeg: angleAt(0.1, logOf),
    lumensLm: mean(zones),
    trapezoidLm: mean(trapezoids),
    coneHalfDeg: deg * Math.min(...sides.map((side) => side.at(-1)?.thetaRad ?? 0)),
  }
}

/** Each side from the axis outwards, both with positive angles; a side needs two places beyond the axis. */
function sidesOf(spots: readonly Spot[]): Spot[][] {
  const middle = atAxis(spots)
  const side = (sign: 1 | -1): Spot[] => {
    const out = spots
      .filter((s) => sign * s.xM > 1e-6)
      .map((s) => ({ ...s, xM: sign * s.xM, thetaRad: sign * s.thetaRad }))
      .sort((a, b) => a.xM - b.xM)
    const first = middle ?? out[0]
    return first ? [{ ...first, xM: 0, thetaRad: 0 }, ...out] : []
  }
  const sides = [side(1), side(-1)].filter((s) => s.length > 2)
  return sides
}

/** The reading on the axis, or a straight line between the two beside it; null: all lie on one side of it. */
function atAxis(spots: readonly Spot[]): Spot | null {
  const on = spots.find((s) => Math.abs(s.xM) <= 1e-6)
  if (on) return on
  const left = spots.filter((s) => s.xM < 0).at(-1)
  const right = spots.find((s) => s.xM > 0)
  if (!left || !right) return null
  const part = -left.xM / (right.xM - left.xM)
  const between = (a: number, b: number) => a + part * (b - a)
  return { xM: 0, thetaRad: 0, lx: between(left.lx, right.lx), cd: between(left.cd, right.cd) }
}

const asItIs = (cd: number): number => cd
/** A dark reading is a millionth of a candela. */
const logOf = (cd: number): number => Math.log(Math.max(cd, 1e-6))

/** Outermost angle where the intensity falls through the level; null: it doesn't. */
function lastCrossing(side: readonly Spot[], level: number, scale: (cd: number) => number): number | null {
  for (let i = side.length - 1; i > 0; i--) {
    const [inner, outer] = [side[i - 1], side[i]]
    if (!inner || !outer || inner.cd < level) continue
    if (outer.cd >= level) return null
    return (
      inner.thetaRad +
      ((scale(inner.cd) - scale(level)) / (scale(inner.cd) - scale(outer.cd))) * (outer.thetaRad - inner.thetaRad)
    )
  }
  return null
}

function zonalLm(side: readonly Spot[]): number {
  let sum = 0
  for (const [i, outer] of side.entries()) {
    const inner = side[i - 1]
    if (inner) sum += ((inner.cd + outer.cd) / 2) * 2 * Math.PI * (Math.cos(inner.thetaRad) - Math.cos(outer.thetaRad))
  }
  return sum
}

/** Φ = 2π ∫ E x dx, E on the wall. */
function trapezoidLm(side: readonly Spot[], distanceM: number, faces: LineSet['faces']): number {
  const onWall = ({ lx, xM }: Spot) => (faces === 'wall' ? lx : lx * Math.cos(Math.atan2(xM, distanceM)))
  let sum = 0
  for (const [i, outer] of side.entries()) {
    const inner = side[i - 1]
    if (inner) sum += Math.PI * (onWall(inner) * inner.xM + onWall(outer) * outer.xM) * (outer.xM - inner.xM)
  }
  return sum
}
