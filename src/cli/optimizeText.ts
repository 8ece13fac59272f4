// A search as text: the best lamp, what it gives against the lamp as it stands, what is within the noise, what stands at a bound.

import { WISH_FIGURES, type WishName } from '../job/choose/figures.ts'
import type { Movable } from '../job/choose/moves.ts'
import type { OptimizePlan } from '../job/choose/plan.ts'
import type { OptimizeResult } from '../job/choose/run.ts'
import { figuresOf, type Keep } from '../job/choose/wishes.ts'
import type { Lamp } from '../lamp/schema.ts'
import { inThousands } from '../num/thousands.ts'
import { isUnsettled, type MoveRow, moveRows, UNSETTLED, wishWords } from '../report/choose.ts'
import type { Figure } from '../run/figure.ts'
import { columns, duration, short, whole, withError, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96

export function optimizeText(
  lamp: Lamp,
  movable: Movable,
  plan: OptimizePlan,
  result: OptimizeResult,
  took?: { threads: number; seconds: number },
): string {
  const { starts = 1 } = plan
  const searches = starts > 1 ? ` in ${whole(starts)} searches` : ''
  const work = took ? `, ${took.threads === 1 ? '1 thread' : `${took.threads} threads`}, ${duration(took.seconds)}` : ''
  const head = `${stripControls(lamp.name)}\n${whole(result.done)} lamps${searches} of ${whole(plan.rays)} rays each, seed ${plan.seed}${work}; ± is at 95 %`
  const parts =
    plan.wants.length > 1
      ? [head, frontText(movable, plan, result), refusedText(result)]
      : [
          head,
          bestText(movable, plan, result),
          isUnsettled(result) ? paragraph(UNSETTLED) : '',
          noiseText(movable, plan, result),
          boundText(plan, result),
          refusedText(result),
          dangerText(result),
        ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

const digits = (x: number): string => x.toLocaleString('en-GB', { maximumSignificantDigits: 6, useGrouping: false })
const unitText = (unit: string): string => (unit === 'deg' ? '°' : unit === 'share' || unit === '%' ? '' : unit)
const withUnit = (number: string, unit: string): string =>
  `${number}${unit === 'deg' ? '' : ' '}${unitText(unit)}`.trim()
const valueText = (value: number | string | null, unit: string): string =>
  value === null ? 'differ' : typeof value === 'number' ? withUnit(digits(value), unit) : stripControls(value)

function figureText(name: WishName, figure: Figure | undefined): string {
  if (!figure) return '-'
  const { unit } = wishWords(name)
  if (figure.se === 0) return withUnit(inThousands(figure.value, { maximumSignificantDigits: 6 }), unit)
  const { value, error } = withError(figure)
  if (error === 'exact') return withUnit(value, unit)
  return withUnit(`${value} ${error}`.trim(), unit)
}

const paragraph = (text: string): string => `  ${wrapped(text, WIDTH, '  ')}`

function rowsText(rows: readonly MoveRow[]): string[] {
  const lines = columns([
    ...rows.map((r) => [
      `${stripControls(r.words)} (${stripControls(r.path)})`,
      valueText(r.value, r.unit),
      r.value === r.now ? 'as it is' : `now ${valueText(r.now, r.unit)}`,
    ]),
  ])
  return lines.map((line) => `  ${line}`)
}

function bestText(movable: Movable, plan: OptimizePlan, result: OptimizeResult): string {
  const { confirmation, best } = result
  if (!confirmation) {
    if (!best) return paragraph('No lamp within the bounds has the figure that is wanted.')
    if (result.end === 'stopped') return 'Stopped; nothing is checked.'
    const rows = rowsText(moveRows(movable, plan.moves, best.values))
    const figures = figuresOf(plan).map((name) => [
      `  ${wishWords(name).name}`,
      figureText(name, best.evaluation.figures[name]),
      limitText(plan.keeps, name),
    ])
    return [
      paragraph('No lamp within the bounds keeps what is to be kept. Least is broken by'),
      ...rows,
      ...columns(figures),
    ].join('\n')
  }
  const names = figuresOf(plan)
  const { own } = confirmation
  const figures = columns([
    ['', 'best', 'as it stands', ''],
    ...names.map((name) => [
      wishWords(name).name,
      figureText(name, confirmation.best.figures[name]),
      figureText(name, own?.figures[name]),
      limitText(plan.keeps, name),
    ]),
  ]).map((line) => `  ${line}`)
  return [
    'Best',
    ...rowsText(moveRows(movable, plan.moves, confirmation.best.values)),
    '',
    ...figures,
    '',
    gainText(plan, result),
  ].join('\n')
}

function limitText(keeps: readonly Keep[], name: WishName): string {
  const { unit } = wishWords(name)
  const limit = (sign: string, v: number | undefined) =>
    v === undefined ? [] : [`${sign} ${withUnit(digits(v), unit)}`]
  return keeps
    .filter((k) => k.figure === name)
    .flatMap((k) => [...limit('≥', k.least), ...limit('≤', k.most)])
    .join(', ')
}

/** Against the lamp as it stands. */
function gainText({ wants }: OptimizePlan, { confirmation }: OptimizeResult): string {
  const own = confirmation?.own
  const [want] = wants
  if (!own || !want) return paragraph('The lamp as it stands could not be compared.')
  const by = figureText(want.figure, own.behind)
  const checked = 'Both were traced sixteen times more, with random numbers that the search had not seen.'
  const end = own.keeps ? '' : ' As it stands it does not keep what is to be kept.'
  if (own.alike)
    return paragraph(
      `No better than the lamp as it stands: the difference, ${by}, is within the noise. ${checked}${end}`,
    )
  const word = want.aim === 'most' ? 'more' : want.aim === 'least' ? 'less' : 'nearer to what is wanted'
  return own.behind.value > 0
    ? paragraph(`${by} ${word} than the lamp as it stands. ${checked}${end}`)
    : paragraph(
        `The lamp as it stands has ${by.replace('-', '')} more of what is wanted, but ${own.keeps ? 'lies outside the bounds of this search' : 'does not keep what is to be kept'}.`,
      )
}

function noiseText(movable: Movable, { moves, wants }: OptimizePlan, { confirmation }: OptimizeResult): string {
  const alike = confirmation?.rivals.filter((r) => r.alike) ?? []
  const [want] = wants
  if (!confirmation || !want || alike.length === 0) return ''
  const lines = alike.map((r) => {
    const at = moveRows(movable, moves, r.values).map((m) => `${stripControls(m.path)} ${valueText(m.value, m.unit)}`)
    return paragraph(`${at.join(', ')}: ${figureText(want.figure, r.figures[want.figure])}`)
  })
  return ['Just as good, as far as so many rays tell: choose by what else you know', ...lines].join('\n')
}

function boundText({ moves }: OptimizePlan, { atBounds }: OptimizeResult): string {
  if (atBounds.length === 0) return ''
  const lines = atBounds.map(({ path, at, value }) => {
    const unit = moves.find((m) => m.path === path)
    return unit
      ? `  ${stripControls(path)} stands at its ${at === 'min' ? 'lower' : 'upper'} bound, ${digits(value)}`
      : ''
  })
  return ['At a bound of the search: with wider bounds it may get better', ...lines].join('\n')
}

const MOST_REASONS = 4

function refusedText({ refused, done }: OptimizeResult): string {
  const count = refused.reduce((n, r) => n + r.count, 0)
  if (count === 0) return ''
  const lines = refused
    .slice(0, MOST_REASONS)
    .map(({ why, count: n }) => `  ${wrapped(`${n}: ${stripControls(why)}`, WIDTH, '    ')}`)
  if (refused.length > lines.length) lines.push(`  … and ${refused.length - lines.length} more reasons.`)
  return [`${count} of ${whole(done)} could not be compared`, ...lines].join('\n')
}

const RANK = { severe: 'SEVERE', warning: 'warning', note: 'note' } as const

function dangerText({ findings }: OptimizeResult): string {
  if (!findings) return ''
  const severe = findings.best.filter((f) => f.severity === 'severe')
  const before = new Set(findings.own?.map((f) => f.rule))
  if (severe.length === 0) return 'Its beam sheet has no severe finding.'
  const lines = severe.map(
    (f) =>
      `  ${wrapped(`${RANK[f.severity]} ${stripControls(f.title)}${before.has(f.rule) ? '' : ' (new)'}`, WIDTH, '    ')}`,
  )
  return ['Dangers of the best, by its beam sheet', ...lines].join('\n')
}

function frontText(movable: Movable, plan: OptimizePlan, { front }: OptimizeResult): string {
  if (front.length === 0) return paragraph('No lamp within the bounds keeps what is to be kept.')
  const names = figuresOf(plan)
  const rows = front.map((c) => [
    ...names.map((name) => figureText(name, c.evaluation.figures[name])),
    ...moveRows(movable, plan.moves, c.values).map((m) => valueText(m.value, m.unit)),
  ])
  const heads = [...names.map((name) => wishWords(name).name), ...plan.moves.map((m) => stripControls(m.path))]
  return [
    'The front: none of these is better than another in both wishes, by random numbers that the search had not seen',
    ...columns([heads, ...rows]).map((line) => `  ${line}`),
  ].join('\n')
}

/** Lists what can move, and every figure that can be wished for. */
export function movableList({ numbers, choices }: Movable): string {
  const figures = WISH_FIGURES.map(({ name, word }) => {
    const { name: called, unit } = wishWords(name)
    return [word, unit === 'deg' ? '°' : unit, called]
  })
  const choiceRows = choices.map((c) => [
    stripControls(c.path),
    stripControls(c.value ?? 'another'),
    stripControls(c.options.map((o) => o.key).join(',')),
    `${stripControls(c.part)}: ${c.label.charAt(0).toLowerCase()}${c.label.slice(1)}`,
  ])
  const numberRows = numbers.map((p) => [
    stripControls(p.path),
    p.value === null ? 'differ' : withUnit(digits(p.value), p.unit),
    `${short(p.min)} to ${short(p.max)}${p.integer ? ', whole' : ''}`,
    `${stripControls(p.part)}: ${p.label.charAt(0).toLowerCase()}${p.label.slice(1)}`,
  ])
  return `${[
    ...columns([['figure', '', ''], ...figures]),
    '',
    ...columns([['choice', 'now', 'options', ''], ...choiceRows]),
    '',
    ...columns([['number', 'now', 'limits', ''], ...numberRows]),
  ].join('\n')}\n`
}
