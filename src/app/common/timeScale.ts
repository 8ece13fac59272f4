// A time axis, linear or logarithmic, with its ticks.

import { type ScaleContinuousNumeric, scaleLinear, scaleLog } from 'd3-scale'
import { roundedDown, roundedUp } from '../../num/sided.ts'
import { THIN, toDigits } from './format.ts'

export interface TimeScale {
  log: boolean
  /** Pixel of a moment, clamped to the start of the scale. */
  x(tS: number): number
  at(px: number): number
  ticks: { tS: number; words: string }[]
}
/** Seconds at which a logarithmic scale begins. */
const LOG_FROM_S = 1
/** Above this duration a linear scale would hide the beginning. */
const LOG_OVER_S = 1800
export const prefersLog = (endS: number): boolean => endS > LOG_OVER_S
const MARKS = [1, 10, 60, 600, 3600, 36000, 360000]
export function timeScale(endS: number, fromPx: number, toPx: number, log = prefersLog(endS)): TimeScale {
  const end = Math.max(endS, log ? 10 * LOG_FROM_S : 0.01)
  const scale: ScaleContinuousNumeric<number, number> = (
    log ? scaleLog([LOG_FROM_S, end], [fromPx, toPx]) : scaleLinear([0, end], [fromPx, toPx])
  ).clamp(true)
  const step = stepOf(end)
  const count = Math.floor(end / step + 1e-9)
  const marks = log ? MARKS.filter((t) => t <= end) : Array.from({ length: count + 1 }, (_, i) => i * step)
  return {
    log,
    x: (t) => scale(log ? Math.max(t, LOG_FROM_S) : t),
    at: (px) => scale.invert(px),
    ticks: marks.map((tS) => ({ tS, words: momentWords(tS) })),
  }
}
const STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 18000, 36000, 86400]
const stepOf = (endS: number): number => STEPS.find((s) => endS / s <= 6) ?? endS / 5

/** 0 s, 9.5 s, 4.7 min, 3.2 h */
export const momentWords = (seconds: number): string => inTime(seconds, (x) => toDigits(x))
/** A run until something ends it, to two digits, rounded down; and a wait, rounded up. */
export const runWords = (seconds: number): string => inTime(seconds, (x) => toDigits(roundedDown(x, 2), 2))
export const waitWords = (seconds: number): string => inTime(seconds, (x) => toDigits(roundedUp(x, 2), 2))

function inTime(seconds: number, digits: (x: number) => string): string {
  if (seconds < 60) return `${digits(seconds)}${THIN}s`
  if (seconds < 3600) return `${digits(seconds / 60)}${THIN}min`
  return `${digits(seconds / 3600)}${THIN}h`
}
