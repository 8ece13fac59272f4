// What differs between two states of a document, as data that can be stored and applied forwards and backwards: the history of a lamp is kept
// as such changes. Own code, because packages for JSON patches (RFC 6902) keep no old values, and so can't be undone nor shown.

type Step = string | number

/** An entry that has another value; `from` or `to` is absent where there is none. Values are plain JSON. */
interface EntryChange {
  at: readonly Step[]
  from?: unknown
  to?: unknown
}

/** Rows of a list from `index` on: `removed` gave way to `added`. */
interface RowsChange {
  at: readonly Step[]
  index: number
  removed: readonly unknown[]
  added: readonly unknown[]
}

export type Change = EntryChange | RowsChange

type Entries = Record<string, unknown>

/** Applied in this order they make `to` out of `from`. What both share is not looked at, so that an edit costs what it has changed. */
export function changesBetween(from: unknown, to: unknown): Change[] {
  const found: Change[] = []
  walk(from, to, [])
  return found

  function walk(a: unknown, b: unknown, at: readonly Step[]): void {
    if (Object.is(a, b)) return
    if (Array.isArray(a) && Array.isArray(b)) walkRows(a, b, at)
    else if (isEntries(a) && isEntries(b)) walkEntries(a, b, at)
    else found.push({ at, from: a, to: b })
  }

  function walkEntries(a: Entries, b: Entries, at: readonly Step[]): void {
    for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) {
      const [had, has] = [isThere(a, key), isThere(b, key)]
      if (had && has) walk(a[key], b[key], [...at, key])
      else if (had) found.push({ at: [...at, key], from: a[key] })
      else if (has) found.push({ at: [...at, key], to: b[key] })
    }
  }

  function walkRows(a: readonly unknown[], b: readonly unknown[], at: readonly Step[]): void {
    if (a.length === b.length) {
      for (const [i, row] of a.entries()) walk(row, b[i], [...at, i])
      return
    }
    const least = Math.min(a.length, b.length)
    let index = 0
    while (index < least && isSame(a[index], b[index])) index++
    let end = 0
    while (end < least - index && isSame(a[a.length - 1 - end], b[b.length - 1 - end])) end++
    found.push({ at, index, removed: a.slice(index, a.length - end), added: b.slice(index, b.length - end) })
  }
}

export const isSame = (a: unknown, b: unknown): boolean => changesBetween(a, b).length === 0

/** An entry that stands there undefined is none: JSON has no such value. */
const isThere = (entries: Entries, key: string): boolean => Object.hasOwn(entries, key) && entries[key] !== undefined

const isEntries = (value: unknown): value is Entries =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** The same changes from `to` back to `from`. */
export const reversed = (changes: readonly Change[]): Change[] =>
  changes.map((c): Change => {
    if ('index' in c) return { ...c, removed: c.added, added: c.removed }
    return { at: c.at, ...('to' in c && { from: c.to }), ...('from' in c && { to: c.from }) }
  })

/** The changed document, which shares the rest with `value`; null where `value` is not what the changes were made from. */
export function withChanges(value: unknown, changes: readonly Change[]): { value: unknown } | null {
  let now = value
  for (const change of changes) {
    const next = changed(now, change.at, change)
    if (!next) return null
    now = next.value
  }
  return { value: now }
}

function changed(value: unknown, at: readonly Step[], change: Change): { value: unknown } | null {
  const [step, ...rest] = at
  if (step === undefined) return 'index' in change ? withRows(value, change) : replaced(value, change)
  if (Array.isArray(value) && typeof step === 'number') {
    const row = step < value.length ? changed(value[step], rest, change) : null
    return row && { value: value.with(step, row.value) }
  }
  if (!isEntries(value) || typeof step !== 'string') return null
  if (rest.length === 0 && !('index' in change)) return withEntry(value, step, change)
  const entry = isThere(value, step) ? changed(value[step], rest, change) : null
  return entry && { value: { ...value, [step]: entry.value } }
}

const replaced = (value: unknown, { from, to }: EntryChange) => (isSame(value, from) ? { value: to } : null)

function withEntry(value: Entries, key: string, change: EntryChange): { value: Entries } | null {
  const had = isThere(value, key)
  if (had !== 'from' in change || (had && !isSame(value[key], change.from))) return null
  if ('to' in change) return { value: { ...value, [key]: change.to } }
  const { [key]: _, ...others } = value
  return { value: others }
}

function withRows(value: unknown, { index, removed, added }: RowsChange): { value: unknown[] } | null {
  if (!Array.isArray(value) || !isSame(value.slice(index, index + removed.length), removed)) return null
  return { value: value.toSpliced(index, removed.length, ...added) }
}
