// What stands in the browser's storage for each lamp: a record that lists its states, and each state by itself.

export interface StoredState {
  key: string
  /** Milliseconds since 1970. */
  at: number
  /** The edit that produced this state. */
  label: string
  /** What it has changed, as "600 → 620 mm"; absent where that is more than a few numbers. */
  values?: string
}

export interface StoredLamp {
  id: string
  name: string
  since: number
  /** Newest first. */
  states: readonly StoredState[]
  /** Its record was damaged or gone, and has been made anew from its states. */
  foundAgain?: true
}

export const recordKey = (id: string) => `lamp:${id}`
export const stateKey = (id: string, n: string) => `state:${id}:${n}`

export function isRecord(value: unknown): value is StoredLamp {
  const v = value as StoredLamp | null | undefined
  return (
    typeof v?.id === 'string' &&
    typeof v.name === 'string' &&
    typeof v.since === 'number' &&
    Array.isArray(v.states) &&
    v.states.every(
      (s) =>
        typeof s?.key === 'string' &&
        typeof s.at === 'number' &&
        typeof s.label === 'string' &&
        typeof (s.values ?? '') === 'string',
    )
  )
}

/** All records, oldest first. A lamp whose record can't be used is made anew from its states: their keys say whose they are and in which order. */
export function recordsFound(keys: readonly string[], records: readonly unknown[], now: number): StoredLamp[] {
  const valid = records.filter(isRecord)
  const known = new Set(valid.map(({ id }) => id))
  const lost = new Map<string, string[]>()
  for (const key of keys) {
    const [kind, id, n] = key.split(':')
    if (kind !== 'state' || !id || !n || known.has(id)) continue
    lost.set(id, [...(lost.get(id) ?? []), key])
  }
  const found = [...lost].map(([id, states]): StoredLamp => {
    // A key begins with the time of its state, so that keys of one lamp sort by age.
    const newestFirst = states.sort().reverse()
    return {
      id,
      name: 'Recovered',
      since: now,
      states: newestFirst.map((key) => ({ key, at: now, label: 'Recovered' })),
      foundAgain: true,
    }
  })
  return [...valid, ...found].sort((a, b) => a.since - b.since)
}

/** "Gannet Head" → "Gannet Head, copy" → "Gannet Head, copy 2". */
export function copyName(name: string, lamps: readonly { name: string }[]): string {
  const stem = name.replace(/, copy(?: \d+)?$/, '').slice(0, 100)
  const taken = new Set(lamps.map((l) => l.name))
  for (let n = 1; ; n++) {
    const tried = n === 1 ? `${stem}, copy` : `${stem}, copy ${n}`
    if (!taken.has(tried)) return tried
  }
}
