// The findings of the open lamp, from the beam sheet, from heat and power, and from the danger sheet; and what of these is missing.
import { bySeverity, type Finding } from '../../checks/finding.ts'
import { markOld, withKeys } from '../common/sameFinding.ts'
import { shownFindings } from '../common/shownFindings.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { danger, useDanger } from './danger.ts'
import { type MissingPart, type MissingState, missing, missingFindings, useMissing } from './missing.ts'
import { power, usePower } from './power.ts'
import { result, useResult } from './stores.ts'
import { unitSystem, useUnitSystem } from './unitSystem.ts'

/** Null before the first reading. */
export type Severe = readonly string[] | null

/** One title for each finding, in the builder's units; a finding of two readings counts once, even where the wording differs. */
export function severeTitles(known: readonly (readonly Finding[] | null)[], system: UnitSystem = 'metric'): Severe {
  const lists = known.filter((list) => list !== null)
  if (lists.length === 0) return null
  const titles = new Map<string, string>()
  for (const list of lists)
    for (const [key, f] of withKeys(shownFindings(list, system).filter(({ severity }) => severity === 'severe')))
      if (!titles.has(key)) titles.set(key, f.title)
  return [...titles.values()]
}

const NONE: readonly Finding[] = []

interface Known {
  /** Null before the first reading. */
  beam: readonly Finding[] | null
  heat: readonly Finding[]
  danger: readonly Finding[] | null
  missing: MissingState
}

/** What is missing first, then the beam's findings, then those of heat and power; those of a part that is missing are marked as its last known ones. */
export function joinFindings({ beam, heat, missing }: Omit<Known, 'danger'>): readonly Finding[] {
  const of = (findings: readonly Finding[] | null, part: MissingPart) =>
    missing[part] ? markOld(findings ?? NONE) : (findings ?? NONE)
  return [...missingFindings(missing), ...of(beam, 'beam'), ...of(heat, 'heat')]
}

/** All findings that are known, of whatever reading; the same one may be there twice. */
export function useKnownFindings(): readonly Finding[] {
  const beam = useResult((s) => s.sheet?.findings ?? null)
  const heat = usePower((s) => s.findings)
  const full = useDanger((s) => s.reading?.findings ?? null)
  const gone = useMissing(all)
  const known = bySeverity([
    ...joinFindings({ beam, heat, missing: gone }),
    ...(gone.danger ? markOld(full ?? NONE) : (full ?? NONE)),
  ])
  return shownFindings(known, useUnitSystem())
}

function severeOf({ beam, heat, danger, missing }: Known, system: UnitSystem): Severe {
  const joined = joinFindings({ beam, heat, missing })
  const isKnown = beam !== null || joined.length > 0
  return severeTitles([isKnown ? joined : null, danger && missing.danger ? markOld(danger) : danger], system)
}

export const currentSevere = (): Severe =>
  severeOf(
    {
      beam: result.getState().sheet?.findings ?? null,
      heat: power.getState().findings,
      danger: danger.getState().reading?.findings ?? null,
      missing: missing.getState(),
    },
    unitSystem(),
  )

export function useSevere(): Severe {
  const beam = useResult((s) => s.sheet?.findings ?? null)
  const heat = usePower((s) => s.findings)
  const full = useDanger((s) => s.reading?.findings ?? null)
  return severeOf({ beam, heat, danger: full, missing: useMissing(all) }, useUnitSystem())
}
const all = (s: MissingState) => s

/** Those of heat and power, in the builder's units. */
export function usePowerFindings(): readonly Finding[] {
  return shownFindings(
    usePower((s) => s.findings),
    useUnitSystem(),
  )
}
