// Sentences of the sheet that depend on the run. Pure, so that tests can compare them word for word.

import type { Finding, Place, Severity } from '../../checks/finding.ts'
import type { Figure, Sheet, Variant } from '../../job/beam/sheet.ts'
import type { Board } from '../../lamp/schema.ts'
import { T95 } from '../../num/stats.ts'
import { FATE_WORDS } from '../../report/figures.ts'
import { countWords, formatFigure, formatValue, relativeError, THIN, toDigits } from '../common/format.ts'
import { holderWords, type TraceHolder } from '../common/traceHolders.ts'
import { shownUnit, type UnitSystem } from '../common/unitSystem.ts'
import { formatNumber } from '../common/units.ts'
import type { ResultState } from '../store/result.ts'
import type { ViewName } from '../store/view.ts'
import type { LedgerLine } from './model/flow.ts'

export type StateWord =
  | 'empty'
  | 'waiting'
  | 'rough'
  | 'settling'
  | 'settled'
  | 'paused'
  | 'held'
  | 'failed'
  | 'fault'
  | 'old'

export function stateOf(
  sheet: Pick<Sheet, 'state'> | null,
  stale: boolean,
  trace: ResultState['trace'],
  isHeld: boolean,
): StateWord {
  if (trace === 'failed') return 'failed'
  if (!sheet) return 'waiting'
  if (stale) return 'old'
  if (trace === 'paused' && sheet.state !== 'settled') return isHeld ? 'held' : 'paused'
  return sheet.state
}

export const STATE_TITLES: Record<StateWord, string> = {
  empty: 'No boards',
  waiting: 'Waiting for light',
  rough: 'Rough',
  settling: 'Settling',
  settled: 'Settled',
  paused: 'Paused',
  held: 'Waiting',
  failed: 'Trace failed',
  fault: 'Nothing to trace',
  old: 'Tracing edit',
}

/** Why nothing is traced at present. */
export const pausedWords = (heldBy: readonly TraceHolder[]): string =>
  heldBy.length > 0 ? `Waits for ${holderWords(heldBy)}.` : 'Paused.'

/** `isPrecise`: the axis is known to the wanted ±; null: that is not known. `heldBy`: what a trace that is held waits for. */
export function stateSentence(
  state: StateWord,
  why: string,
  isPrecise: boolean | null = null,
  heldBy: readonly TraceHolder[] = [],
): string {
  switch (state) {
    case 'empty':
      return 'Nothing on the face gives light yet.'
    case 'waiting':
      return 'The first rough figures are on their way.'
    case 'rough':
      return 'Few rays yet; nothing here is final.'
    case 'settling':
      return isPrecise ? 'The rest is on its way.' : 'Getting sharper.'
    case 'settled':
      return isPrecise === false ? 'Ended before the wanted ± was reached.' : 'As sharp as was asked for.'
    case 'paused':
      return 'Paused; ± stays as it is.'
    case 'held':
      return `Waits for ${holderWords(heldBy)}; ± stays.`
    case 'failed':
    case 'fault':
      return why || 'No reason was given.'
    case 'old':
      return 'Figures of the lamp before the edit.'
  }
}

export function traceFacts(sheet: Sheet): string[] {
  return [
    `${countWords(sheet.rays)} rays`,
    `${countWords(Number(sheet.raysPerSecond.toPrecision(2)))} rays/s`,
    `seed ${sheet.seed}`,
  ]
}

/** ± of the axial intensity as the trace is judged by it: a share of it, or of the brightest ring of the beam where that is brighter. */
export const knownTo = (sheet: Sheet | null): number | null =>
  sheet?.reached?.share ?? relativeError(sheet?.figures.axialIntensityCd)

/** Progress, 0 to 1: the remaining work is proportional to the square of ±. */
export function progress(sheet: Sheet | null, precision: number): number {
  const now = knownTo(sheet)
  if (now === null) return 0
  return now <= precision ? 1 : (precision / now) ** 2
}

/** Short name of a ledger line, for drawings. */
export const lineWords = (l: LedgerLine): string =>
  (FATE_WORDS as Partial<Record<string, { name: string }>>)[l.line]?.name ?? l.name

export const percent = (share: number): string => `${toDigits(share * 100, 2)}${THIN}%`

export const SEVERITY_WORDS: Record<Severity, string> = { severe: 'Severe', warning: 'Warning', note: 'Note' }

/** Announcement for screen readers once the sheet has settled; rough figures change too often to be read out. */
export function announcement(sheet: Sheet | null, state: StateWord): string {
  if (state !== 'settled' || !sheet) return ''
  const { fluxOutLm: flux, axialIntensityCd: axial } = sheet.figures
  const figures = [flux && formatFigure(flux, 'lm').text, axial && formatFigure(axial, 'cd').text].filter(Boolean)
  return `Figures: ${figures.join(', ')}; dangers: ${countFindings(sheet.findings)}.`
}

/** '2 severe, 1 warning, 3 notes', without the zeros. */
export function countFindings(findings: readonly Finding[]): string {
  const count = (s: Severity) => findings.filter((f) => f.severity === s).length
  const parts = [
    [count('severe'), 'severe', 'severe'],
    [count('warning'), 'warning', 'warnings'],
    [count('note'), 'note', 'notes'],
  ] as const
  const words = parts.filter((p) => p[0] > 0).map(([n, one, many]) => `${n} ${n === 1 ? one : many}`)
  return words.length ? words.join(', ') : 'no finding'
}

/** `lit`: what the map of the lens is of. */
export function placeWords(
  place: Place,
  boards: readonly Pick<Board, 'id'>[],
  lit = 'the lens',
  system: UnitSystem = 'metric',
): string {
  switch (place.kind) {
    case 'board':
      return `Board ${boards[place.boardIndex]?.id ?? place.boardIndex + 1}`
    case 'emitter':
      return `Board ${boards[place.boardIndex]?.id ?? place.boardIndex + 1}, emitter ${place.siteIndex + 1}`
    case 'part':
      return {
        target: 'Target',
        emitters: 'Emitters',
        optics: 'Small optics',
        face: 'Face',
        tunnel: 'Tunnel',
        lens: place.of ?? (lit === 'the lens' ? 'Lens' : lit),
        heat: 'Heat and power',
      }[place.part]
    case 'point': {
      const on = {
        lens: `On ${place.of === undefined ? lit : `“${place.of}”`}`,
        wall: 'On the tunnel wall',
        face: 'On the face',
        front: 'In front',
        inside: 'Inside',
      }
      return `${on[place.on]}, ${pointWords(place, system)}`
    }
  }
}

export function pointWords(p: { xMm: number; yMm: number; zMm: number }, system: UnitSystem = 'metric'): string {
  const { toShown, word } = shownUnit('mm', system)
  const shown = (v: number) =>
    system === 'metric' ? toDigits(Math.round(v), 6) : formatNumber(Math.round(10 * toShown(v)) / 10, 1)
  return `x ${shown(p.xMm)}, y ${shown(p.yMm)}, z ${shown(p.zMm)}${THIN}${word}`
}

/** The view that shows a place best. */
export function viewOf(place: Place): ViewName {
  if (place.kind === 'board' || place.kind === 'emitter') return 'plan'
  if (place.kind === 'part') {
    if (place.part === 'target') return 'night'
    return place.part === 'tunnel' || place.part === 'lens' ? 'section' : 'plan'
  }
  return 'section'
}

/** Why there is no figure; a reason that is already a sentence is used unchanged. */
export const noneWords = (reason: string): string => (/^[A-Z]/.test(reason) ? reason : `None: ${reason}`)

/** Why the dangers are not final yet; empty when they are. */
export function unfinishedWords(state: StateWord): string {
  if (state === 'settled') return ''
  if (state === 'old') return 'Of the lamp before the edit; new dangers may come. The upper end of ± is used.'
  return 'Figures still rough; the upper end of ± is used.'
}

export interface Ratio {
  value: number
  /** Half width of the interval at 95 %. */
  half: number
}

/** Ratio of two independent figures; relative errors add in quadrature. */
export function ratioOf(a: Figure | undefined, b: Figure | undefined): Ratio | null {
  if (!a || !b || b.value === 0) return null
  const value = a.value / b.value
  const relative = Math.hypot(a.value === 0 ? 0 : a.se / a.value, b.se / b.value)
  return { value, half: T95 * Math.abs(value) * relative }
}

/** The variants that are still to be traced, one after another. */
export function stillTraced(
  variants: readonly Variant[],
  lamp: { hasLens: boolean; hasTunnel: boolean; hasOptics: boolean },
): Variant['name'][] {
  const wanted: [Variant['name'], boolean][] = [
    ['as designed', true],
    ['without lens', lamp.hasLens],
    ['without tunnel', lamp.hasTunnel],
    ['bare emitters', lamp.hasOptics],
  ]
  return wanted.filter(([name, is]) => is && !variants.some((v) => v.name === name)).map(([name]) => name)
}

/** A sentence for the effect of each part, as far as ± allows one. */
export function variantEffects(variants: readonly Variant[]): string[] {
  const of = (name: Variant['name']) => variants.find((v) => v.name === name)?.figures
  const real = of('as designed')
  if (!real) return []
  const sentences: string[] = []
  const say = (name: Variant['name'], what: string) => {
    const figures = of(name)
    const bare = figures?.axialIntensityCd
    if (bare && real.fluxOutLm && !real.axialIntensityCd) {
      const cd = formatValue(bare.value, 'cd', 2)
      sentences.push(`${what} keeps the axis dark, as far as rays have shown: left out, it would have ${cd}.`)
    }
    const ratio = ratioOf(real.axialIntensityCd, figures?.axialIntensityCd)
    if (!ratio) return
    const lm = (real.fluxOutLm?.value ?? 0) - (figures?.fluxOutLm?.value ?? 0)
    const lumens = figures?.fluxOutLm
      ? ` and ${lm >= 0 ? 'adds' : 'costs'} ${formatValue(Math.abs(lm), 'lm', 2)} of flux out`
      : ''
    if (ratio.value - ratio.half > 1.02)
      sentences.push(`${what} makes the axis ${toDigits(ratio.value, 2)} times as bright${lumens}.`)
    else if (ratio.value + ratio.half < 0.98)
      sentences.push(
        `${what} makes the axis darker: left out, the axis would be ${toDigits(1 / ratio.value, 2)} times as bright.`,
      )
    else sentences.push(`${what} changes the brightness on the axis by less than can be told here${lumens}.`)
  }
  const lenses = variants.find((v) => v.name === 'without lens')?.leftOut?.lenses ?? 1
  say('without lens', lenses === 1 ? 'The lens' : `The set of ${lenses} lenses`)
  say('without tunnel', 'The tunnel')
  say('bare emitters', 'The set of small optics')
  return sentences
}
