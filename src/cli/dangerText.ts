// The danger sheet for a terminal: distances, times, the cover rule, what to check before power. Every figure is an upper end.
import { cautionsFor } from '../checks/cautions.ts'
import { flickerWords, groupSentence, HAZARDS, riskWords } from '../checks/eyeWords.ts'
import type { DangerReading } from '../job/danger/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import {
  beforePower,
  coverRule,
  EYE_NOTE,
  eyeLeadSentence,
  FLICKER_NOTE,
  SCREENING_NOTE,
  SUN_NOTE,
  trafficSentence,
} from '../report/danger.ts'
import { lightSentence, ownPlaceSentences, sunPlaceSentences, turnedSentence } from '../report/dangerPlaces.ts'
import {
  bareLensSentence,
  clearRows,
  EYE_HEAD,
  eyeRows,
  harmTables,
  partRows,
  sunDaySentence,
  sunTiltRows,
  thingRows,
} from '../report/dangerRows.ts'
import { frontFoci } from './dangerJson.ts'
import { findingsText } from './findingsText.ts'
import { columns, fixed, short, whole, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96

export function dangerText(d: DangerReading, lamp: Lamp): string {
  const cover = coverRule(lamp)
  const parts = [
    `${stripControls(d.lamp)}: danger sheet\n${whole(d.rays)} rays, seed ${d.seed}; upper ends at 95 %, over a disc of ${short(d.discMm)} mm\n${stripControls(lightSentence(d))}`,
    section('Keep clear, from the lamp’s front', clearLines(d)),
    section('Hottest places in front', focusLines(d)),
    section('Elsewhere', ownPlaceSentences(d).flatMap(paragraph)),
    section('Time to harm at a distance', harmLines(d)),
    section('Things in the way', thingLines(d)),
    section('The lamp’s own parts', partLines(d)),
    section('Sun falling in', sunLines(d, lamp)),
    section('Eyes', eyeLines(d)),
    section('Cover', cover === null ? [] : paragraph(cover)),
    section(
      'Before power',
      beforePower(lamp).flatMap((line) => paragraph(`- ${line}`)),
    ),
    `Findings\n${findingsText(d.findings)}`,
    section(
      'Cautions',
      cautionsFor(lamp).flatMap(({ text }) => paragraph(text)),
    ),
    section(
      'Sources of the thresholds',
      d.clear.flatMap((c) => paragraph(`${c.name}: ${stripControls(c.source)}`)),
    ),
  ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

const section = (title: string, lines: readonly string[]): string =>
  lines.length === 0 ? '' : [title, ...lines.map((line) => `  ${line}`)].join('\n')

const paragraph = (text: string): string[] => wrapped(text, WIDTH, '').split('\n')

const clearLines = (d: DangerReading): string[] => columns(clearRows(d), [1])

const focusLines = (d: DangerReading): string[] =>
  columns(
    frontFoci(d)
      .slice(0, 8)
      .map((f) => [
        f.focus ? 'focus' : 'worst',
        `${short(f.kWm2)} kW/m²`,
        `at x ${fixed(f.xMm, 1)}, y ${fixed(f.yMm, 1)}, z ${fixed(f.zMm, 1)} mm`,
      ]),
    [1],
  )

const harmLines = (d: DangerReading): string[] => harmTables(d).flatMap((rows) => columns(rows, [1, 2, 3, 4, 5, 6]))

const safe = (row: readonly string[]): string[] => row.map(stripControls)

/** A line each; what else happens stands below it. */
function thingLines(d: DangerReading): string[] {
  const things = thingRows(d)
  const lines = columns(
    things.map(({ row }) => safe(row)),
    [2],
  )
  return lines.flatMap((line, i) => (things[i]?.also ? [line, `    ${stripControls(things[i].also)}`] : [line]))
}

function partLines(d: DangerReading): string[] {
  const { boards } = d.parts
  return [
    ...columns(partRows(d).map(safe)),
    ...(boards ? paragraph(`The face by itself, ${stripControls(boards.faceFrom)}.`) : []),
  ]
}

function sunLines(d: DangerReading, lamp: Lamp): string[] {
  const sentences = [sunDaySentence(d, lamp), turnedSentence(d), ...sunPlaceSentences(d), bareLensSentence(d)]
  return [
    ...columns(sunTiltRows(d).map(safe), [0, 1]),
    ...sentences.filter((t) => t !== '').flatMap(paragraph),
    ...(d.sunMap.length > 0 ? paragraph(SUN_NOTE) : []),
  ]
}

function eyeLines(d: DangerReading): string[] {
  const { eye } = d
  if (!eye) return []
  return [
    ...paragraph(eyeLeadSentence(eye)),
    ...columns([EYE_HEAD, ...eyeRows(d)], [1, 2, 3, 4]),
    ...paragraph(`${groupSentence(eye.risk)}. At 200 mm:`),
    ...columns(eye.risk.at200.rows.map((r) => [`  ${HAZARDS[r.hazard]}`, riskWords(r)])),
    ...paragraph(trafficSentence(eye)),
    ...eye.flicker.flatMap((f) => paragraph(`Flicker: ${stripControls(flickerWords(f))}.`)),
    ...paragraph(EYE_NOTE),
    ...paragraph(FLICKER_NOTE),
    ...paragraph(SCREENING_NOTE),
  ]
}
