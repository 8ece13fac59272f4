// The danger sheet for a terminal: distances, times, the cover rule, what to check before power. Every figure is an upper end.

import { cautionsFor } from '../checks/cautions.ts'
import { flickerWords, groupSentence, HAZARDS, riskWords } from '../checks/eyeWords.ts'
import { findingsIn } from '../checks/finding.ts'
import { standardMm } from '../checks/words.ts'
import type { DangerReading } from '../job/danger/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import { inSystem, sizeNumber, sizeText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
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
import { columns, fixed, short, shortUp, whole, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96

export function dangerText(d: DangerReading, lamp: Lamp, system: UnitSystem = 'metric'): string {
  const cover = coverRule(lamp)
  const parts = [
    `${stripControls(d.lamp)}: danger sheet\n${whole(d.rays)} rays, seed ${d.seed}; upper ends at 95 %, over a disc of ${inSystem(sizeText(short(d.discMm), d.discMm), system)}\n${stripControls(inSystem(lightSentence(d), system))}`,
    section('Keep clear, from the lamp’s front', clearLines(d, system)),
    section('Hottest places in front', focusLines(d, system)),
    section('Elsewhere', ownPlaceSentences(d, system).flatMap(paragraph)),
    section('Time to harm at a distance', harmLines(d, system)),
    section('Things in the way', thingLines(d, system)),
    section('The lamp’s own parts', partLines(d, system)),
    section('Sun falling in', sunLines(d, lamp, system)),
    section('Eyes', eyeLines(d, system)),
    section('Cover', cover === null ? [] : paragraph(cover)),
    section(
      'Before power',
      beforePower(lamp).flatMap((line) => paragraph(`- ${line}`)),
    ),
    `Findings\n${findingsText(findingsIn(d.findings, system))}`,
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

const clearLines = (d: DangerReading, system: UnitSystem): string[] => columns(clearRows(d, system), [1])

const focusLines = (d: DangerReading, system: UnitSystem): string[] =>
  columns(
    frontFoci(d)
      .slice(0, 8)
      .map((f) => [f.focus ? 'focus' : 'worst', `${shortUp(f.kWm2)} kW/m²`, `at ${inSystem(placeOf(f), system)}`]),
    [1],
  )

const placeOf = ({ xMm, yMm, zMm }: { xMm: number; yMm: number; zMm: number }): string =>
  `x ${sizeNumber(fixed(xMm, 1), xMm)}, y ${sizeNumber(fixed(yMm, 1), yMm)}, z ${sizeText(fixed(zMm, 1), zMm)}`

const harmLines = (d: DangerReading, system: UnitSystem): string[] =>
  harmTables(d, system).flatMap((rows) => columns(rows, [1, 2, 3, 4, 5, 6]))

const safe = (row: readonly string[]): string[] => row.map(stripControls)

/** A line each; what else happens stands below it. */
function thingLines(d: DangerReading, system: UnitSystem): string[] {
  const things = thingRows(d, system)
  const lines = columns(
    things.map(({ row }) => safe(row)),
    [2],
  )
  return lines.flatMap((line, i) => (things[i]?.also ? [line, `    ${stripControls(things[i].also)}`] : [line]))
}

function partLines(d: DangerReading, system: UnitSystem): string[] {
  const { boards } = d.parts
  return [
    ...columns(partRows(d, system).map(safe)),
    ...(boards ? paragraph(`The face by itself, ${stripControls(boards.faceFrom)}.`) : []),
  ]
}

function sunLines(d: DangerReading, lamp: Lamp, system: UnitSystem): string[] {
  const sentences = [
    sunDaySentence(d, lamp, system),
    turnedSentence(d),
    ...sunPlaceSentences(d, system),
    bareLensSentence(d, system),
  ]
  return [
    ...columns(sunTiltRows(d, system).map(safe), [0, 1]),
    ...sentences.filter((t) => t !== '').flatMap(paragraph),
    ...(d.sunMap.length > 0 ? paragraph(SUN_NOTE) : []),
  ]
}

function eyeLines(d: DangerReading, system: UnitSystem): string[] {
  const { eye } = d
  if (!eye) return []
  return [
    ...paragraph(eyeLeadSentence(eye, system)),
    ...columns([EYE_HEAD, ...eyeRows(d, system)], [1, 2, 3, 4]),
    ...paragraph(inSystem(`${groupSentence(eye.risk)}. At ${standardMm(200)}:`, system)),
    ...columns(eye.risk.at200.rows.map((r) => [`  ${HAZARDS[r.hazard]}`, riskWords(r)])),
    ...paragraph(trafficSentence(eye, system)),
    ...eye.flicker.flatMap((f) => paragraph(`Flicker: ${stripControls(flickerWords(f))}.`)),
    ...paragraph(EYE_NOTE),
    ...paragraph(FLICKER_NOTE),
    ...paragraph(SCREENING_NOTE),
  ]
}
