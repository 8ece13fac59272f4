// Identifies the same finding in two readings, although its numbers, and so its wording, differ.
import type { Finding, Place } from '../../checks/finding.ts'

const placeKey = (place: Place): string => {
  if (place.kind === 'board') return `board ${place.boardIndex}`
  if (place.kind === 'emitter') return `emitter ${place.boardIndex} ${place.siteIndex}`
  return `${place.kind === 'part' ? place.part : place.on} ${place.of ?? ''}`
}

type Known = Pick<Finding, 'rule' | 'place'>

/** Adds a key that the same finding has in every reading: rule, place, and an index where a reading has several of them. */
export function withKeys<F extends Known>(findings: readonly F[]): [key: string, finding: F][] {
  const seen = new Map<string, number>()
  return findings.map((f) => {
    const key = `${f.rule} ${placeKey(f.place)}`
    const n = seen.get(key) ?? 0
    seen.set(key, n + 1)
    return [`${key} ${n}`, f]
  })
}

const STILL =
  'An earlier trace found it, perhaps before the last edit. The newest one has not ended and does not show it. Only a settled sheet can say that it is gone.'

type Sentences = Pick<Finding, 'title' | 'why' | 'cure'>

/** The finding with its sentences changed, those in both systems of units too. */
const reworded = (f: Finding, change: (s: Sentences) => Partial<Sentences>): Finding => ({
  ...f,
  ...change(f),
  ...(f.inBoth && { inBoth: { ...f.inBoth, ...change(f.inBoth) } }),
})

/** The findings of a sheet that hasn't settled, and the severe ones of the sheet before that it lacks: only a whole reading may remove those. */
export function keepSevere(before: readonly Finding[], unsettled: readonly Finding[]): Finding[] {
  const shown = new Set(withKeys(unsettled.filter((f) => f.severity === 'severe')).map(([key]) => key))
  const unconfirmed = withKeys(before.filter((f) => f.severity === 'severe')).flatMap(([key, f]) =>
    shown.has(key) ? [] : [reworded(f, ({ title }) => ({ title: unsure(title), why: STILL }))],
  )
  return [...unsettled, ...unconfirmed]
}

const LAST_RUN = 'Found by the last run that came to its end; the one since then has not.'

/** The findings of a run that is no longer the newest, marked as such. */
export const markOld = (findings: readonly Finding[]): Finding[] =>
  findings.map((f) =>
    reworded(f, ({ title, why }) => ({
      title: unsure(title),
      why: title.startsWith(UNSURE) ? why : `${LAST_RUN} ${why}`,
    })),
  )

const UNSURE = 'Perhaps still: '
const unsure = (title: string) => (title.startsWith(UNSURE) ? title : UNSURE + title)
