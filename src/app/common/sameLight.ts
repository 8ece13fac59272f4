// Whether two lamps give the same light: a change of names or notes alone needs no new trace.
import type { Lamp } from '../../lamp/schema.ts'
import { withoutMaking } from '../../lamp/withoutMaking.ts'

/** Entries that don't affect the light. */
const WORDS: ReadonlySet<string> = new Set(['name', 'note', 'why'])

/** Two lamps give the same light, whatever they are called. */
export const sameLight = (now: Lamp, before: Lamp): boolean => changedNames(now, before) !== null

/** The old texts when only texts differ; null when anything else does. */
export function changedNames(now: Lamp, before: Lamp): string[] | null {
  const old: string[] = []
  return alike(bearingOn(now), bearingOn(before), old) ? old : null
}

/**
 * Ticks, the danger sheet's thresholds, the workshop and screw holes never affect the light or the beam sheet; cooling and power do where
 * the light is that of a mode's moment.
 */
function bearingOn(lamp: Lamp) {
  const { powerUp: _ticks, danger: _thresholds, cooling, power, ...rest } = withoutMaking(lamp)
  return rest.heat.kind === 'mode' ? { ...rest, cooling, power } : rest
}

function alike(a: unknown, b: unknown, old: string[]): boolean {
  if (a === b) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  const [x, y] = [a as Record<string, unknown>, b as Record<string, unknown>]
  const keys = Object.keys(x)
  if (Array.isArray(a) !== Array.isArray(b) || keys.length !== Object.keys(y).length) return false
  return keys.every((key) => {
    if (!Object.hasOwn(y, key)) return false
    if (!WORDS.has(key)) return alike(x[key], y[key], old)
    if (x[key] !== y[key]) old.push(String(y[key]))
    return true
  })
}
