// The line on top: what to do next, or what the lamp is, in at most three short sentences. Names are as in the document: escape them.
import type { Finding } from '../checks/finding.ts'
import { candela, clear, deg } from '../checks/words.ts'
import type { ModeRun } from '../electrothermal/result.ts'
import { leadOf } from '../hazard/eyeSheet.ts'
import type { Sheet } from '../job/beam/sheet.ts'
import type { DangerReading } from '../job/danger/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import { T95 } from '../num/stats.ts'
import { remedyOf, remedyWords } from './answerWords.ts'
import { upMetres } from './danger.ts'
import { significant } from './numbers.ts'
import { timeWords } from './power.ts'

type SheetForLine = Pick<Sheet, 'state' | 'figures' | 'variants' | 'risks' | 'light' | 'patterned'>
type RunForLine = Pick<ModeRun, 'name' | 'limit' | 'limits'>
type DangerForLine = Pick<DangerReading, 'clear' | 'eye'>

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
  danger: DangerForLine | null
}

export interface AnswerLine {
  text: string
  /** A severe finding is known, and the line says so. */
  severe: boolean
}

/** Brighter by less than this without a part, it isn't worth a word (our choice). */
const WORTH = 1.05

/** The worst finding first, then what to change or what the lamp is, then how long it runs and how far to keep away. */
export function answerLine(r: LineReadings): AnswerLine {
  const severe = r.findings.filter((f) => f.severity === 'severe')
  const end = endSentences(r)
  const first =
    r.lamp.boards.length === 0
      ? emptyWords(r.lamp, severe)
      : [severeWords(r, severe), adviceWords(r) ?? lightWords(r)].filter((words) => words !== null)
  const sentences = first.length + end.length > 3 ? [...first, end.join('; ')] : [...first, ...end]
  return { text: sentences.map((words) => `${capital(words)}.`).join(' '), severe: severe.length > 0 }
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

/** What the lamp is; of one that hasn't been traced that nothing is known. */
function lightWords(r: LineReadings): string {
  const { sheet } = r
  if (!sheet) return 'no light traced yet'
  const { peakIntensityCd: peak, beamAngleDeg: beam, halfFluxAngleDeg: half } = sheet.figures
  const angle = sheet.patterned ? half : beam
  const words = [
    ...(peak ? [candela(Number(significantOf(peak)))] : []),
    ...(angle ? [`${sheet.patterned ? 'half the light' : 'beam'} within ${deg(Number(significantOf(angle)))}`] : []),
  ].join(', ')
  return words === '' ? 'no light leaves the lamp' : `${words}${soFar(r)}`
}

/** Two digits, or three where ± at 95 % is under a hundredth. */
const significantOf = ({ value, se }: { value: number; se: number }): string =>
  value.toPrecision(T95 * se < 0.01 * Math.abs(value) ? 3 : 2)

/** How long it runs, and how far to keep away, as far as they are known. */
function endSentences(r: LineReadings): string[] {
  if (r.lamp.boards.length === 0) return []
  const keep = keepAway(r.sheet, r.danger)
  const eyes = keep.eyesM > 0 ? `eyes ${upMetres(1000 * keep.eyesM)} m` : ''
  const clearOf = keep.clearMm !== null && keep.clearMm > 0 ? `keep ${clear(keep.clearMm)} clear` : ''
  const distance = [clearOf, eyes].filter((words) => words !== '').join(', ')
  const run = shownMode(r.modes, r.sheet)
  return [...(run ? [runWords(run)] : []), ...(distance ? [distance] : [])]
}

export interface KeepAway {
  /** From everything that burns and from bare skin; 0: nothing in front comes to harm; null: not known. */
  clearMm: number | null
  /** The longest distance that applies to eyes; 0: none, or not known. */
  eyesM: number
}

/** The largest distance of either reading. */
export function keepAway(sheet: Pick<Sheet, 'risks'> | null, danger: DangerForLine | null): KeepAway {
  const all = [...(sheet?.risks ?? []), ...(danger?.clear ?? [])].map((c) => c.clearDistanceMm)
  return {
    clearMm: all.length > 0 ? Math.max(...all) : null,
    eyesM: danger?.eye?.distances[0] ? leadOf(danger.eye.distances[0]).metres : 0,
  }
}

/** The mode that the light is traced in, else the one that has to stop soonest. */
export function shownMode<R extends Pick<ModeRun, 'name' | 'limit' | 'limits'>>(
  modes: readonly R[] | null,
  sheet: Pick<Sheet, 'light'> | null,
): R | null {
  if (!modes) return null
  const light = sheet?.light
  const traced = light?.kind === 'mode' ? modes.find((m) => m.name === light.mode) : undefined
  const lasts = (m: R) => (ENDLESS.includes(m.limit.kind) && runSeconds(m) === m.limit.atS ? Infinity : runSeconds(m))
  return traced ?? modes.reduce<R | null>((a, b) => (a && lasts(a) <= lasts(b) ? a : b), null)
}

/** Nothing stops such a run. */
const ENDLESS: readonly string[] = ['steady', 'long', 'cycles']

/** A touch that burns and a driver that sags don't stop it; what ends the run is counted anyway. */
const STOPS: readonly string[] = ['junction', 'optic', 'insulation', 'sink']

/** From switch-on until it has to stop, s. */
export function runSeconds({ limit, limits }: Pick<ModeRun, 'limit' | 'limits'>): number {
  const stops = limits.filter((l) => STOPS.includes(l.limit)).map((l) => l.atS)
  return Math.min(limit.atS, ...stops)
}

/** 'runs on', '89 min', 'no light': how long a mode runs. */
export function runTime(run: Pick<ModeRun, 'limit' | 'limits'>): string {
  const seconds = runSeconds(run)
  const { kind, atS } = run.limit
  if (seconds < atS) return timeWords(seconds)
  if (kind === 'steady') return 'runs on'
  if (kind === 'cycles') return 'cut-out opens and closes'
  if (kind === 'long') return `more than ${timeWords(atS)}`
  return atS === 0 ? 'none' : timeWords(atS)
}

function runWords(run: RunForLine): string {
  const time = runTime(run)
  return `${time === 'none' ? 'no run time' : time} in ${run.name}`
}
