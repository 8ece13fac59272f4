// Brings what is in memory into the browser's storage. After a failure it is tried again from time to time; what another tab has written meanwhile
// is never overwritten.
import type { StoreApi } from 'zustand/vanilla'
import type { Lamp } from '../../lamp/schema.ts'
import { historyKey, type StoredHistory } from './history.ts'
import { type KeyValue, NoAnswer, type Timer, withinTime } from './keyValue.ts'
import { isRecord, recordKey, type StoredLamp } from './storedLamps.ts'

export interface StorageState {
  lamps: readonly StoredLamp[]
  openId: string
  /** The lamps of earlier visits have been read, or can't be for now. */
  ready: boolean
  /** While nothing is stored: why. */
  error: string | null
  /** What has become of a lamp, when that is not what one would expect; until it is closed. */
  notice: string | null
}

/** A call of the browser's storage that takes so long has failed: the page opens after it without the lamps of earlier visits. */
const LIMIT_MS = 3_000
const RETRY_MS = 15_000
export const OPEN_KEY = 'open'

function errorWords(error: unknown): string {
  const save = 'nothing is saved automatically. Save the lamp to a file.'
  if (error instanceof NoAnswer) return `This browser’s storage does not answer: ${save}`
  if (error instanceof Error && error.name === 'QuotaExceededError')
    return 'This browser’s storage is full: nothing more is saved automatically. Save the lamp to a file.'
  return `This browser keeps no data for this page: ${save}`
}

interface Hooks {
  /** The browser has everything. */
  allStored(): void
  /** Runs after all other work on the stored lamps. */
  enqueue(work: () => Promise<void>): void
  /** The lamps of earlier visits could not be read; tries again. */
  readAgain(): Promise<void>
  /** Another tab has stored a lamp that was changed here too. */
  keepBoth(ours: StoredLamp, theirs: StoredLamp): void
}

export function createSync(inner: KeyValue, store: StoreApi<StorageState>, after: Timer, hooks: Hooks) {
  /** States that the browser has not stored yet, by key. */
  const unwritten = new Map<string, Lamp>()
  /** Lamps with such states. */
  const unsynced = new Set<string>()
  const doomed = new Set<string>()
  /** Histories that the browser has not stored yet, by lamp. */
  const histories = new Map<string, StoredHistory>()
  /** Key of the newest state of each lamp that the browser has stored, as far as this tab knows. */
  const newestStored = new Map<string, string>()
  let openIsStored = true
  /** The lamps of earlier visits have not been read; until then nothing here may take their place. */
  let unread = false
  /** After a failure nothing is asked of the browser until the next try: each call could wait for the whole time limit. */
  let resting = false
  let retryIsDue = false

  /** The result, or null when the browser refuses or does not answer. */
  async function attempt<T>(work: () => Promise<T>): Promise<{ value: T } | null> {
    if (resting) return null
    try {
      return { value: await withinTime(work(), LIMIT_MS, after) }
    } catch (error) {
      resting = true
      if (store.getState().error === null) store.setState({ error: errorWords(error) })
      if (!retryIsDue) after(RETRY_MS, () => hooks.enqueue(retry))
      retryIsDue = true
      return null
    }
  }

  async function retry() {
    retryIsDue = false
    resting = false
    if (unread) await hooks.readAgain()
    if (!unread) await run()
  }

  /** Writes what is not stored yet; `now`: also when the last try has failed a moment ago. */
  async function run(now = false) {
    if (unread) return
    if (now) resting = false
    for (const id of unsynced) await write(id) // one that is stored under another id is added on the way
    if (doomed.size > 0) {
      const gone = [...doomed]
      if (await attempt(() => inner.delMany(gone))) for (const key of gone) doomed.delete(key)
    }
    if (!openIsStored && (await attempt(() => inner.setMany([[OPEN_KEY, store.getState().openId]]))))
      openIsStored = true
    if (resting) return
    if (store.getState().error !== null) store.setState({ error: null })
    if (unsynced.size === 0) hooks.allStored()
  }

  async function write(id: string) {
    const record = store.getState().lamps.find((l) => l.id === id)
    if (!record) return void unsynced.delete(id)
    const rows = record.states.flatMap(({ key }): [string, unknown][] => {
      const lamp = unwritten.get(key)
      return lamp ? [[key, lamp]] : []
    })
    const known = newestStored.get(id)
    /** Ours follows from what is there. A write that was given up for late may have been done after all. */
    const expects = (there: unknown) => {
      const newest = isRecord(there) ? there.states[0]?.key : known
      return newest === known || record.states.some(({ key }) => key === newest)
    }
    const { name, since, states } = record
    const history = histories.get(id)
    if (history) rows.push([historyKey(id), history])
    const row = { id, name, since, states }
    const outcome = await attempt(() => inner.setManyIf(recordKey(id), expects, [...rows, [recordKey(id), row]]))
    if (!outcome) return
    unsynced.delete(id)
    if (!outcome.value.written) return hooks.keepBoth(record, outcome.value.there as StoredLamp)
    for (const [key] of rows) unwritten.delete(key)
    if (histories.get(id) === history) histories.delete(id)
    const [newest] = states
    if (newest) newestStored.set(id, newest.key)
  }

  return {
    unwritten,
    unsynced,
    histories,
    doomed,
    newestStored,
    attempt,
    run,
    /** Another lamp is open. */
    openChanged() {
      openIsStored = false
    },
    isUnread: () => unread,
    setUnread(is: boolean) {
      unread = is
    },
  }
}

export type Sync = ReturnType<typeof createSync>
