// Two kinds of doubt: ± of tracing, which more rays make smaller, and that of the parts, which they don't.
import type { FigureName } from '../job/beam/sheet.ts'

/** Half width at which data sheets usually state an emitter's flux, as a share (common practice, no source). */
const FLUX_DOUBT = 0.07

/** The power of the emitters' flux that a figure goes with: beam distance is the root of an intensity. */
const OF_FLUX: Partial<Record<FigureName, number>> = {
  emittedLm: 1,
  fluxOutLm: 1,
  axialIntensityCd: 1,
  peakIntensityCd: 1,
  beamDistanceM: 0.5,
  targetCentreLx: 1,
  targetMeanLx: 1,
  targetMinLx: 1,
}

/** What the emitters' flux leaves open of a figure, as a share; 0: nothing, as of angles and of shares. */
export const partsDoubt = (name: FigureName): number => FLUX_DOUBT * (OF_FLUX[name] ?? 0)

export const DOUBT_NOTE = `± is that of tracing alone. Data sheets know an emitter’s flux to some ${Math.round(100 * FLUX_DOUBT)} %: lumens, candela and lux are no surer than that, a beam distance half as doubtful.`
