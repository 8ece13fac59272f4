// A finding: something the user should know before building or switching on the lamp.
import { allInSystem, hasBoth } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'

/** severe: it can burn or blind, or it can't work. warning: it costs performance or misleads. note: worth knowing. */
export type Severity = 'severe' | 'warning' | 'note'

/** The place of a finding on the lamp; the views centre on it. */
export type Place =
  | { kind: 'board'; boardIndex: number }
  | { kind: 'emitter'; boardIndex: number; siteIndex: number }
  /** `of`: of several lenses, covers and films the one by its label (`labelOf`). */
  | { kind: 'part'; part: 'target' | 'emitters' | 'optics' | 'face' | 'tunnel' | 'lens' | 'heat'; of?: string }
  | {
      kind: 'point'
      xMm: number
      yMm: number
      zMm: number
      on: 'lens' | 'wall' | 'face' | 'front' | 'inside'
      /** On `lens`: the label of the piece, where it isn't the one that the map of the lens is of. */
      of?: string
    }

type Sentences = Pick<Finding, 'title' | 'why' | 'cure'>

export interface Finding {
  /** Id of the rule: stable, kebab-case; several findings may share it. */
  rule: string
  severity: Severity
  /** One line, with numbers and units. */
  title: string
  /** Why it matters, and the source of the threshold. */
  why: string
  /** What to do about it. */
  cure: string
  /** These three with their quantities in both systems of units (`inEither`); absent where they read alike. Never shown as they are. */
  inBoth?: Sentences
  place: Place
  /** Parts of the wiring list that it is about, by `partOf`: each list that names one of them shows the finding beside it. */
  parts?: readonly string[]
}

/** What a wiring list names: wires and fuses by their run, drivers by their id, boards by their channel, relays by their group. */
export type WiredPart =
  | { kind: 'wire' | 'fuse' | 'driver' | 'board'; id: string }
  | { kind: 'relay'; id: string }
  | { kind: 'contactor' | 'supply' | 'contacts' }

/** The part as one word for `Finding.parts`. */
export const partOf = (part: WiredPart): string => ('id' in part ? `${part.kind} ${part.id}` : part.kind)

const RANK: Record<Severity, number> = { severe: 0, warning: 1, note: 2 }

/** Of the rule that no figure is to be trusted. */
export const ENDS_DISAGREE = 'ends-disagree'
const rankOf = ({ rule, severity }: Finding): number => (rule === ENDS_DISAGREE ? -1 : RANK[severity])

/** A rule's finding as it is stored and exchanged: its sentences are metric, and those in both systems stand beside them. */
export function inMetric(found: Finding): Finding {
  const { title, why, cure } = found
  if (![title, why, cure].some(hasBoth)) return found
  return { ...found, ...allInSystem({ title, why, cure }, 'metric'), inBoth: { title, why, cure } }
}

/** The findings as a reader sees them: their sentences in one system of units, and nothing beside them. */
export const findingsIn = <F extends { inBoth?: object }>(
  findings: readonly F[],
  system: UnitSystem,
): Omit<F, 'inBoth'>[] => findings.map(({ inBoth, ...found }) => ({ ...found, ...allInSystem(inBoth, system) }))

/** Sorts severe findings first, before them that no figure is to be trusted; otherwise the order of the rules stays. */
export const bySeverity = (findings: readonly Finding[]): Finding[] =>
  [...findings].sort((a, b) => rankOf(a) - rankOf(b))
