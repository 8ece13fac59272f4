// A run over built lamps as text: how every figure spreads, how hot it may get, where the spread comes from, what to hold tighter.

import { TOLERANCE_NAMES, thingsOf } from '../job/tolerances/build.ts'
import { variedOf } from '../job/tolerances/design.ts'
import type { FigureSpread, Interval, Spread } from '../job/tolerances/result.ts'
import { isDanger, type SpreadName, type ToleranceSettings } from '../job/tolerances/run.ts'
import type { Confirmed } from '../job/tolerances/tighter.ts'
import type { Lamp, Tolerance, ToleranceName } from '../lamp/schema.ts'
import { tolerancesOf } from '../library/typicalTolerances.ts'
import { inSystem } from '../num/quantity.ts'
import { roundedUp } from '../num/sided.ts'
import { T95 } from '../num/stats.ts'
import {
  NOT_SPREAD_NOTE,
  SPREAD_WORDS,
  spreadWords,
  TOLERANCE_WORDS,
  TWO_ERRORS_NOTE,
  TYPICAL_NOTE,
} from '../report/tolerances.ts'
import { columns, short, significant, whole, withError, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96

export function tolerancesText(
  lamp: Lamp,
  settings: ToleranceSettings,
  spread: Spread,
  confirmed: readonly Confirmed[] = [],
): string {
  const parts = [
    head(lamp, settings, spread),
    toleranceTable(lamp, true),
    figureTable(spread),
    hazardTable(spread),
    sunLine(spread),
    severeLines(spread),
    shareTable(spread),
    tighterLines(spread, lamp),
    confirmedTable(spread, confirmed),
    notes(lamp, spread),
  ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

function head(lamp: Lamp, { rays, seed }: ToleranceSettings, { lamps }: Spread): string {
  return `${stripControls(lamp.name)}\n${whole(lamps)} lamps built within ${variedOf(lamp).length} tolerances, ${whole(rays)} rays each, seed ${seed}`
}

const plusMinusText = (name: ToleranceName, value: number): string => {
  const { unit } = TOLERANCE_WORDS[name]
  if (unit === 'share') return `${short(100 * value)} %`
  return unit === 'deg' ? `${short(value)}°` : `${short(value)} ${unit}`
}

function spreadText(name: ToleranceName, tolerance: Tolerance): string[] {
  if (tolerance.spread !== 'measured')
    return [`± ${plusMinusText(name, tolerance.plusMinus)}`, SPREAD_WORDS[tolerance.spread]]
  const { deviations } = tolerance
  return [
    `${plusMinusText(name, Math.min(...deviations))} to ${plusMinusText(name, Math.max(...deviations))}`,
    `${deviations.length} measured`,
  ]
}

function toleranceTable(lamp: Lamp, varied: boolean): string {
  const all = tolerancesOf(lamp)
  const names = varied ? variedOf(lamp).map((v) => v.name) : TOLERANCE_NAMES
  const rows = names.map((name) => [
    `  ${TOLERANCE_WORDS[name].name}`,
    ...spreadText(name, all[name]),
    ...(varied ? [] : [state(lamp, name, all[name]), name]),
  ])
  return ['Tolerances', ...columns(rows)].join('\n')
}

function state(lamp: Lamp, name: ToleranceName, tolerance: Tolerance): string {
  if (thingsOf(lamp, name) === 0) return 'none in this lamp'
  return tolerance.on ? '' : 'not varied'
}

/** For --list: every tolerance, and the name of its entry in the lamp's file. */
export const toleranceList = (lamp: Lamp): string =>
  `${toleranceTable(lamp, false)}\n\n${wrapped(lamp.tolerances ? STATED : TYPICAL_NOTE, WIDTH, '')}\n`
const STATED = 'As the lamp’s file has them; an entry that isn’t there is typical.'

/** The factor that shows shares in per cent. */
const times = (name: SpreadName): number => (spreadWords(name).unit === '%' ? 100 : 1)
const nameText = (name: SpreadName): string => {
  const { name: called, unit } = spreadWords(name)
  return `  ${called}, ${unit === 'deg' ? '°' : unit}`
}

/** As many digits as its interval allows. */
function interval({ value, low, high }: Interval, by: number): string {
  const { value: shown, error } = withError({ value, se: Math.max(value - low, high - value) / T95 }, by)
  return `${shown} ${error}`.trim()
}

const drawnText = (f: FigureSpread): string => {
  if (!f.drawn) return '-'
  const { value, error } = withError(f.drawn, times(f.name))
  return `${value} ${error}`.trim()
}

/** Two standard deviations: 95 % of a normal distribution, as ± of tracing is. */
function building(f: FigureSpread): string {
  const by = times(f.name)
  if (f.sd.high === 0 && f.tracingSd === 0) return '0'
  return f.sd.low > 0
    ? `± ${significant(2 * f.sd.value * by, 2)}`
    : `< ± ${significant(2 * (f.sd.high || f.tracingSd) * by, 2)}`
}

function figureTable({ figures }: Spread): string {
  const rows = figures
    .filter((f) => !isDanger(f.name))
    .map((f) => {
      const by = times(f.name)
      return [
        nameText(f.name),
        drawnText(f),
        building(f),
        interval(f.p5, by),
        interval(f.median, by),
        interval(f.p95, by),
      ]
    })
  if (rows.length === 0) return ''
  return [
    'Figures',
    ...columns([['  ', 'drawn ± tracing', '± building', '5 % lie below', 'half', '95 %'], ...rows], [1, 2, 3, 4, 5]),
  ].join('\n')
}

function hazardTable({ figures }: Spread): string {
  const rows = figures
    .filter((f) => isDanger(f.name))
    .map((f) => [
      nameText(f.name),
      drawnText(f),
      building(f),
      interval(f.p95, 1),
      significant(f.p95.high, 3),
      significant(f.most, 3),
    ])
  if (rows.length === 0) return ''
  return [
    'Dangers: the upper end decides; tracing’s noise stays in',
    ...columns(
      [['  ', 'drawn ± tracing', '± building', '95 % lie below', 'at most', 'hottest lamp'], ...rows],
      [1, 2, 3, 4, 5],
    ),
  ].join('\n')
}

const sunLine = ({ sunMostKWm2 }: Spread): string =>
  sunMostKWm2 === null
    ? ''
    : wrapped(
        `Sun inside, from any side: at most ${significant(roundedUp(sunMostKWm2, 2), 2)} kW/m² in any of these lamps, by geometry (all that falls in, on one disc).`,
        WIDTH,
        '',
      )

function severeLines({ severe, lamps, empty }: Spread): string {
  const lines = severe.map(
    ({ title, lamps: n, drawn }) =>
      `  ${wrapped(`${whole(n)} of ${whole(lamps)} lamps${drawn ? ', the drawn one too' : ', not the drawn one'}: SEVERE, for instance: ${stripControls(inSystem(title, 'metric'))}`, WIDTH, '    ')}`,
  )
  if (empty)
    lines.push(
      `  ${wrapped(`${whole(empty.lamps)} of ${whole(lamps)} can’t be built: ${stripControls(inSystem(empty.why, 'metric'))}`, WIDTH, '    ')}`,
    )
  return lines.length === 0 ? '' : ['Findings', ...lines].join('\n')
}

/** Of these it is said where their spread comes from, and what to hold tighter. */
export const SHOWN: readonly SpreadName[] = [
  ...(['axialIntensityCd', 'fluxOutLm', 'beamAngleDeg', 'targetMeanLx', 'hot.front', 'junctionC'] as const),
]

function shareTable({ figures }: Spread): string {
  const shown = SHOWN.flatMap((name) => figures.filter((f) => f.name === name && f.shares.length > 0))
  const [first] = shown
  if (!first) return ''
  const percent = ({ value, low, high }: Interval) => {
    const half = Math.max(value - low, high - value)
    return `${Math.round(100 * Math.max(0, value))} ± ${Math.ceil(100 * half)}`
  }
  const heads = ['  ', ...shown.flatMap((f) => [spreadWords(f.name).name, ''])]
  const rows = first.shares.map(({ name }) => [
    `  ${TOLERANCE_WORDS[name].name}`,
    ...shown.flatMap((f) => {
      const share = f.shares.find((s) => s.name === name)
      return share ? [percent(share.first), percent(share.total)] : ['-', '-']
    }),
  ])
  return [
    'Where the spread comes from: per cent of the variance, alone and together with others',
    ...columns(
      [heads, ['  ', ...shown.flatMap(() => ['alone', 'together'])], ...rows],
      heads.map((_, i) => i).slice(1),
    ),
  ].join('\n')
}

function tighterLines({ figures }: Spread, lamp: Lamp): string {
  const all = tolerancesOf(lamp)
  const lines = SHOWN.flatMap((name) => {
    const f = figures.find((one) => one.name === name)
    if (!f?.tighter) return []
    const { name: of, sd, alike } = f.tighter
    const tolerance = all[of]
    const half = tolerance.spread === 'measured' ? 'half as far' : `± ${plusMinusText(of, tolerance.plusMinus / 2)}`
    const { name: called, unit } = spreadWords(name)
    const ends = [f.sd.value, sd].map((x) => `±\u00a0${significant(2 * x * times(name), 2)}`)
    const others =
      alike.length === 0
        ? ''
        : ` Not told apart from it: ${alike.map((n) => TOLERANCE_WORDS[n].name.toLowerCase()).join(', ')}.`
    const words = `${called}: ${TOLERANCE_WORDS[of].name.toLowerCase()} held to ${half} takes ± of building from ${ends[0]} to about ${ends[1]}\u00a0${unit === 'deg' ? '°' : unit}.${others}`
    return [`  ${wrapped(words, WIDTH, '    ')}`]
  })
  return lines.length === 0 ? '' : ['Hold tighter', ...lines].join('\n')
}

/** Retraced with one tolerance halved. */
function confirmedTable({ figures }: Spread, confirmed: readonly Confirmed[]): string {
  const rows = confirmed.flatMap(({ name: of, figures: found }) =>
    found
      .filter(({ name }) => SHOWN.includes(name))
      .flatMap(({ name, sd }) => {
        const before = figures.find((f) => f.name === name)
        if (!before || !(before.sd.low > 0)) return []
        const by = 2 * times(name)
        const { value: as, error } = withError(
          { value: sd.value, se: Math.max(sd.value - sd.low, sd.high - sd.value) / T95 },
          by,
        )
        return [
          [
            `  ${TOLERANCE_WORDS[of].name}`,
            nameText(name).trim(),
            significant(before.sd.value * by, 2),
            `${as} ${error}`,
          ],
        ]
      }),
  )
  if (rows.length === 0) return ''
  const [first] = confirmed
  return [
    `Held to half, retraced: ± of building before and after, by ${whole(first?.lamps ?? 0)} lamps each`,
    ...columns([['  ', '', 'before', 'after'], ...rows], [2, 3]),
  ].join('\n')
}

function notes(lamp: Lamp, { rows }: Spread): string {
  const lines = [
    TWO_ERRORS_NOTE,
    `± behind percentiles and shares: bootstrap over ${rows} rows of the design, 95 %. ± of building is two standard deviations, with tracing’s part taken off.`,
    NOT_SPREAD_NOTE,
    ...(lamp.tolerances ? [] : [TYPICAL_NOTE]),
  ]
  return lines.map((line) => wrapped(line, WIDTH, '')).join('\n')
}
