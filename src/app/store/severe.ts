// The severe findings of the lamp on screen, from all that has been read of it: beam sheet, heat and power, danger sheet.
import type { Finding } from '../../checks/finding.ts'
import { danger, useDanger } from './danger.ts'
import { power, usePower } from './power.ts'
import { result, useResult } from './stores.ts'

/** Null while nothing is known yet. */
export type Severe = readonly string[] | null

export function severeTitles(known: readonly (readonly Pick<Finding, 'severity' | 'title'>[] | null)[]): Severe {
  const lists = known.filter((list) => list !== null)
  if (lists.length === 0) return null
  return [...new Set(lists.flatMap((list) => list.filter((f) => f.severity === 'severe').map((f) => f.title)))]
}

const ofPower = (findings: readonly Finding[]) => (findings.length > 0 ? findings : null)

export const severeNow = (): Severe =>
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
