// A measuring plan and a fit of readings as text and JSON.
import type { Explanation, FitResult, RunningFit } from '../job/fit/result.ts'
import type { Readings } from '../lamp/readings.ts'
import type { Lamp } from '../lamp/schema.ts'
import { distanceText, inSystem, sizeNumber } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import type { ReadingWarning } from '../readings/check.ts'
import type { MeasuredFigure } from '../readings/figures.ts'
import { CLASS_ASSUMED } from '../readings/meter.ts'
import {
  agreementWords,
  CAUSES_NOTE,
  causeValue,
  explanationName,
  figureRow,
  isExplained,
  nextWords,
  probabilityText,
  RUNNING_NOTES,
  runningTitle,
  runningVerdict,
  runningWords,
  setWords,
  verdictWords,
  warningWords,
} from '../report/measuring.ts'
import type { PlanWords } from '../report/measuringPlan.ts'
import { columns, significant, wrapped } from './format.ts'
import { stripControls } from './io.ts'
import { VERSION } from './version.ts'

const WIDTH = 96

export function planText(words: PlanWords): string {
  const list = (lines: readonly string[], mark: (i: number) => string) =>
    lines.map((line, i) => `  ${wrapped(`${mark(i)} ${stripControls(line)}`, WIDTH, '     ')}`)
  const tables = words.tables.map(({ title, head, rows }) =>
    [title, ...columns([head, ...rows.map((r) => [...r.slice(0, -1), '______'])], [0, 1, 2]).map((l) => `  ${l}`)].join(
      '\n',
    ),
  )
  const parts = [
    stripControls(words.title),
    ['Before you switch on', ...list(words.safety, () => '-')].join('\n'),
    ['How', ...list(words.steps, (i) => `${i + 1}.`)].join('\n'),
    ['FL 1’s figures', ...list(words.fl1, () => '-')].join('\n'),
    ...tables,
    wrapped(
      `As drawn: ${words.drawn.join(', ')}. Expected lux are a computed prediction. --csv writes the tables to fill in.`,
      WIDTH,
      '',
    ),
  ]
  return `${parts.join('\n\n')}\n`
}

export interface FitWords {
  lamp: Lamp
  readings: Readings
  notes: readonly string[]
  figures: readonly MeasuredFigure[]
  warnings: readonly ReadingWarning[]
  result: FitResult | null
  running: readonly RunningFit[]
}

/** Explanations that are listed. */
const SHOWN = 8

export function fitText(fit: FitWords, system: UnitSystem): string {
  const { lamp, readings, notes, figures, warnings, result, running } = fit
  const line = (text: string) => `  ${wrapped(stripControls(text), WIDTH, '    ')}`
  const rows = figures.map((f) => figureRow(f, system))
  const parts = [
    [
      `${stripControls(lamp.name)}: readings`,
      ...readings.sets.map((s) => line(`${s.id}: ${setWords(s, system)}`)),
    ].join('\n'),
    ...(warnings.length > 0 ? [['Look again', ...warnings.map((w) => line(warningWords(w)))].join('\n')] : []),
    ...(notes.length > 0 ? [['Noted', ...notes.map(line)].join('\n')] : []),
    [
      'Figures (± at about 95 %, k = 2)',
      ...columns(
        rows.map((r) => [stripControls(r.name), r.text, stripControls(`${r.set}: ${r.how}`)]),
        [1],
      ).map((l) => `  ${l}`),
    ].join('\n'),
    ...(readings.meter || readings.sets.some((s) => s.meter)
      ? []
      : [
          line(
            `No meter is named: taken as class ${CLASS_ASSUMED} of DIN 5032-7. --class or lines above the table say better.`,
          ),
        ]),
    ...(result ? fitParts(result, line, system) : []),
    ...running.map((fit) => runningPart(fit, line, system)),
    ...(result || running.length > 0 ? [] : ['No lux at two places or more: nothing to hold against the trace.']),
  ]
  return `${parts.join('\n\n')}\n`
}

function fitParts(result: FitResult, line: (text: string) => string, system: UnitSystem): string[] {
  const { points, explanations, next } = result
  const residuals = points.map((p) => [
    stripControls(p.setId),
    inSystem(place(p), system),
    significant(p.lx, 4),
    `${significant(p.predictedLx, 4)} ± ${significant(2 * p.seLx, 2)}`,
    p.predictedLx > 0 ? `${Math.round(100 * (p.lx / p.predictedLx - 1))} %` : '',
    significant(p.studentised, 2),
  ])
  const head = ['set', 'place', 'read lx', 'traced lx', 'off by', 'in its u']
  return [
    [
      'Against the prediction',
      line(agreementWords(result)),
      ...columns([head, ...residuals], [2, 3, 4, 5]).map((l) => `  ${l}`),
    ].join('\n'),
    [
      'Why it differs',
      line(verdictWords(result)),
      ...causeRows(explanations, system),
      line(nextWords(next, explanations, system)),
      line(CAUSES_NOTE),
      line(
        `${result.traced} predictions in ${significant(result.seconds, 2)} s. --adopt N --out FILE writes a copy of the lamp with cause N.`,
      ),
    ].join('\n'),
  ]
}

function causeRows(explanations: readonly Explanation[], system: UnitSystem): string[] {
  const isFit = isExplained({ explanations })
  const rows = explanations
    .slice(0, SHOWN)
    .map((e, i) => [
      `${i + 1}`,
      isFit ? probabilityText(e.probability) : '–',
      stripControls(explanationName(e)),
      stripControls(e.causes.map((c) => causeValue(c, system)).join('; ')),
      significant(e.birge, 2),
    ])
  return columns([['', 'chance', 'cause', 'best value', 'scatter'], ...rows], [1, 4]).map((l) => `  ${l}`)
}

const runningPart = (fit: RunningFit, line: (text: string) => string, system: UnitSystem): string =>
  [
    runningTitle(fit),
    line(runningWords(fit, system)),
    line(runningVerdict(fit)),
    ...causeRows(fit.explanations, system),
    line(RUNNING_NOTES[fit.kind]),
    line(`--adopt ${fit.kind}:N --out FILE writes a copy of the lamp with cause N of this list.`),
  ].join('\n')

function place({ xMm, yMm, distanceMm }: FitResult['points'][number]): string {
  const at = distanceText(`${Number((distanceMm / 1000).toPrecision(4))} m`, distanceMm)
  if (xMm === 0 && yMm === 0) return `${at}, axis`
  return `${at}, ${xMm !== 0 ? `${sizeNumber(`${xMm}`, xMm)} across` : ''}${xMm !== 0 && yMm !== 0 ? ' ' : ''}${yMm !== 0 ? `${sizeNumber(`${yMm}`, yMm)} up` : ''}`
}

export const fitJson = ({ lamp, readings, notes, figures, warnings, result, running }: FitWords) => ({
  version: VERSION,
  lamp: lamp.name,
  coverage: 2,
  readings,
  notes,
  warnings: warnings.map((w) => ({ ...w, words: warningWords(w) })),
  figures,
  fit: result,
  running,
})
