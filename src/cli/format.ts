// Number format of the terminal: as many digits as the error allows.
import { T95 } from '../num/stats.ts'
import type { Figure } from '../run/figure.ts'

/** No part of a lamp is known to more digits than these. */
const MOST_DIGITS = 5

/**
 * ± to two significant digits, and the value to the same place, but to five significant digits at the most; a smaller ± is then rounded up. A
 * value without error, or with that of rounding alone, gets five significant digits and is called exact, unless it is zero.
 */
export function withError({ value, se }: Figure, times = 1): { value: string; error: string } {
  const error = T95 * se * times
  const shown = value * times
  if (!(error > 1e-9 * Math.abs(shown)))
    return { value: significant(shown, MOST_DIGITS), error: shown === 0 ? '' : 'exact' }
  const wanted = decade(error, 2) - 1
  const place = shown === 0 ? wanted : Math.max(wanted, decade(shown, MOST_DIGITS) - MOST_DIGITS + 1)
  const half = place === wanted ? error : Math.ceil(error / 10 ** place - 1e-9) * 10 ** place
  return { value: toPlace(shown, place), error: `± ${toPlace(half, place)}` }
}

export const significant = (x: number, digits: number): string =>
  x === 0 ? '0' : toPlace(x, decade(x, digits) - digits + 1)

/** Power of ten of the first digit of x, rounded to so many digits. */
const decade = (x: number, digits: number): number => Number(x.toExponential(digits - 1).split('e')[1])

/** Rounded to 10^place. */
function toPlace(x: number, place: number): string {
  if (place <= 0) return fixed(x, Math.min(12, -place))
  const step = 10 ** place
  return fixed(Math.round(x / step) * step, 0)
}

export const whole = (x: number): string => fixed(x, 0)

export function fixed(x: number, decimals: number): string {
  const shown = x.toLocaleString('en-GB', { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
  return /^-[0.]+$/.test(shown) ? shown.slice(1) : shown
}

/** At most three significant digits, without trailing zeros: for settings and distances. */
export const short = (x: number): string => x.toLocaleString('en-GB', { maximumSignificantDigits: 3 })

export function duration(seconds: number): string {
  if (seconds < 1) return `${significant(seconds, 2)} s`
  if (seconds < 120) return `${significant(seconds, 3)} s`
  if (seconds < 7200) return `${significant(seconds / 60, 3)} min`
  return `${significant(seconds / 3600, 3)} h`
}

/** Pads columns to their widest cell; `right` lists the right-aligned ones. */
export function columns(rows: readonly (readonly string[])[], right: readonly number[] = []): string[] {
  const widths: number[] = []
  for (const row of rows) for (const [i, cell] of row.entries()) widths[i] = Math.max(widths[i] ?? 0, [...cell].length)
  return rows.map((row) =>
    row
      .map((cell, i) => {
        const space = ' '.repeat(widths[i]! - [...cell].length)
        return right.includes(i) ? space + cell : cell + space
      })
      .join('  ')
      .trimEnd(),
  )
}

/** Wraps text at spaces to lines of at most `width`; later lines start with `indent`. A number stays with its unit. */
export function wrapped(text: string, width: number, indent: string): string {
  const lines: string[] = []
  let line = ''
  for (const word of text.replace(/(\d) (?=\S{1,5}(\s|[.,;:)]|$))/g, '$1\u00a0').split(/[ \n\t]+/)) {
    if (line !== '' && line.length + 1 + word.length > width - indent.length) {
      lines.push(line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
  }
  lines.push(line)
  return lines.join(`\n${indent}`).replaceAll('\u00a0', ' ')
}
