// The book of a lamp: everything about it in one document for screen, print and PDF. Pure: results, version, date and hash come in.

import { cautionsFor } from '../../checks/cautions.ts'
import { bySeverity, type Finding, findingsIn } from '../../checks/finding.ts'
import type { Sheet } from '../../job/beam/sheet.ts'
import { writeLampText } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { workshopOf } from '../../library/typicalWorkshop.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { answerLine } from '../answerLine.ts'
import { beamBlocks, partsBuyBlocks } from './beamChapter.ts'
import { list, paragraph } from './blocks.ts'
import { dangerBlocks } from './dangerChapter.ts'
import { drawingBlocks } from './drawingFigure.ts'
import { assumptionBlocks, originBlocks, sourceBlocks } from './endChapters.ts'
import { type Block, type Book, CHAPTER_IDS, CHAPTER_TITLES, type Chapter, type ChapterId } from './model.ts'
import { assemblyBlocks, partsBlocks } from './partsChapters.ts'
import { planFigure } from './planFigure.ts'
import { heatBlocks, powerUpBlocks, wiringBlocks } from './powerChapters.ts'
import type { BookContext, BookResults } from './results.ts'
import { type SectionPath, sectionFigure } from './sectionFigure.ts'

export function bookOf(lamp: Lamp, found: BookResults, context: BookContext): Book {
  const { version, date, hash, without = [], system = 'metric' } = context
  const results = resultsIn(found, system)
  const made = CHAPTER_IDS.flatMap((id): Chapter[] => {
    const blocks = chapterBlocks(id, lamp, results, context)
    return blocks.length > 0 ? [{ id, title: CHAPTER_TITLES[id], blocks }] : []
  })
  const leftOut = made.filter((c) => without.includes(c.id))
  const { paper, drawnBy } = workshopOf(lamp)
  const severe = severeTitles(results)
  const unknown = [...notComputed(results), ...(context.missing ?? []), ...leftOutSentences(leftOut)]
  return {
    title: lamp.name,
    answer: answerOf(lamp, results, system),
    facts: [
      ['Date', date],
      ...(drawnBy === '' ? [] : [['Drawn by', drawnBy] as const]),
      ['Program', `Lampwright ${version}`],
      ['Design', hash.slice(0, 16)],
    ],
    cautions: cautionBlocks(lamp, severe, unknown),
    chapters: made.filter((c) => !without.includes(c.id)),
    foot: `${lamp.name} · ${date} · design ${hash.slice(0, 12)}`,
    warning: warningWords(lamp.name, severe.length, unknown.length),
    paper,
    lampText: writeLampText(lamp),
    version,
    date,
  }
}

const findingsOf = ({ sheet, danger, power }: BookResults) =>
  bySeverity([...(danger?.findings ?? []), ...(sheet?.findings ?? []), ...(power?.findings ?? [])])

const answerOf = (lamp: Lamp, results: BookResults, system: UnitSystem) => {
  const { sheet, danger, power } = results
  const findings = findingsOf(results)
  return answerLine({ lamp, sheet, stale: false, danger, findings, modes: power?.report.modes ?? null }, system)
}

/** Their findings in one system of units. */
function resultsIn({ sheet, danger, power, night }: BookResults, system: UnitSystem): BookResults {
  const worded = <R extends { findings: readonly Finding[] }>(of: R | null): R | null =>
    of && { ...of, findings: findingsIn(of.findings, system) }
  return { sheet: worded(sheet), danger: worded(danger), power: worded(power), night }
}

/** Empty where there is nothing to say of it. */
function chapterBlocks(id: ChapterId, lamp: Lamp, results: BookResults, context: BookContext): Block[] {
  const { sheet, danger, power, night } = results
  const { system = 'metric' } = context
  switch (id) {
    case 'pictures':
      return [...pictureBlocks(lamp, sheet, system), ...noNight(results, context)]
    case 'night':
      return night && !('why' in night) ? [{ kind: 'image', ...night }] : []
    case 'beam':
      return sheet ? beamBlocks(sheet, system) : []
    case 'parts-buy':
      return sheet ? partsBuyBlocks(sheet) : []
    case 'danger':
      return danger ? dangerBlocks(danger, lamp, system) : []
    case 'heat':
      return power ? heatBlocks(lamp, power, system) : []
    case 'wiring':
      return power && lamp.boards.length > 0 ? wiringBlocks(lamp, power, system) : []
    case 'power-up':
      return power && lamp.boards.length > 0 ? powerUpBlocks(lamp, power, system) : []
    case 'assumptions':
      return assumptionBlocks(lamp, results, system)
    case 'sources':
      return sourceBlocks(results)
    case 'origin':
      return originBlocks(results, context)
    case 'drawings':
      return drawingBlocks(lamp, context)
    case 'parts':
      return partsBlocks(lamp, system)
    case 'assembly':
      return assemblyBlocks(lamp, power?.report.powerUp ?? [], system)
  }
}

/** A sentence is no chapter: each begins a page. */
const noNight = ({ night }: BookResults, { without = [] }: BookContext): Block[] =>
  night && 'why' in night && !without.includes('night') ? [paragraph(night.why, true)] : []

/** So many paths of light are drawn through the section. */
const MOST_PATHS = 48

/** So that section and plan stand on one page, with their captions; names of more boards could not be read on such a plan. */
const FEW_BOARDS = 24
const SECTION_HIGH = 260
const BOTH_HIGH = { A4: 560, Letter: 510 } as const

function pictureBlocks(lamp: Lamp, sheet: Sheet | null, system: UnitSystem): Block[] {
  const section = sectionFigure(lamp, sheet ? sectionPaths(sheet) : [], { mostHigh: SECTION_HIGH, system })
  return [
    { kind: 'figure', figure: section, caption: sectionCaption(sheet) },
    {
      kind: 'figure',
      figure: planFigure(
        lamp,
        lamp.boards.length > FEW_BOARDS
          ? { system }
          : { mostHigh: BOTH_HIGH[workshopOf(lamp).paper] - section.height, system },
      ),
      caption: 'The face from the front. In bold the boards’ names; dashed what is kept free.',
    },
  ]
}

const sectionCaption = (sheet: Sheet | null): string =>
  `Cut along the axis, upright. How thick the plate is drawn says nothing${sheet ? '; the thin lines are traced paths, seen from the side' : ''}.`

/** Evenly chosen from the traced ones, seen from the side. */
export function sectionPaths({ paths: { start, xyz } }: Sheet): SectionPath[] {
  const count = Math.max(0, start.length - 1)
  const step = Math.max(1, Math.floor(count / MOST_PATHS))
  return Array.from({ length: Math.floor(count / step) }, (_, k) => {
    const [from, to] = [start[k * step] ?? 0, start[k * step + 1] ?? 0]
    return Array.from({ length: to - from }, (_, i): [number, number] => [
      xyz[3 * (from + i) + 2] ?? 0,
      xyz[3 * (from + i) + 1] ?? 0,
    ])
  })
}

const leftOutSentences = (chapters: readonly Chapter[]): string[] =>
  chapters.length === 0
    ? []
    : [`Left out of this book on request: ${chapters.map((c) => c.title.toLowerCase()).join(', ')}.`]

/** Of all results, worst first, each once. */
export const severeTitles = (results: BookResults): string[] => [
  ...new Set(findingsOf(results).flatMap((f) => (f.severity === 'severe' ? [f.title] : []))),
]

/** What nobody has looked for must not read as "nothing found". */
const notComputed = ({ sheet, danger, power }: BookResults): string[] => [
  ...(sheet ? [] : ['The beam was not traced: hot spots and distances are not known.']),
  ...(danger ? [] : ['The dangers in full were not read: that none is listed does not mean that there is none.']),
  ...(power ? [] : ['Heat and power were not run: hot junctions, wires and fuses beyond their limits are not known.']),
]

const countWords = (n: number): string => (n === 1 ? 'One severe finding' : `${n} severe findings`)

function warningWords(name: string, severe: number, unknown: number): string {
  const parts = [...(severe > 0 ? [`${countWords(severe)}.`] : []), ...(unknown > 0 ? ['Not complete.'] : [])]
  return parts.length > 0 ? `${name}: ${parts.join(' ')} See page 1.` : ''
}

/** Severe findings, what is missing, then what holds for every lamp. */
function cautionBlocks(lamp: Lamp, severe: readonly string[], unknown: readonly string[]): Block[] {
  return [
    severe.length > 0
      ? { kind: 'note', severity: 'severe', title: countWords(severe.length), lines: severe }
      : paragraph('No severe finding. That is a screening, no proof of safety.'),
    ...(unknown.length > 0
      ? [{ kind: 'note', severity: 'severe', title: 'Not complete', lines: unknown } satisfies Block]
      : []),
    list(cautionsFor(lamp).map((c) => c.text)),
  ]
}
