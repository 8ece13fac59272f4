// The severe findings of the open lamp, from the beam sheet, from heat and power, and from the danger sheet.
import type { Finding } from '../../checks/finding.ts'
import { withKeys } from '../common/sameFinding.ts'
import { danger, useDanger } from './danger.ts'
import { power, usePower } from './power.ts'
import { result, useResult } from './stores.ts'

/** Null before the first reading. */
export type Severe = readonly string[] | null

/** One title for each finding; a finding of two readings counts once, even where the wording differs. */
export function severeTitles(known: readonly (readonly Finding[] | null)[]): Severe {
  const lists = known.filter((list) => list !== null)
  if (lists.length === 0) return null
  const titles = new Map<string, string>()
  for (const list of lists)
    for (const [key, f] of withKeys(list.filter(({ severity }) => severity === 'severe')))
      if (!titles.has(key)) titles.set(key, f.title)
  return [...titles.values()]
}

const ofPower = (findings: readonly Finding[]) => (findings.length > 0 ? findings : null)

export const currentSevere = (): Severe =>
  severeTitles([
    result.getState().sheet?.findings ?? null,
    ofPower(power.getState().findings),
    danger.getState().reading?.findings ?? null,
  ])

export function useSevere(): Severe {
  const beam = useResult((s) => s.sheet?.findings ?? null)
  const heat = usePower((s) => s.findings)
  const full = useDanger((s) => s.reading?.findings ?? null)
  return severeTitles([beam, ofPower(heat), full])
}
