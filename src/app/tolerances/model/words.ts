// What the tolerances panel says: figures with both of their ±, progress, what to hold tighter.
import type { FigureSpread, Interval } from '../../../job/tolerances/result.ts'
import { isDanger, type SpreadName } from '../../../job/tolerances/run.ts'
import type { Confirmed } from '../../../job/tolerances/tighter.ts'
import type { Tolerance, ToleranceName } from '../../../lamp/schema.ts'
import { spreadWords, TOLERANCE_WORDS } from '../../../report/tolerances.ts'
import { roundTogether, roundUp, scaleOf, THIN, toDigits, withUnit } from '../../common/format.ts'
import type { UnitSystem } from '../../common/unitSystem.ts'
import { shownUnit } from '../../common/unitSystem.ts'

/** In the unit of the figure's ± of building, to as many digits as its interval allows. */
export function percentileWords({ name, median }: FigureSpread, { value, low, high }: Interval, system: UnitSystem) {
  const { by, unit } = scaleOf(median.value, spreadWords(name).unit, system)
  const half = Math.max(value - low, high - value)
  const [from, to] = [low, high].map((x) => toDigits(x * by, 3))
  return {
    text: roundTogether(value * by, half * by, 4).value,
    title: `95 % interval: ${from} to ${withUnit(to ?? '', unit)}`,
  }
}

/** Of a danger: its upper end. */
export const upperWords = (name: SpreadName, value: number, system: UnitSystem): string => {
  const scale = scaleOf(value, spreadWords(name).unit, system)
  return withUnit(roundUp(value * scale.by + (scale.zero ?? 0), 3), scale.unit)
}

/** "3.5 %", "0.25°", "1 mm". */
function amountWords(name: ToleranceName, value: number, system: UnitSystem): string {
  const { unit } = TOLERANCE_WORDS[name]
  if (unit === 'share') return `${toDigits(100 * value)}${THIN}%`
  if (unit === 'deg') return `${toDigits(value)}°`
  const { toShown, word } = shownUnit(unit, system)
  return withUnit(toDigits(toShown(value)), word)
}

export interface TighterWords {
  /** What to do. */
  todo: string
  /** What it brings. */
  brings: string
}

export function tighterWords(
  spread: FigureSpread,
  tolerance: Tolerance | undefined,
  system: UnitSystem,
): TighterWords | null {
  const { tighter, name, median, sd } = spread
  if (!tighter || !tolerance) return null
  const what = TOLERANCE_WORDS[tighter.name].name.toLowerCase()
  const half =
    tolerance.spread === 'measured'
      ? 'to half of what was measured'
      : `to ±${THIN}${amountWords(tighter.name, tolerance.plusMinus / 2, system)}`
  const scale = scaleOf(median.value, spreadWords(name).unit, system)
  const two = (x: number) => `±${THIN}${withUnit(roundUp(2 * x * scale.by, 2), scale.unit)}`
  const others = tighter.alike.map((other) => TOLERANCE_WORDS[other].name.toLowerCase())
  const unsure = others.length > 0 ? ` So many lamps don’t tell it from ${listWords(others)}.` : ''
  return {
    todo: `Hold ${what} ${half}.`,
    brings: `± of building goes from ${two(sd.value)} to about ${two(tighter.sd)}.${unsure}`,
  }
}

const MOST_NAMED = 3
function listWords(names: readonly string[]): string {
  const shown = names.slice(0, MOST_NAMED)
  const rest = names.length - shown.length
  if (rest > 0) return `${shown.join(', ')} and ${rest} more`
  return shown.length > 1 ? `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}` : (shown[0] ?? '')
}

/** "about 4 min left". */
export function leftWords(seconds: number | null): string {
  if (seconds === null) return ''
  if (seconds < 90) return `, about ${Math.max(5, 5 * Math.ceil(seconds / 5))}${THIN}s left`
  return seconds < 5400
    ? `, about ${Math.ceil(seconds / 60)}${THIN}min left`
    : `, about ${toDigits(seconds / 3600, 2)}${THIN}h left`
}

/** What a retrace with that tolerance halved has shown; null: none of this one has been done, or it doesn't tell. */
export function confirmedWords(spread: FigureSpread, confirmed: Confirmed | null, system: UnitSystem): string | null {
  const { tighter, name, median, sd } = spread
  if (!tighter || confirmed?.name !== tighter.name) return null
  const found = confirmed.figures.find((f) => f.name === name)
  if (!found) return null
  const scale = scaleOf(median.value, spreadWords(name).unit, system)
  const two = (x: number) => `±${THIN}${withUnit(roundUp(2 * x * scale.by, 2), scale.unit)}`
  const [low, high] = [found.sd.low, found.sd.high].map((x) => toDigits(2 * x * scale.by, 2))
  return `Retraced so, ${confirmed.lamps} lamps: ${two(sd.value)} becomes ${two(found.sd.value)} (95${THIN}% interval ${low} to ${high}).`
}

export interface ShareBar {
  name: ToleranceName
  /** Of 1, between 0 and 1. */
  first: number
  total: number
  title: string
}

/** Shares as bars; noise around nothing is drawn as nothing. */
export const shareBars = ({ shares }: FigureSpread): ShareBar[] =>
  shares.map(({ name, first, total }) => {
    const percent = (x: number) => Math.round(100 * x)
    const words = ({ value, low, high }: Interval) => `${percent(value)}${THIN}% (${percent(low)} to ${percent(high)})`
    return {
      name,
      first: clipped(first.value),
      total: clipped(total.value),
      title: `Alone ${words(first)}, together with others ${words(total)}; 95 % intervals`,
    }
  })

const clipped = (share: number): number => (Number.isFinite(share) ? Math.min(1, Math.max(0, share)) : 0)

export const figuresOf = (figures: readonly FigureSpread[], hazards: boolean): FigureSpread[] =>
  figures.filter((f) => isDanger(f.name) === hazards)
