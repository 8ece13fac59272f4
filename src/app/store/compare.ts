// The comparison: lamps side by side, the open one first. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { useShallow } from 'zustand/react/shallow'
import { createStore } from 'zustand/vanilla'
import type { ColumnSoFar } from '../../job/compare/result.ts'
import type { DangerStage } from '../../job/danger/result.ts'
import type { Lamp } from '../../lamp/schema.ts'

export interface ComparedLamp {
  /** Never changes while it stands there. */
  key: string
  /** The lamp's name. */
  name: string
  /** Where it comes from: "on the sheet", "earlier: …". */
  from: string
  lamp: Lamp
  /** Null: nothing of it is read yet. */
  read: ColumnSoFar | null
  /** waiting: for a worker, before each step of the reading. */
  state: 'waiting' | 'reading' | 'done' | 'failed'
  /** Of the dangers that are being read: the stage, and how far it is, 0 to 1. */
  stage: { name: DangerStage; share: number } | null
  why: string
}

export type ComparePane = 'light' | 'night' | 'dangers' | 'heat' | 'parts'

export interface CompareState {
  open: boolean
  pane: ComparePane
  /** Over the columns beside the view, too. */
  wide: boolean
  /** The open lamp first; empty until the panel first opens. */
  lamps: readonly ComparedLamp[]
  profile: 'cd' | 'share'
  /** What happened last, also for screen readers. */
  announcement: string
  /** It says why a lamp was not added. */
  refused: boolean
}

const createCompare = () =>
  createStore<CompareState>()(() => ({
    open: false,
    pane: 'light',
    wide: false,
    lamps: [],
    profile: 'cd',
    announcement: '',
    refused: false,
  }))

export type Compare = ReturnType<typeof createCompare>
export const compare = createCompare()

/** What comes next in the reading of a lamp; null: all is there. */
export type CompareStep = 'light' | 'heat' | 'rough' | 'whole'
const STEPS: readonly CompareStep[] = ['light', 'heat', 'rough', 'whole']
export function nextStep({ read }: Pick<ComparedLamp, 'read'>): CompareStep | null {
  if (!read) return 'light'
  if (!read.heat) return 'heat'
  if (!read.danger) return 'rough'
  return read.danger.rough ? 'whole' : null
}

/** The lamp that waits with the fewest steps done: all have light before the first has dangers. */
export function nextLamp(lamps: readonly ComparedLamp[]): ComparedLamp | undefined {
  const rank = (l: ComparedLamp) => STEPS.indexOf(nextStep(l) ?? 'whole')
  return lamps.filter((l) => l.state === 'waiting').toSorted((a, b) => rank(a) - rank(b))[0]
}

export const useCompare = <T>(pick: (s: CompareState) => T): T => useStore(compare, pick)

/** What is read of each lamp: it changes less often than the stage of a reading. */
export const useReads = (): (ColumnSoFar | null)[] => useCompare(useShallow((s) => s.lamps.map((l) => l.read)))
