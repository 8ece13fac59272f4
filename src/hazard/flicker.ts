// Flicker of a lamp that dims by pulse width: the depth of the pulses against what IEEE 1789-2015 recommends at their frequency.
import { ownEntry } from '../lamp/ownEntry.ts'
import type { Driver, Lamp, Mode } from '../lamp/schema.ts'

type FlickerVerdict = 'no observable effect' | 'low risk' | 'beyond low risk' | 'frequency not stated'

export interface Flicker {
  driver: string
  /** Modes that it dims in. */
  modes: string[]
  hz: number | null
  modulationPercent: number
  lowRiskPercent: number | null
  noEffectPercent: number | null
  verdict: FlickerVerdict
}

/**
 * Greatest depth of modulation, percent, (most − least)/(most + least), at a frequency in Hz, of low risk: 0.025 f below 90 Hz,
 * 0.08 f to 1250 Hz, where that is 100, any above. IEEE 1789-2015, recommended practice 1; from memory: the public summaries that were seen
 * print other factors, or none.
 */
export function lowRiskPercent(hz: number): number {
  return Math.min(100, (hz < 90 ? 0.025 : 0.08) * hz)
}

/**
 * The same with no observable effect: 0.01 f below 90 Hz, 0.0333 f to 3000 Hz, any above. IEEE 1789-2015, recommended practice
 * 2; from memory.
 */
export function noEffectPercent(hz: number): number {
  if (hz > 3000) return 100
  return Math.min(100, (hz < 90 ? 0.01 : 0.0333) * hz)
}

/**
 * Flicker of each driver that dims by pulse width in some mode: depth in percent, limits at its frequency in Hz. Empty
 * where none does. A driver whose document states no frequency can't be judged.
 */
export function readFlicker(lamp: Lamp): Flicker[] {
  const { power } = lamp
  if (!power) return []
  return power.drivers.flatMap((driver) => {
    if (driver.dimming !== 'pulse width') return []
    const groups = power.groups.filter((g) => g.driver === driver.id).map((g) => g.id)
    const foldsBack = (power.protection?.foldBack?.leastShare ?? 1) < 1
    const modes = power.modes.filter((m) => foldsBack || dims(m, groups)).map((m) => m.name)
    return modes.length > 0 ? [judge(driver, modes)] : []
  })
}

/** A current stated for a group may be below its boards' own; a step-down dims as well. */
const dims = (mode: Mode, groups: readonly string[]): boolean =>
  mode.share < 1 ||
  (mode.stepDown !== null && mode.stepDown.toShare < 1) ||
  groups.some((g) => ownEntry(mode.groupA, g) !== undefined)

function judge(driver: Driver, modes: string[]): Flicker {
  const modulationPercent = driver.pwmModulationPercent ?? 100
  const hz = driver.pwmHz ?? null
  const head = { driver: driver.name, modes, hz, modulationPercent }
  if (hz === null) return { ...head, lowRiskPercent: null, noEffectPercent: null, verdict: 'frequency not stated' }
  const [low, none] = [lowRiskPercent(hz), noEffectPercent(hz)]
  const verdict =
    modulationPercent <= none ? 'no observable effect' : modulationPercent <= low ? 'low risk' : 'beyond low risk'
  return { ...head, lowRiskPercent: low, noEffectPercent: none, verdict }
}
