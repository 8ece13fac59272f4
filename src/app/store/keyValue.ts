// The key-value store under storage.ts: IndexedDB where there is one, otherwise the page's memory.
import { createStore, delMany, getMany, keys, setMany } from 'idb-keyval'

export interface KeyValue {
  keys(): Promise<string[]>
  getMany(keys: string[]): Promise<unknown[]>
  setMany(rows: [string, unknown][]): Promise<void>
  delMany(keys: string[]): Promise<void>
  /**
   * Writes all rows, unless what stands at `key` is not what the caller `expects`: then nothing is written, and that value is given back. In one
   * transaction, so that no other tab can come between.
   */
  setManyIf(key: string, expects: (there: unknown) => boolean, rows: [string, unknown][]): Promise<SetIf>
}

type SetIf = { written: true } | { written: false; there: unknown }

export function memoryKeyValue(rows = new Map<string, unknown>()): KeyValue {
  const setMany = async (more: [string, unknown][]) => {
    for (const [k, v] of more) rows.set(k, v)
  }
  return {
    keys: async () => [...rows.keys()],
    getMany: async (wanted) => wanted.map((k) => rows.get(k)),
    setMany,
    delMany: async (deleted) => {
      for (const k of deleted) rows.delete(k)
    },
    async setManyIf(key, expects, more) {
      const there = rows.get(key)
      if (!expects(there)) return { written: false, there }
      await setMany(more)
      return { written: true }
    },
  }
}

/**
 * IndexedDB, opened at the first call; the promise rejects where the browser has none. The lamps are in the database and object store of these
 * names: in browsers that hold some they would be gone under others.
 */
export function browserKeyValue(database = 'lampwright', of = 'drawer'): KeyValue {
  let opened: ReturnType<typeof createStore> | undefined
  const open = () => {
    if (typeof indexedDB === 'undefined') throw new Error('no IndexedDB')
    // The names of the database and of the store in it that hold the lamps of earlier visits must not change.
    opened ??= createStore(database, of)
    return opened
  }
  return {
    keys: async () => (await keys(open())).filter((k): k is string => typeof k === 'string'),
    getMany: async (wanted) => getMany(wanted, open()),
    setMany: async (rows) => setMany(rows, open()),
    delMany: async (deleted) => delMany(deleted, open()),
    setManyIf: async (key, expects, rows) =>
      open()('readwrite', (store) => {
        const { transaction } = store
        return new Promise<SetIf>((done, fail) => {
          let outcome: SetIf = { written: true }
          const read = store.get(key)
          read.onsuccess = () => {
            if (expects(read.result)) for (const [k, v] of rows) store.put(v, k)
            else outcome = { written: false, there: read.result }
          }
          transaction.oncomplete = () => done(outcome)
          transaction.onabort = transaction.onerror = () => fail(transaction.error)
        })
      }),
  }
}

/** Runs after so many ms unless it is cancelled. */
export type Timer = (ms: number, run: () => void) => () => void

export const pageTimer: Timer = (ms, run) => {
  const timer = setTimeout(run, ms)
  return () => clearTimeout(timer)
}

/** A database that is blocked by another tab, or on a disk that hangs, answers neither yes nor no. */
export class NoAnswer extends Error {}

/** Rejects with `NoAnswer` after `limitMs`; what comes later counts for nothing. */
export function withinTime<T>(work: Promise<T>, limitMs: number, after: Timer): Promise<T> {
  return new Promise((done, fail) => {
    const cancel = after(limitMs, () => fail(new NoAnswer()))
    const settle =
      <V>(take: (value: V) => void) =>
      (value: V) => {
        cancel()
        take(value)
      }
    work.then(settle(done), settle(fail))
  })
}
