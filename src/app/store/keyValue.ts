// Where the drawer keeps its things: IndexedDB when there is one, this page's memory when there isn't.
import { createStore, delMany, getMany, keys, setMany } from 'idb-keyval'

export interface KeyValue {
  keys(): Promise<string[]>
  getMany(keys: string[]): Promise<unknown[]>
  setMany(rows: [string, unknown][]): Promise<void>
  delMany(keys: string[]): Promise<void>
}

export function memoryKeyValue(rows = new Map<string, unknown>()): KeyValue {
  return {
    keys: async () => [...rows.keys()],
    getMany: async (wanted) => wanted.map((k) => rows.get(k)),
    setMany: async (more) => {
      for (const [k, v] of more) rows.set(k, v)
    },
    delMany: async (gone) => {
      for (const k of gone) rows.delete(k)
    },
  }
}

/** IndexedDB, opened when first asked for; throws (in a promise) where the browser has none. */
export function browserKeyValue(): KeyValue {
  let opened: ReturnType<typeof createStore> | undefined
  const open = () => {
    if (typeof indexedDB === 'undefined') throw new Error('no IndexedDB')
    opened ??= createStore('lampwright', 'drawer')
    return opened
  }
  return {
    keys: async () => (await keys(open())).filter((k): k is string => typeof k === 'string'),
    getMany: async (wanted) => getMany(wanted, open()),
    setMany: async (rows) => setMany(rows, open()),
    delMany: async (gone) => delMany(gone, open()),
  }
}

/** Never throws: what can't be written stays in memory for as long as the page lives, and `onTrouble` hears why. */
export function sturdy(inner: KeyValue, onTrouble: (why: string) => void): KeyValue {
  const memory = new Map<string, unknown>()
  const gone = new Set<string>()
  const tried = async <T>(work: () => Promise<T>, otherwise: T): Promise<T> => {
    try {
      return await work()
    } catch (error) {
      const full = error instanceof Error && error.name === 'QuotaExceededError'
      onTrouble(
        full
          ? 'This browser’s storage is full: nothing more is kept by itself. Save the lamp to a file.'
          : 'This browser keeps no data for this page: nothing is kept by itself. Save the lamp to a file.',
      )
      return otherwise
    }
  }
  return {
    keys: async () => {
      const all = new Set([...(await tried(() => inner.keys(), [])), ...memory.keys()])
      return [...all].filter((k) => !gone.has(k))
    },
    getMany: async (wanted) => {
      const missing = wanted.filter((k) => !memory.has(k) && !gone.has(k))
      const found = missing.length > 0 ? await tried(() => inner.getMany(missing), []) : []
      return wanted.map((k) => (memory.has(k) ? memory.get(k) : found[missing.indexOf(k)]))
    },
    setMany: async (rows) => {
      for (const [k, v] of rows) {
        memory.set(k, v)
        gone.delete(k)
      }
      await tried(() => inner.setMany(rows), undefined)
    },
    delMany: async (keysGone) => {
      for (const k of keysGone) {
        memory.delete(k)
        gone.add(k)
      }
      await tried(() => inner.delMany(keysGone), undefined)
    },
  }
}
