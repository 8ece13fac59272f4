// Heat and power of the open lamp, and what of them is shown. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { Finding } from '../../checks/finding.ts'
import type { ModeRun, PowerReport } from '../../electrothermal/result.ts'

export type PowerPage = 'modes' | 'wiring' | 'list'

export interface PowerState {
  open: boolean
  page: PowerPage
  /** Null until the first run. Stays, marked stale, while an edit is being run. */
  report: PowerReport | null
  findings: readonly Finding[]
  stale: boolean
  /** In plain words, when the run failed; empty otherwise. */
  why: string
  /** Id of the mode shown; null: the one that the light is traced with, else the first. */
  mode: string | null
  /** The moment shown, s; null: the mode's end. */
  atS: number | null
  /** What the plate's colours span: the plate at the moment, or the whole run. */
  scale: 'moment' | 'run'
  /** What happened last, for screen readers. */
  announcement: string
}

export const createPower = () =>
  createStore<PowerState>()(() => ({
    open: false,
    page: 'modes',
    report: null,
    findings: [],
    stale: false,
    why: '',
    mode: null,
    atS: null,
    scale: 'moment',
    announcement: '',
  }))

export type PowerStore = ReturnType<typeof createPower>
export const power = createPower()

export const usePower = <T>(pick: (s: PowerState) => T): T => useStore(power, pick)

export function shownRun({ report, mode }: Pick<PowerState, 'report' | 'mode'>): ModeRun | null {
  return report?.modes.find((m) => m.id === mode) ?? report?.modes[0] ?? null
}

/** The moment shown, within the run. */
export function shownMoment({ curves }: ModeRun, atS: number | null): number {
  const endS = curves.tS[curves.tS.length - 1]!
  return atS === null ? endS : Math.min(atS, endS)
}
