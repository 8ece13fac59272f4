// The result of a mode in one line.

import type { ModeRun } from '../electrothermal/result.ts'
import type { TimedLimit } from '../heat/limits.ts'
import { roundedDown, roundedUp } from '../num/sided.ts'
import type { Rounding } from '../num/unitSystem.ts'
import { short } from './numbers.ts'

/** 9 s, 4 min, 3.2 h: two digits, the accuracy of the model. A run is rounded down, a wait up. */
export function timeWords(seconds: number, way: Rounding = 'nearest'): string {
  const two = (x: number) =>
    String(Number((way === 'up' ? roundedUp(x, 2) : way === 'down' ? roundedDown(x, 2) : x).toPrecision(2)))
  if (seconds < 100) return `${two(seconds)} s`
  if (seconds < 100 * 60) return `${two(seconds / 60)} min`
  return `${two(seconds / 3600)} h`
}

/** Writes a temperature given in °C. */
type Degrees = (celsius: number) => string

const inCelsius: Degrees = (c: number) => `${Math.round(c)} °C`

/** A temperature that is reached, in whole degrees, rounded up. */
export const reachedC = (celsius: number): number => Math.ceil(celsius - 1e-6)

/** A limit passed, to follow "after …" or "… until". */
export function limitWords({ limit, part, celsius }: TimedLimit, degrees: Degrees = inCelsius): string {
  switch (limit) {
    case 'junction':
      return `${part} reaches its junction limit`
    case 'optic':
      return `plastic optics on the face (${part}) pass ${degrees(celsius ?? 0)}`
    case 'insulation':
      return `${part} pass the ${degrees(celsius ?? 0)} of their insulation`
    case 'touch':
      return `a touch of ${part} burns (plate at ${degrees(celsius ?? 0)})`
    case 'sink':
    case 'driver':
    case 'pack':
      return part
  }
}

/** What cut-out and fold-back did in a run, a sentence's part each; none on a lamp without them. */
export function protectionWords({ protection, lmAt30S, limit }: ModeRun): string[] {
  if (!protection) return []
  const { firstOpenS, openings, staysOpen, cycle, foldsFromS, leastShare, shareAtEnd } = protection
  const percent = (share: number) => `${Math.round(100 * share)} %`
  const words: string[] = []
  if (foldsFromS !== null && leastShare !== null)
    words.push(
      `folds back from ${timeWords(foldsFromS, 'down')} on, to ${percent(leastShare)} of its current${shareAtEnd > leastShare + 0.005 ? `, ${percent(shareAtEnd)} at the end` : ''}`,
    )
  if (firstOpenS === null) return words
  const times = openings > 1 ? `, ${openings} times until ${timeWords(limit.atS, 'down')}` : ''
  words.push(
    `the cut-out opens after ${timeWords(firstOpenS, 'down')}${staysOpen ? ' and stays open until switched off' : times}`,
  )
  if (cycle) {
    const ofStart = lmAt30S ? ` (${percent(cycle.meanLm / lmAt30S)} of that at 30 s)` : ''
    const pack = cycle.emptyAboutS === null ? '' : `, a pack lasts about ${timeWords(cycle.emptyAboutS, 'down')} so`
    words.push(
      `then ${timeWords(cycle.onS)} on and ${timeWords(cycle.periodS - cycle.onS)} off, mean light ${short(cycle.meanLm)} lm${ofStart}${pack}`,
    )
  }
  return words
}

/** The result of a mode in one line: what it passes first leads, what ends it stands last. */
export function modeWords(run: ModeRun, degrees: Degrees = inCelsius): string {
  const { limit, limits, steppedDown } = run
  const passed = limits
    .filter((l) => !l.ends && l.atS < limit.atS)
    .map((l) => ({
      atS: l.atS,
      words:
        l.atS === 0
          ? `at once ${limitWords(l, degrees)}`
          : `${timeWords(l.atS, 'down')} until ${limitWords(l, degrees)}`,
    }))
  if (steppedDown)
    passed.push({
      atS: steppedDown.atS,
      words: `steps down to ${Math.round(100 * steppedDown.toShare)} % after ${timeWords(steppedDown.atS, 'down')}`,
    })
  const earlier = passed.sort((a, b) => a.atS - b.atS).map((p) => `${p.words}, `)
  const guarded = [...protectionWords(run), ...failedWords(run, degrees)].map((words) => `; ${words}`)
  return `${run.name}: ${earlier.join('')}${endWords(run, degrees)}${guarded.join('')}.`
}

/** What the protection keeps away: a line that leaves it out would read as calm. */
function failedWords({ unprotected, limit }: ModeRun, degrees: Degrees): string[] {
  if (unprotected?.limit.kind !== 'junction' || limit.kind === 'junction') return []
  return [`with that protection failed ${endWords(unprotected, degrees)}`]
}

/** What a mode comes to when nobody switches it off at its limit; null where it ends by itself. */
export function leftOnWords(
  { leftOn, curves, protection }: Pick<ModeRun, 'leftOn' | 'curves' | 'protection'>,
  degrees: Degrees = inCelsius,
): string | null {
  if (!leftOn) return null
  const { kind, atS } = leftOn.limit
  const ends =
    kind === 'beyond' ? `the plate passes ${degrees(400)}, where the model ends` : (LEFT_ON_ENDS[kind] ?? 'it ends')
  const plateC = Math.max(maxOf(leftOn.curves.plateMaxC), maxOf(curves.plateMaxC))
  return `Left on past its limit${protection ? ', the protection failed' : ''}, should its emitters go on: the plate gets to ${degrees(reachedC(plateC))}, junctions to ${degrees(reachedC(maxOf(leftOn.curves.junctionMaxC)))}; ${timeWords(atS, 'down')} until ${ends}.`
}

const LEFT_ON_ENDS: Partial<Record<ModeRun['limit']['kind'], string>> = {
  empty: 'the pack is empty',
  drivers: 'the drivers switch off',
  supply: 'the supply is overloaded',
  steady: 'nothing changes any more',
  off: 'it goes dark',
}

function endWords(run: ModeRun, degrees: Degrees): string {
  const { limit, steppedDown, steady, steadyAfter } = run
  const time = timeWords(limit.atS, 'down')
  const board = (index: number) => `board ${run.boards[index]?.id ?? index + 1}`
  const hot = `hottest junction ${degrees(reachedC(maxOf(run.curves.junctionMaxC)))}`
  const cool =
    run.coolHalfS === null ? '' : `; let it cool ${timeWords(run.coolHalfS, 'up')}, then half of its heat is gone`
  switch (limit.kind) {
    case 'junction': {
      const at = limit.boardIndex ?? run.hottestBoard
      if (limit.atS === 0) return `too hot at once: ${board(at)} is at its limit before the plate warms`
      const c = degrees(run.curves.junctionMaxC[run.curves.junctionMaxC.length - 1]!)
      return `${time} until ${board(at)} reaches ${c}${cool}`
    }
    case 'beyond':
      return `${time} until the plate passes ${degrees(400)}, where the model ends`
    case 'empty':
      return `${time} until the pack is empty, ${hot}`
    case 'off':
      return limit.atS === 0 ? 'asks for no current, so it gives no light' : `dark from ${time} on, ${hot}`
    case 'drivers':
      return limit.atS === 0
        ? 'gives no light: the supply’s voltage does not suit the drivers'
        : `${time} until the drivers switch off, ${hot}`
    case 'cells':
      return `${time} until the cells may be too warm, ${hot}`
    case 'supply':
      return limit.atS === 0 ? 'more than the supply can give' : `${time} until the supply is overloaded, ${hot}`
    case 'cutOut':
      return limit.atS === 0
        ? 'gives no light: the air is as warm as the cut-out’s temperature'
        : `dark from ${time} on, ${hot}${cool}`
    case 'cycles':
      return `no steady state: the cut-out opens and closes over and over, ${hot}`
    case 'steady': {
      const at = (steppedDown ? steadyAfter : steady)?.junctionMaxC
      const where = degrees(reachedC(at ?? run.curves.junctionMaxC[run.curves.junctionMaxC.length - 1]!))
      return `runs on; its hottest junction settles at ${where}`
    }
    case 'long':
      return `more than ${time}, ${hot}`
  }
}

const maxOf = (x: Float64Array) => x.reduce((most, v) => Math.max(most, v), Number.NEGATIVE_INFINITY)
