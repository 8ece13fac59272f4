// The lamps stored in this browser, each with its last twenty states. A lamp is stored a moment after each edit. Without persistent
// storage the lamps live in memory as long as the page, and `error` says so.
import { createStore } from 'zustand/vanilla'
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from './design.ts'
import { type KeyValue, withMemoryFallback } from './keyValue.ts'

export const MAX_STATES = 20
const WAIT_MS = 400

export interface StoredState {
  key: string
  /** Milliseconds since 1970. */
  at: number
  /** The edit that produced this state. */
  label: string
}

export interface StoredLamp {
  id: string
  name: string
  since: number
  /** Newest first. */
  states: readonly StoredState[]
}

export interface StorageState {
  lamps: readonly StoredLamp[]
  openId: string
  /** Set once, when the browser stores nothing. */
  error: string | null
}

export interface StorageOptions {
  now?: () => number
  waitMs?: number
  newId?: () => string
}

const recordKey = (id: string) => `lamp:${id}`
const stateKey = (id: string, n: string) => `state:${id}:${n}`
const OPEN_KEY = 'open'
let counter = 0
const freshId = () => `${Date.now().toString(36)}${(counter++).toString(36)}${Math.random().toString(36).slice(2, 8)}`

export function createStorage(inner: KeyValue, design: Design, options: StorageOptions = {}) {
  const now = options.now ?? Date.now
  const waitMs = options.waitMs ?? WAIT_MS
  const newId = options.newId ?? freshId
  const store = createStore<StorageState>()(() => ({ lamps: [], openId: '', error: null }))
  const kv = withMemoryFallback(inner, (why) => {
    if (store.getState().error === null) store.setState({ error: why })
  })
  let stored: Lamp | null = null // the open lamp as it was last stored
  let timer: ReturnType<typeof setTimeout> | undefined
  let queue: Promise<unknown> = Promise.resolve()
  const enqueue = <T>(work: () => Promise<T>): Promise<T> => {
    const next = queue.then(work)
    queue = next.catch(() => {})
    return next
  }
  const find = (id: string) => store.getState().lamps.find((l) => l.id === id)

  async function push(id: string, lamp: Lamp, label: string) {
    const old = find(id)
    const at = now()
    const states = [{ key: stateKey(id, newId()), at, label }, ...(old?.states ?? [])]
    const record: StoredLamp = { id, name: lamp.name, since: old?.since ?? at, states: states.slice(0, MAX_STATES) }
    const lamps = store.getState().lamps
    store.setState({ lamps: old ? lamps.map((l) => (l.id === id ? record : l)) : [...lamps, record] })
    await kv.setMany([
      [states[0]!.key, lamp],
      [recordKey(id), record],
    ])
    const dropped = states.slice(MAX_STATES).map((s) => s.key)
    if (dropped.length > 0) await kv.delMany(dropped)
  }

  async function lampOf(key: string): Promise<Lamp | null> {
    const [json] = await kv.getMany([key])
    const read = readLamp(json)
    return read.ok ? read.lamp : null
  }

  /** The newest state of a lamp that is still valid. */
  async function newest(id: string): Promise<Lamp | null> {
    for (const state of find(id)?.states ?? []) {
      const lamp = await lampOf(state.key)
      if (lamp) return lamp
    }
    return null
  }

  function show(id: string, lamp: Lamp) {
    stored = lamp
    store.setState({ openId: id })
    design.open(lamp)
    return kv.setMany([[OPEN_KEY, id]])
  }

  function flush(): Promise<void> {
    clearTimeout(timer)
    const { lamp, label } = design.store.getState()
    const { openId } = store.getState()
    if (openId === '' || lamp === stored || !design.store.temporal.getState().isTracking) return queue.then(() => {})
    stored = lamp
    return enqueue(() => push(openId, lamp, label))
  }

  async function addLamp(lamp: Lamp, label: string) {
    const id = newId()
    await push(id, lamp, label)
    await show(id, lamp)
  }

  design.store.subscribe(() => {
    if (store.getState().openId === '') return
    clearTimeout(timer)
    timer = setTimeout(flush, waitMs)
  })

  return {
    store,
    /** Restores the stored lamps and opens the one that was open last. */
    start: (first: () => Lamp) =>
      enqueue(async () => {
        const keys = (await kv.keys()).filter((k) => k.startsWith('lamp:'))
        const records = (await kv.getMany(keys)).filter(isRecord).sort((a, b) => a.since - b.since)
        store.setState({ lamps: records })
        const [last] = await kv.getMany([OPEN_KEY])
        const inOrder = [...records.filter((r) => r.id === last), ...records.filter((r) => r.id !== last)]
        for (const record of inOrder) {
          const lamp = await newest(record.id)
          if (lamp) return show(record.id, lamp)
        }
        return addLamp(first(), 'New')
      }),
    /** A stored lamp, without opening it; null when it can't be read back. */
    peek: (id: string) => enqueue(() => newest(id)),
    /** Stores the open lamp at once; resolves when every write so far is done. */
    flush,
    /** Stores a lamp from a file or an example and opens it. */
    async add(lamp: Lamp, label: string) {
      await flush()
      await enqueue(() => addLamp(lamp, label))
    },
    async switchTo(id: string) {
      if (id === store.getState().openId) return
      await flush()
      await enqueue(async () => {
        const lamp = await newest(id)
        if (lamp) await show(id, lamp)
        else store.setState({ error: 'That lamp could not be read back from this browser’s storage.' })
      })
    },
    async duplicate(id: string) {
      await flush()
      await enqueue(async () => {
        const lamp = await newest(id)
        if (lamp) await addLamp({ ...lamp, name: copyName(lamp.name, store.getState().lamps) }, 'Copy')
      })
    },
    async rename(id: string, name: string) {
      if (id === store.getState().openId) return design.edit('Name of the lamp', (lamp) => ({ ...lamp, name }))
      await enqueue(async () => {
        const lamp = await newest(id)
        if (lamp) await push(id, { ...lamp, name }, 'Name of the lamp')
      })
    },
    /** Deletes a lamp for good; the last one is replaced by `instead`. */
    async remove(id: string, instead: () => Lamp) {
      await flush()
      await enqueue(async () => {
        const { lamps, openId } = store.getState()
        const gone = find(id)
        if (!gone) return
        const rest = lamps.filter((l) => l.id !== id)
        store.setState({ lamps: rest })
        await kv.delMany([recordKey(id), ...gone.states.map((s) => s.key)])
        if (openId !== id) return
        const at = lamps.indexOf(gone)
        for (const next of [...rest.slice(at), ...rest.slice(0, at).reverse()]) {
          const lamp = await newest(next.id)
          if (lamp) return show(next.id, lamp)
        }
        await addLamp(instead(), 'New')
      })
    },
    /** Restores an earlier state of the open lamp as an edit, so that it can be undone. */
    async goBack(state: StoredState) {
      await flush()
      const lamp = await lampOf(state.key)
      if (lamp) design.edit(`Back to “${state.label}”`, () => lamp)
      else store.setState({ error: 'That state could not be read back from this browser’s storage.' })
    },
  }
}

function isRecord(value: unknown): value is StoredLamp {
  const v = value as StoredLamp | null | undefined
  return (
    typeof v?.id === 'string' &&
    typeof v.name === 'string' &&
    typeof v.since === 'number' &&
    Array.isArray(v.states) &&
    v.states.every((s) => typeof s?.key === 'string' && typeof s.at === 'number' && typeof s.label === 'string')
  )
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
