// The key-value store under storage.ts: IndexedDB where there is one, otherwise the page's memory.
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
    delMany: async (deleted) => {
      for (const k of deleted) rows.delete(k)
    },
  }
}

/** IndexedDB, opened at the first call; the promise rejects where the browser has none. */
export function browserKeyValue(): KeyValue {
  let opened: ReturnType<typeof createStore> | undefined
  const open = () => {
    if (typeof indexedDB === 'undefined') throw new Error('no IndexedDB')
    // The name of the database that holds the lamps of earlier visits: it must not change.
    opened ??= createStore('lampwright', 'drawer')
    return opened
  }
  return {
    keys: async () => (await keys(open())).filter((k): k is string => typeof k === 'string'),
    getMany: async (wanted) => getMany(wanted, open()),
    setMany: async (rows) => setMany(rows, open()),
    delMany: async (deleted) => delMany(deleted, open()),
  }
}

/** Never throws: what can't be written stays in memory as long as the page lives, and `onError` gets the reason. */
export function withMemoryFallback(inner: KeyValue, onError: (why: string) => void): KeyValue {
  const memory = new Map<string, unknown>()
  const deleted = new Set<string>()
  const attempt = async <T>(work: () => Promise<T>, otherwise: T): Promise<T> => {
    try {
      return await work()
    } catch (error) {
      const full = error instanceof Error && error.name === 'QuotaExceededError'
      onError(
        full
          ? 'This browser’s storage is full: nothing more is kept by itself. Save the lamp to a file.'
          : 'This browser keeps no data for this page: nothing is kept by itself. Save the lamp to a file.',
      )
      return otherwise
    }
  }
  return {
    keys: async () => {
      const all = new Set([...(await attempt(() => inner.keys(), [])), ...memory.keys()])
      return [...all].filter((k) => !deleted.has(k))
    },
    getMany: async (wanted) => {
      const missing = wanted.filter((k) => !memory.has(k) && !deleted.has(k))
      const found = missing.length > 0 ? await attempt(() => inner.getMany(missing), []) : []
      return wanted.map((k) => (memory.has(k) ? memory.get(k) : found[missing.indexOf(k)]))
    },
    setMany: async (rows) => {
      for (const [k, v] of rows) {
        memory.set(k, v)
        deleted.delete(k)
      }
      await attempt(() => inner.setMany(rows), undefined)
    },
    delMany: async (keysGone) => {
      for (const k of keysGone) {
        memory.delete(k)
        deleted.add(k)
      }
      await attempt(() => inner.delMany(keysGone), undefined)
    },
  }
}
