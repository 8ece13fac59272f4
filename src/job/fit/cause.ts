// A cause that a built lamp may differ by: one number (or one board) and the values that are tried.

export const RUNNING_KEYS = [
  'joint',
  'airSpeed',
  'fanFlow',
  'sinkResistance',
  'ambient',
  'cellOhm',
  'capacity',
  'charged',
  'supplyOhm',
  'supplyVolts',
  'mainWires',
  'efficiency',
] as const
export type RunningCauseKey = (typeof RUNNING_KEYS)[number]

export type LightCauseKey =
  | 'flux'
  | 'meter'
  | 'wall'
  | 'lensDistance'
  | 'focalLength'
  | 'tiltX'
  | 'tiltY'
  | 'lensX'
  | 'lensY'
  | 'tunnel'
  | 'optic'
  | 'arrayX'
  | 'arrayY'
  | 'dark'
  | 'darkString'
  | 'darkChannel'
export type CauseKey = LightCauseKey | RunningCauseKey

/** factor: 1 as drawn. K: over the air as it was read; mohm, KW, Kcm2W, mS: mΩ, K/W, K·cm²/W, m/s. */
export type CauseUnit = 'factor' | 'mm' | 'deg' | 'share' | 'none' | 'K' | 'KW' | 'Kcm2W' | 'mS' | 'mohm' | 'Ah' | 'V'

export interface Cause {
  key: CauseKey
  unit: CauseUnit
  /** As drawn. */
  drawn: number
  /** Tried values, rising, the drawn one among them. */
  tried: readonly number[]
  /** Of a dark board or string: the board's id; of a channel: its own. */
  board?: string
  /** Of a dark string: which of the board's, from 1. */
  string?: number
  /** Only scales what is predicted: nothing is traced. */
  scales?: true
  /** Moves the meter, not the lamp: factor on the distance of the wall. */
  movesWall?: true
  /** It can move the beam sideways. */
  sideways?: true
}
