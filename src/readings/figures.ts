// All figures that the sets of readings give, each with its uncertainty and the set it comes from.
import type { Readings } from '../lamp/readings.ts'
import { readAxis } from './axis.ts'
import { readGrid } from './grid.ts'
import { readLine } from './line.ts'
import { addOutside, type TracedLight } from './outside.ts'
import { pictureAngles } from './photo/profile.ts'
import { readBounce, readTime } from './time.ts'
import { type Measured, propagateOne } from './uncertainty.ts'

const MEASURED_NAMES = [
  'axialIntensityCd',
  'nearFieldCd',
  'behindM',
  'peakIntensityCd',
  'beamDistanceM',
  'beamAngleDeg',
  'fieldAngleDeg',
  'lumensInConeLm',
  'lumensOutsideLm',
  'lumensWithOutsideLm',
  'lumensOnWallLm',
  'lumensLm',
  'lightLeft',
  'runTimeS',
] as const
export type MeasuredName = (typeof MEASURED_NAMES)[number]

export interface MeasuredFigure extends Measured {
  name: MeasuredName
  set: string
  /** Of lumens within a cone: its half angle. */
  coneHalfDeg?: number
  /** Of lumens along a line: the same by the trapezoid of 2π E x dx. */
  trapezoidLm?: number
  /** Of an axis: by several distances, with the apparent source, or by the inverse square of the farthest alone. */
  by?: 'distances' | 'inverseSquare'
  /** When the light left was read, s after switch-on. */
  atS?: number
  /** Of candela by the trace: what the inverse square alone would give of it, as a share, at the worst place. */
  inverseSquareShare?: number
}

/** Illuminance at the end of the beam distance, lx: ANSI/PLATO FL 1 (check values 1.40). */
const BEAM_END_LX = 0.25

/**
 * Figures of all sets, in the order of `MEASURED_NAMES`; what a set can't give is left out. Beam distance √(I/0.25 lx) of the largest peak (ANSI/PLATO FL
 * 1). Units stand in the names; `lightLeft` is a share of 1. `traced`: what it adds outside the cone that was read.
 */
export function measuredFigures(readings: Readings, traced?: TracedLight | null): MeasuredFigure[] {
  const found = readings.sets.flatMap((set): MeasuredFigure[] => {
    const of = (name: MeasuredName, m: Measured | null, more: Partial<MeasuredFigure> = {}): MeasuredFigure[] =>
      m ? [{ name, set: set.id, value: m.value, u: m.u, ...more }] : []
    switch (set.kind) {
      case 'axis': {
        const { fitted, farthestCd } = readAxis(set, readings.meter)
        return fitted
          ? [...of('axialIntensityCd', fitted.cd, { by: 'distances' }), ...of('behindM', fitted.behindM)]
          : of('axialIntensityCd', farthestCd, { by: 'inverseSquare' })
      }
      case 'line': {
        const { peakCd, beamDeg, fieldDeg, lumens } = readLine(set, readings.meter)
        const cone = lumens && { coneHalfDeg: lumens.coneHalfDeg, trapezoidLm: lumens.trapezoidLm }
        const more = lumens && traced ? addOutside(lumens, lumens.coneHalfDeg, set.distanceM, traced) : null
        return [
          ...of('peakIntensityCd', peakCd),
          ...of('beamAngleDeg', beamDeg),
          ...of('fieldAngleDeg', fieldDeg),
          ...of('lumensInConeLm', lumens, cone ?? {}),
          ...of('lumensOutsideLm', more?.outside ?? null, lumens ? { coneHalfDeg: lumens.coneHalfDeg } : {}),
          ...of('lumensWithOutsideLm', more?.all ?? null),
        ]
      }
      case 'grid': {
        const { peakCd, lumensLm } = readGrid(set, readings.meter)
        const { beamDeg, fieldDeg } = pictureAngles(set, readings.meter)
        return [
          ...of('peakIntensityCd', peakCd),
          ...of('beamAngleDeg', beamDeg),
          ...of('fieldAngleDeg', fieldDeg),
          ...of('lumensOnWallLm', lumensLm),
        ]
      }
      case 'time': {
        const { lastShare, lastS, runTimeS } = readTime(set, readings.meter)
        return [
          ...of('lightLeft', lastShare, lastS === null ? {} : { atS: lastS }),
          ...of('runTimeS', runTimeS === null ? null : { value: runTimeS, u: 0 }),
        ]
      }
      case 'bounce':
        return of('lumensLm', readBounce(set, readings.meter))
      default:
        return []
    }
  })
  const peaks = found.filter((f) => f.name === 'peakIntensityCd' || f.name === 'axialIntensityCd')
  const [peak] = peaks.sort((a, b) => b.value - a.value)
  if (peak) {
    const far = propagateOne(([cd = 0]) => Math.sqrt(cd / BEAM_END_LX), [peak])
    found.push({ name: 'beamDistanceM', set: peak.set, ...far })
  }
  return MEASURED_NAMES.flatMap((name) => found.filter((f) => f.name === name))
}
