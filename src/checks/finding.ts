// A finding: something the builder should know before cutting or lighting anything.

/** severe: it can burn, blind, or can't work. warning: it costs or misleads. note: worth knowing. */
export type Severity = 'severe' | 'warning' | 'note'

/** Where on the lamp a finding points; the views centre on it. */
export type Place =
  | { kind: 'board'; boardIndex: number }
  | { kind: 'emitter'; boardIndex: number; siteIndex: number }
  | { kind: 'part'; part: 'target' | 'emitters' | 'optics' | 'face' | 'tunnel' | 'lens' | 'heat' }
  | { kind: 'point'; xMm: number; yMm: number; zMm: number; on: 'lens' | 'wall' | 'face' | 'front' | 'inside' }

export interface Finding {
  /** Stable, kebab-case, one a rule; several findings may share it. */
  rule: string
  severity: Severity
  /** One line, with its numbers and units. */
  title: string
  /** Why it matters, and where the threshold comes from. */
  why: string
  /** What to do about it. */
  cure: string
  place: Place
}
