// Which findings are the same one, though their numbers, and so their words, differ from reading to reading.
import type { Finding, Place } from '../../checks/finding.ts'

const placeKey = (place: Place): string => {
  if (place.kind === 'board') return `board ${place.boardIndex}`
  if (place.kind === 'emitter') return `emitter ${place.boardIndex} ${place.siteIndex}`
  return place.kind === 'part' ? place.part : place.on
}

type Known = Pick<Finding, 'rule' | 'place'>

/** Each with a key that the same finding has in another reading: rule, place, and its number where a reading has several of those. */
export function keyed<F extends Known>(findings: readonly F[]): [key: string, finding: F][] {
  const seen = new Map<string, number>()
  return findings.map((f) => {
    const key = `${f.rule} ${placeKey(f.place)}`
    const n = seen.get(key) ?? 0
    seen.set(key, n + 1)
    return [`${key} ${n}`, f]
  })
}

const STILL =
  'Found before the last edit. The first, quick look at this lamp does not show it; the whole look has yet to say that it is gone.'

/** A first look's findings, and the severe ones of the reading before that it doesn't show: only a whole reading may take those away. */
export function keepSevere(before: readonly Finding[], firstSheet: readonly Finding[]): Finding[] {
  const shown = new Set(keyed(firstSheet.filter((f) => f.severity === 'severe')).map(([key]) => key))
  const unconfirmed = keyed(before.filter((f) => f.severity === 'severe')).flatMap(([key, f]) =>
    shown.has(key) ? [] : [{ ...f, title: unsure(f.title), why: STILL }],
  )
  return [...firstSheet, ...unconfirmed]
}

const UNSURE = 'Perhaps still: '
const unsure = (title: string) => (title.startsWith(UNSURE) ? title : UNSURE + title)
