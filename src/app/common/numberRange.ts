// A number of the lamp in words, and a range about it that a panel begins with.
import type { ParameterUnit } from '../../job/sweep/labels.ts'
import type { Parameter } from '../../job/sweep/parameters.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import type { RangeChoice } from './rangeChoice.ts'
import { shownUnit } from './unitSystem.ts'
import { formatNumber, tidy, unitLabel } from './units.ts'

/** About a tenth to either side of the lamp's own value (more for angles and currents), in round steps, the lamp in the middle. */
export function rangeAbout(p: Parameter, count: number): RangeChoice {
  const at = p.value ?? p.min
  const n = count % 2 === 0 ? count + 1 : count
  const half = at === 0 ? (FROM_ZERO[p.unit] ?? 0.2) : Math.abs(at) * (p.unit === 'deg' || p.unit === 'A' ? 0.4 : 0.1)
  const step = p.integer ? 1 : roundStep((2 * half) / (n - 1))
  // At a limit the range extends to one side.
  const below = Math.min((n - 1) / 2, Math.floor((at - p.min) / step + 1e-9))
  const from = tidy(at - below * step)
  const steps = Math.max(1, Math.min(n - 1, Math.floor((p.max - from) / step + 1e-9)))
  return { path: p.path, from, to: tidy(from + steps * step), count: steps + 1 }
}

const FROM_ZERO: Partial<Record<ParameterUnit, number>> = { deg: 5, mm: 10, m: 10, A: 1, '°C': 20, nm: 50 }

/** The nearest of 1, 2, 2.5, 5 times a power of ten. */
function roundStep(step: number): number {
  const ten = 10 ** Math.floor(Math.log10(step))
  const off = (m: number) => Math.abs(Math.log((m * ten) / step))
  return [1, 2, 2.5, 5, 10].reduce((a, b) => (off(b) < off(a) ? b : a)) * ten
}

/** "Lens: stands at z". */
export const parameterWords = (p: Pick<Parameter, 'part' | 'label'>): string =>
  `${p.part}: ${p.label.charAt(0).toLowerCase()}${p.label.slice(1)}`

/** "1050 mm", "41.3386 in", "12°", "0.88". */
export function axisValue(value: number, unit: ParameterUnit, system: UnitSystem = 'metric'): string {
  const shown = axisNumber(value, unit, system)
  return unit === 'deg' ? `${shown}°` : unit === '' || unit === 'share' ? shown : `${shown} ${unitLabel(unit, system)}`
}

/** The same without its unit, which stands beside the axis. */
export const axisNumber = (value: number, unit: ParameterUnit, system: UnitSystem): string =>
  formatNumber(
    Number(shownUnit(unit, system).toShown(value).toPrecision(6)),
    system === 'inch' && unit === 'mm' ? 3 : 4,
  )
