// The beam sheet as a page of text.

import { cautionsFor } from '../checks/cautions.ts'
import { findingsIn } from '../checks/finding.ts'
import { ASKED_FOR, FIGURE_NAMES, type FigureName, type HotSpotName, type Sheet } from '../job/beam/sheet.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { answerLine } from '../report/answerLine.ts'
import { DOUBT_NOTE } from '../report/doubt.ts'
import { engineWords, FIGURE_WORDS, HOT_SPOT_WORDS, PARTS_TITLE } from '../report/figures.ts'
import { floorWords } from '../report/floor.ts'
import { lightWords } from '../report/light.ts'
import {
  absentLines,
  figureRows,
  forwardBackwardRows,
  hotSpotRows,
  ledgerRows,
  PATTERNED_NOTE,
  RISK_HEAD,
  riskRows,
  sunRows,
  variantRows,
} from '../report/sheetRows.ts'
import { findingsText } from './findingsText.ts'
import { columns, duration, whole, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96

export function sheetText(sheet: Sheet, lamp: Lamp, system: UnitSystem): string {
  const findings = findingsIn(sheet.findings, system)
  const line = answerLine({ lamp, sheet, stale: false, findings, modes: null, danger: null }, system)
  const parts = [
    wrapped(stripControls(line.text), WIDTH, ''),
    head(sheet),
    section('Beam', figureLines(sheet, system)),
    section('Where the light goes', ledgerLines(sheet.ledger)),
    section(PARTS_TITLE, sheet.parts?.length ? ledgerLines(sheet.parts) : []),
    section('Hot spots', hotSpotLines(sheet, system)),
    section('Sun falling in', columns(sunRows(sheet, system), [0, 1, 2])),
    section('What it would do to things in front of it', riskLines(sheet, system)),
    section('What each part adds', columns(variantRows(sheet), [1, 2, 4, 5, 7, 8])),
    section('Not given', absentLines(sheet).map(stripControls)),
    `Findings\n${findingsText(findings)}`,
    section('Cautions', cautionLines(lamp)),
  ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

const section = (title: string, lines: readonly string[]): string =>
  lines.length === 0 ? '' : [title, ...lines.map((line) => `  ${line}`)].join('\n')

/** Names in rows come from the document. */
const safe = (rows: readonly (readonly string[])[]): string[][] => rows.map((row) => row.map(stripControls))

function head(s: Sheet): string {
  const speed = `${whole(s.raysPerSecond)} rays/s`
  const threads = s.threads === 1 ? '1 thread' : `${s.threads} threads`
  const run = `${whole(s.rays)} rays, seed ${s.seed}, ${threads}, ${duration(s.seconds)} (${speed}); ± is at 95 %`
  // The reason for the processor is only printed when another engine was requested.
  const engine =
    s.engineWhy === ASKED_FOR
      ? []
      : [wrapped(`${engineWords(s.engine).name}: ${stripControls(s.engineWhy)}`, WIDTH, '  ')]
  return [stripControls(s.lamp), run, ...engine].join('\n')
}

function figureLines(s: Sheet, system: UnitSystem): string[] {
  const lines = [
    wrapped(`${stripControls(lightWords(s.light, system))}.`, WIDTH - 2, '    '),
    ...columns(figureRows(s, system), [1, 2]),
  ]
  lines.push(...FIGURE_NAMES.flatMap((name) => (s.figures[name] ? floorLine(FIGURE_WORDS[name].name, name, s) : [])))
  if (s.forwardBackward.length > 0)
    lines.push('', 'Traced forward and backward:', ...columns(forwardBackwardRows(s), [1, 2, 4, 5]))
  lines.push(wrapped(DOUBT_NOTE, WIDTH - 2, '    '))
  if (s.patterned) lines.push(wrapped(PATTERNED_NOTE, WIDTH - 2, '    '))
  return lines
}

function floorLine(words: string, name: FigureName | HotSpotName, s: Sheet): string[] {
  const floor = floorWords(name, s)
  return floor ? [`${words}: ${floor}`] : []
}

const ledgerLines = (ledger: Sheet['ledger']): string[] => columns(safe(ledgerRows(ledger)), [1, 2, 4, 6])

const hotSpotLines = (s: Sheet, system: UnitSystem): string[] => [
  ...columns(safe(hotSpotRows(s, system)), [1, 2]),
  ...(s.hotSpots.front ? floorLine(HOT_SPOT_WORDS.front.name, 'front', s) : []),
]

const riskLines = (s: Sheet, system: UnitSystem): string[] =>
  s.risks.length === 0 ? [] : columns([RISK_HEAD, ...riskRows(s, system)])

const cautionLines = (lamp: Lamp): string[] => cautionsFor(lamp).map(({ text }) => wrapped(text, WIDTH, '    '))
