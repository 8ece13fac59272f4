// The answers about run time and distance to keep, the same in the line on top, on the sheet's tiles and on the terminal.

import { degreesC } from '../checks/words.ts'
import type { LimitKind, ModeRun } from '../electrothermal/result.ts'
import { leadOf } from '../hazard/eyeSheet.ts'
import type { TimedLimit } from '../heat/limits.ts'
import type { Sheet } from '../job/beam/sheet.ts'
import type { DangerReading } from '../job/danger/result.ts'
import { inSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { timeWords } from './power.ts'

export type DangerForKeep = Pick<DangerReading, 'clear' | 'eye'>

export interface KeepAway {
  /** From everything that burns and from bare skin; 0: nothing in front comes to harm; null: not known. */
  clearMm: number | null
  /** The longest distance that applies to eyes; 0: none, or not known. */
  eyesM: number
}

/** The largest distance of either reading. */
export function keepAway(sheet: Pick<Sheet, 'risks'> | null, danger: DangerForKeep | null): KeepAway {
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
function runSeconds({ limit, limits }: Pick<ModeRun, 'limit' | 'limits'>): number {
  const stops = limits.filter((l) => STOPS.includes(l.limit)).map((l) => l.atS)
  return Math.min(limit.atS, ...stops)
}

/** 'runs on', '89 min', 'no light': how long a mode runs. */
export function runTime(run: Pick<ModeRun, 'limit' | 'limits'>): string {
  const seconds = runSeconds(run)
  const { kind, atS } = run.limit
  if (seconds < atS) return timeWords(seconds, 'down')
  if (kind === 'steady') return 'runs on'
  if (kind === 'cycles') return 'cut-out opens and closes'
  if (kind === 'long') return `more than ${timeWords(atS, 'down')}`
  return atS === 0 ? 'none' : timeWords(atS, 'down')
}

const LIMIT_WORDS: Record<TimedLimit['limit'], string> = {
  junction: 'emitters too hot',
  optic: 'plastic optics too hot',
  insulation: 'leads too hot',
  touch: 'a touch burns',
  sink: 'sink over its rating',
  driver: 'drivers switch off',
  pack: 'pack at its end',
}

const END_WORDS: Record<LimitKind, string> = {
  off: 'asks for no current',
  cutOut: 'cut-out opens',
  cycles: 'never steady',
  junction: 'emitters too hot',
  beyond: `plate over ${degreesC(400)}`,
  empty: 'pack empty',
  drivers: 'drivers switch off',
  cells: 'cells too warm',
  supply: 'supply is overloaded',
  steady: 'nothing stops it',
  long: 'nothing stops it',
}

/** Why it has to stop then, in a few words. */
export function stopWords(run: Pick<ModeRun, 'limit' | 'limits'>, system: UnitSystem = 'metric'): string {
  const seconds = runSeconds(run)
  const before = run.limits.find((l) => STOPS.includes(l.limit) && l.atS === seconds && seconds < run.limit.atS)
  return inSystem(before ? LIMIT_WORDS[before.limit] : END_WORDS[run.limit.kind], system)
}
