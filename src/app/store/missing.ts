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
    unknown: 'hot spots, distances to keep clear, harm to eyes, the sun inside',
    place: { kind: 'part', part: 'emitters' },
  },
  heat: {
    rule: 'heat-not-computed',
    name: 'Heat and power',
    unknown: 'hot junctions and plastics, surfaces that burn, wires, fuses, drivers and a pack beyond their limits',
    place: { kind: 'part', part: 'heat' },
  },
  danger: {
    rule: 'danger-not-computed',
    name: 'Dangers in full',
    unknown:
      'hot places in the air before the lamp, the sun from every side, things in the way, eyes at every distance',
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
  { why, restarts, ofLamp = false }: Trouble,
  again: () => void,
): void {
  const retry = () => {
    store.setState({ [part]: { why: sentence(why), restarts: true, ofLamp: false, again: retry } })
    again()
  }
  store.setState({ [part]: { why: sentence(why), restarts, ofLamp, again: retry } })
}

export function clearMissing(store: MissingStore, part: MissingPart): void {
  if (store.getState()[part]) store.setState({ [part]: null })
}

/** Whether trying again may help: nothing does so by itself, and it isn't the lamp that can't be traced. */
export const mayTryAgain = (there: Pick<Trouble, 'restarts' | 'ofLamp'> | null): boolean =>
  there !== null && !there.restarts && !there.ofLamp

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
        why: `Not looked for meanwhile: ${unknown}. That none is listed does not mean that there is none. What says “Perhaps still” was found by the last run.`,
        cure: there.restarts
          ? 'Wait: it is tried again automatically.'
          : there.ofLamp
            ? 'Change the lamp: to try again gives the same.'
            : 'Press “Try again”. If it fails again, change the lamp, or save it to a file and load the page anew.',
        place,
      },
    ]
  })
  return found.length > 0 ? found : NONE
}

/** The part that such a finding stands for; null for every other finding. */
export const missingPartOf = ({ rule }: Pick<Finding, 'rule'>): MissingPart | null =>
  PART_NAMES.find((part) => PARTS[part].rule === rule) ?? null
