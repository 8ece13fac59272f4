// What a fit of the readings says, as plain data.
import type { CauseKey, CauseUnit } from './cause.ts'
import type { FitPoint } from './points.ts'
import type { RunningKind } from './runningCauses.ts'
import type { RunningField } from './runningRun.ts'

export interface FittedPoint extends FitPoint {
  /** Of the lamp as drawn, and its standard error. */
  predictedLx: number
  seLx: number
  /** Reading less prediction over the uncertainty of both, after what all readings share has moved as it best fits. */
  studentised: number
}

export interface FittedCause {
  key: CauseKey
  unit: CauseUnit
  board?: string
  string?: number
  drawn: number
  value: number
  /** At 95 %; equal to the value of a board that is dark. */
  low: number
  high: number
  /** The interval reaches beyond what was tried. */
  openLow: boolean
  openHigh: boolean
}

/** One explanation: no cause (as drawn), one, or two together. */
export interface Explanation {
  causes: FittedCause[]
  chi2: number
  /** √(χ²/freedom). */
  birge: number
  /** Schwarz's criterion, χ² + k ln n. */
  bic: number
  /** Share among all that were tried, 0 to 1. */
  probability: number
}

/** What tells the two likeliest explanations apart. */
export interface NextReading {
  /** Indexes into the explanations. */
  between: [number, number]
  place: { xMm: number; yMm: number; distanceMm: number }
  /** Of either explanation there. */
  lx: [number, number]
  /** How far apart in uncertainties of one reading; under 2: lux there don't tell them apart. */
  apart: number
}

/** Axial intensity from lux at any distance, cd, by the lamp's own trace. */
export interface NearFieldCandela {
  set: string
  value: number
  u: number
  /** What E d² gives of it at the set's worst place, as the lamp is drawn. */
  inverseSquareShare: number
}

export interface FitResult {
  points: FittedPoint[]
  /** The lamp as drawn; `medianRatio`: readings over predictions. */
  asDrawn: { chi2: number; birge: number; medianRatio: number }
  /** Likeliest first. */
  explanations: Explanation[]
  next: NextReading | null
  candela: NearFieldCandela[]
  traced: number
  seconds: number
}

/** One reading of a mode as it runs, °C, V or A, and what the lamp as drawn gives. */
export interface RunningPoint {
  setId: string
  row: number
  atS: number
  field: RunningField
  value: number
  /** Of the reading by itself. */
  u: number
  predicted: number
  studentised: number
}

/** Temperatures, or voltages and currents, against the lamp's own run. */
export interface RunningFit {
  kind: RunningKind
  /** The mode that each set is held against. */
  modes: { set: string; mode: string }[]
  points: RunningPoint[]
  asDrawn: { chi2: number; birge: number }
  /** Likeliest first; one cause each. */
  explanations: Explanation[]
}
