// The line on top: what to do next, or what the lamp is, in at most three short sentences. Names are as in the document: escape them.

import type { Finding } from '../checks/finding.ts'
import { candela, clear, deg, plain } from '../checks/words.ts'
import type { ModeRun } from '../electrothermal/result.ts'
import type { Sheet } from '../job/beam/sheet.ts'
import type { Lamp } from '../lamp/schema.ts'
import { inSystem } from '../num/quantity.ts'
import { T95 } from '../num/stats.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { type DangerForKeep, keepAway, runTime, shownMode } from './answers.ts'
import { remedyOf, remedyWords } from './answerWords.ts'
import { upDistance } from './danger.ts'
import { significant } from './numbers.ts'

type SheetForLine = Pick<Sheet, 'state' | 'figures' | 'variants' | 'risks' | 'light' | 'patterned'>
type RunForLine = Pick<ModeRun, 'name' | 'limit' | 'limits'>

export interface LineReadings {
  lamp: Lamp
  /** Null: nothing has been traced. */
  sheet: SheetForLine | null
  /** The figures are those of the lamp before an edit. */
  stale: boolean
  /** All that are known, of whatever reading. */
  findings: readonly Finding[]
  /** Null: heat and power have not been run. */
  modes: readonly RunForLine[] | null
  danger: DangerForKeep | null
}

export interface AnswerLine {
  text: string
  /** A severe finding is known, and the line says so. */
  severe: boolean
}

/** Brighter by less than this without a part, it isn't worth a word (our choice). */
const WORTH = 1.05

/** The worst finding first, then what to change or what the lamp is, then how long it runs and how far to keep away. */
export function answerLine(r: LineReadings, system: UnitSystem = 'metric'): AnswerLine {
  const severe = r.findings.filter((f) => f.severity === 'severe')
  const end = endSentences(r)
  const first =
    r.lamp.boards.length === 0
      ? emptyWords(r.lamp, severe)
      : [severeWords(r, severe), adviceWords(r) ?? lightWords(r, severe.length === 0)].filter((words) => words !== null)
  const sentences = first.length + end.length > 3 ? [...first, end.join('; ')] : [...first, ...end]
  const text = sentences.map((words) => `${capital(words)}.`).join(' ')
  return { text: inSystem(text, system), severe: severe.length > 0 }
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1)

/** Of the line's figures. */
function soFar({ sheet, stale }: LineReadings): string {
  if (!sheet) return ''
  if (stale) return ' before the edit'
  return sheet.state === 'settled' ? '' : ' so far'
}

/** An empty face has no beam, but the sun may burn it all the same. */
function emptyWords(lamp: Lamp, severe: readonly Finding[]): string[] {
  const others = severe.filter((f) => f.rule !== 'no-emitters')
  const worst = firstToSay(others)
  return [
    'put boards on the face, the lamp gives no light',
    ...(worst ? [`severe: ${remedyWords(worst, lamp)}${moreWords(others)}`] : []),
  ]
}

/** What can be mended comes before how to handle the lamp, and that before what a distance answers. */
function firstToSay(findings: readonly Finding[]): Finding | undefined {
  const by = (remedy: string) => findings.find((f) => remedyOf(f) === remedy)
  return by('mend') ?? by('handle') ?? by('keep')
}

function severeWords(r: LineReadings, severe: readonly Finding[]): string | null {
  const worst = firstToSay(severe)
  return worst ? `severe${soFar(r)}: ${remedyWords(worst, r.lamp)}${moreWords(severe)}` : null
}

/** A finding of two readings counts once. */
function moreWords(severe: readonly Finding[]): string {
  const more = new Set(severe.map((f) => `${f.rule} ${JSON.stringify(f.place)}`)).size - 1
  return more > 0 ? ` (and ${more} more)` : ''
}

const LEFT_OUT = {
  'without lens': 'lens',
  'without tunnel': 'tunnel',
  'bare emitters': 'small optics',
} as const

/** The part without which the axis is brightest, beyond any doubt of tracing; null: each is worth having, or none is compared yet. */
function adviceWords({ sheet }: LineReadings): string | null {
  if (!sheet) return null
  const of = (name: string) => sheet.variants.find((v) => v.name === name)?.figures.axialIntensityCd
  const real = of('as designed') ?? sheet.figures.axialIntensityCd
  if (!real) return null
  const gains = Object.entries(LEFT_OUT).flatMap(([name, part]) => {
    const without = of(name)
    const surely = without ? (without.value - T95 * without.se) / (real.value + T95 * real.se) : 0
    return without && surely > WORTH && Number.isFinite(surely)
      ? [{ name, part, times: without.value / real.value }]
      : []
  })
  const [best] = gains.sort((a, b) => b.times - a.times)
  if (!best) return null
  const lenses = sheet.variants.find((v) => v.name === best.name)?.leftOut?.lenses ?? 1
  const part = best.part === 'lens' && lenses > 1 ? `${lenses} lenses` : best.part
  return `leave the ${part} out: ${significant(best.times, 2)} times brighter on the axis`
}

/** What the lamp is, and where nothing before said so, that it isn't settled; of one that hasn't been traced that nothing is known. */
function lightWords(r: LineReadings, saysState: boolean): string {
  const { sheet } = r
  if (!sheet) return 'no light traced yet'
  const { peakIntensityCd: peak, beamAngleDeg: beam, halfFluxAngleDeg: half, fluxOutLm: flux } = sheet.figures
  const angle = sheet.patterned ? half : beam
  const words = [
    ...(peak ? [candela(Number(significantOf(peak)))] : []),
    ...(angle ? [`${sheet.patterned ? 'half the light' : 'beam'} within ${deg(Number(significantOf(angle)))}`] : []),
  ].join(', ')
  if (words !== '') return `${words}${saysState ? soFar(r) : ''}`
  // Of few rays there may be lumens, but no peak yet.
  return flux && flux.value > 0
    ? `${plain(Number(flux.value.toPrecision(2)))} lm, their beam not known yet`
    : 'no light leaves the lamp'
}

/** Two digits, or three where ± at 95 % is under a hundredth. */
const significantOf = ({ value, se }: { value: number; se: number }): string =>
  value.toPrecision(T95 * se < 0.01 * Math.abs(value) ? 3 : 2)

/** How long it runs, and how far to keep away, as far as they are known. */
function endSentences(r: LineReadings): string[] {
  if (r.lamp.boards.length === 0) return []
  const keep = keepAway(r.sheet, r.danger)
  const eyes = keep.eyesM > 0 ? `eyes ${upDistance(1000 * keep.eyesM)}` : ''
  const clearOf = keep.clearMm !== null && keep.clearMm > 0 ? `keep ${clear(keep.clearMm)} clear` : ''
  const distance = [clearOf, eyes].filter((words) => words !== '').join(', ')
  const run = shownMode(r.modes, r.sheet)
  return [...(run ? [runWords(run)] : []), ...(distance ? [distance] : [])]
}

function runWords(run: RunForLine): string {
  const time = runTime(run)
  return `${time === 'none' ? 'no run time' : time} in ${run.name}`
}
