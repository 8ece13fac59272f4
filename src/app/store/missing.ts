// Which parts of the results are missing and why: their worker has ended, or the computation of this lamp has failed. A part that is missing is
// a severe finding of its own wherever findings are shown, counted, saved and printed: silence there would read as "nothing found".
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { Finding } from '../../checks/finding.ts'
import type { Trouble } from '../../job/service/restarting.ts'

interface Part {
  rule: string
  name: string
  /** What nobody has looked for meanwhile. */
  unknown: string
  place: Finding['place']
}

const PARTS = {
  beam: {
    rule: 'beam-not-computed',
    name: 'Beam',
    unknown: 'no hot spot, no distance to keep clear, nothing of the eyes or of the sun inside',
    place: { kind: 'part', part: 'emitters' },
  },
  heat: {
    rule: 'heat-not-computed',
    name: 'Heat and power',
    unknown: 'no hot junction or plastic, no wire, fuse, driver or pack beyond its limit',
    place: { kind: 'part', part: 'heat' },
  },
  danger: {
    rule: 'danger-not-computed',
    name: 'Dangers in full',
    unknown: 'no hot place in the air before the lamp, no sun from a side, no risk to eyes beyond the beam sheet’s',
    place: { kind: 'part', part: 'target' },
  },
} as const satisfies Record<string, Part>

export type MissingPart = keyof typeof PARTS

interface Missing extends Trouble {
  /** Tries again at once. */
  again(): void
}
export type MissingState = Record<MissingPart, Missing | null>

export const createMissing = () => createStore<MissingState>()(() => ({ beam: null, heat: null, danger: null }))
export type MissingStore = ReturnType<typeof createMissing>
export const missing = createMissing()
export const useMissing = <T>(pick: (s: MissingState) => T): T => useStore(missing, pick)

/** `again` is called for "Try again"; the part stays missing until it is there. */
export function setMissing(
  store: MissingStore,
  part: MissingPart,
  { why, restarts }: Trouble,
  again: () => void,
): void {
  const retry = () => {
    store.setState({ [part]: { why: sentence(why), restarts: true, again: retry } })
    again()
  }
  store.setState({ [part]: { why: sentence(why), restarts, again: retry } })
}

export function clearMissing(store: MissingStore, part: MissingPart): void {
  if (store.getState()[part]) store.setState({ [part]: null })
}

/** Why, and what happens next. */
export const missingSentence = ({ why, restarts }: Trouble): string =>
  restarts ? `${why} It is being tried again.` : why

const sentence = (why: string): string => {
  const text = why.trim() || 'No reason was given'
  return /[.!?…]$/.test(text) ? text : `${text}.`
}

const NONE: readonly Finding[] = []
const PART_NAMES = Object.keys(PARTS) as MissingPart[]

/** A severe finding for each part that is missing. */
export function missingFindings(state: MissingState): readonly Finding[] {
  const found = PART_NAMES.flatMap((part): Finding[] => {
    const there = state[part]
    if (!there) return []
    const { rule, name, unknown, place } = PARTS[part]
    return [
      {
        rule,
        severity: 'severe',
        title: `${name}: not computed. ${there.why}`,
        why: `Nobody has looked for these dangers: ${unknown}, is a finding only once this has been computed. Findings that say “Perhaps still” are of its last run.`,
        cure: there.restarts
          ? 'Wait: it is being tried again by itself.'
          : 'Press “Try again”, or change the lamp. If it fails again, save the lamp to a file and load the page anew.',
        place,
      },
    ]
  })
  return found.length > 0 ? found : NONE
}

/** The part that such a finding stands for; null for every other finding. */
export const missingPartOf = ({ rule }: Pick<Finding, 'rule'>): MissingPart | null =>
  PART_NAMES.find((part) => PARTS[part].rule === rule) ?? null
