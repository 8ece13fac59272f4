// The drawer: every lamp kept in this browser, each with its last twenty states. Kept by itself a moment after each edit.
// A browser that keeps nothing costs nothing but a sentence: the drawer then lives as long as the page.
import { createStore } from 'zustand/vanilla'
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from './design.ts'
import { type KeyValue, sturdy } from './keyValue.ts'

export const STATES_KEPT = 20
const WAIT_MS = 400

export interface KeptState {
  key: string
  /** Milliseconds since 1970. */
  at: number
  /** The edit that led there. */
  label: string
}

export interface KeptLamp {
  id: string
  name: string
  since: number
  /** Newest first. */
  states: readonly KeptState[]
}

export interface DrawerState {
  lamps: readonly KeptLamp[]
  openId: string
  /** Said once, in words, when the browser keeps nothing. */
  trouble: string | null
}

export interface DrawerOptions {
  now?: () => number
  waitMs?: number
  newId?: () => string
}

const recordKey = (id: string) => `lamp:${id}`
const stateKey = (id: string, n: string) => `state:${id}:${n}`
const OPEN_KEY = 'open'
let counter = 0
const freshId = () => `${Date.now().toString(36)}${(counter++).toString(36)}${Math.random().toString(36).slice(2, 8)}`

export function createDrawer(inner: KeyValue, design: Design, options: DrawerOptions = {}) {
  const now = options.now ?? Date.now
  const waitMs = options.waitMs ?? WAIT_MS
  const newId = options.newId ?? freshId
  const store = createStore<DrawerState>()(() => ({ lamps: [], openId: '', trouble: null }))
  const kv = sturdy(inner, (why) => {
    if (store.getState().trouble === null) store.setState({ trouble: why })
  })
  let kept: Lamp | null = null // the open lamp as it was last kept
  let timer: ReturnType<typeof setTimeout> | undefined
  let queue: Promise<unknown> = Promise.resolve()
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const next = queue.then(work)
    queue = next.catch(() => {})
    return next
  }
  const find = (id: string) => store.getState().lamps.find((l) => l.id === id)

  async function push(id: string, lamp: Lamp, label: string) {
    const old = find(id)
    const at = now()
    const states = [{ key: stateKey(id, newId()), at, label }, ...(old?.states ?? [])]
    const record: KeptLamp = { id, name: lamp.name, since: old?.since ?? at, states: states.slice(0, STATES_KEPT) }
    const lamps = store.getState().lamps
    store.setState({ lamps: old ? lamps.map((l) => (l.id === id ? record : l)) : [...lamps, record] })
    await kv.setMany([
      [states[0]!.key, lamp],
      [recordKey(id), record],
    ])
    const dropped = states.slice(STATES_KEPT).map((s) => s.key)
    if (dropped.length > 0) await kv.delMany(dropped)
  }

  async function lampOf(key: string): Promise<Lamp | null> {
    const [json] = await kv.getMany([key])
    const read = readLamp(json)
    return read.ok ? read.lamp : null
  }

  /** Newest state of a lamp that still reads. */
  async function newest(id: string): Promise<Lamp | null> {
    for (const state of find(id)?.states ?? []) {
      const lamp = await lampOf(state.key)
      if (lamp) return lamp
    }
    return null
  }

  function show(id: string, lamp: Lamp) {
    kept = lamp
    store.setState({ openId: id })
    design.open(lamp)
    return kv.setMany([[OPEN_KEY, id]])
  }

  function keepNow(): Promise<void> {
    clearTimeout(timer)
    const { lamp, label } = design.store.getState()
    const { openId } = store.getState()
    if (openId === '' || lamp === kept || !design.store.temporal.getState().isTracking) return queue.then(() => {})
    kept = lamp
    return inTurn(() => push(openId, lamp, label))
  }

  async function addNow(lamp: Lamp, label: string) {
    const id = newId()
    await push(id, lamp, label)
    await show(id, lamp)
  }

  design.store.subscribe(() => {
    if (store.getState().openId === '') return
    clearTimeout(timer)
    timer = setTimeout(keepNow, waitMs)
  })

  return {
    store,
    /** Brings back what was kept; the lamp that was open last lies on the sheet again. */
    start: (first: () => Lamp) =>
      inTurn(async () => {
        const keys = (await kv.keys()).filter((k) => k.startsWith('lamp:'))
        const records = (await kv.getMany(keys)).filter(isRecord).sort((a, b) => a.since - b.since)
        store.setState({ lamps: records })
        const [last] = await kv.getMany([OPEN_KEY])
        const inOrder = [...records.filter((r) => r.id === last), ...records.filter((r) => r.id !== last)]
        for (const record of inOrder) {
          const lamp = await newest(record.id)
          if (lamp) return show(record.id, lamp)
        }
        return addNow(first(), 'New')
      }),
    /** A lamp of the drawer as it was last kept, to be looked at only; null when it can't be read back. */
    peek: (id: string) => inTurn(() => newest(id)),
    /** Keeps the open lamp at once; resolves when everything asked for so far is kept. */
    keep: keepNow,
    /** A lamp from a file or an example: another one in the drawer, laid on the sheet. */
    async add(lamp: Lamp, label: string) {
      await keepNow()
      await inTurn(() => addNow(lamp, label))
    },
    async switchTo(id: string) {
      if (id === store.getState().openId) return
      await keepNow()
      await inTurn(async () => {
        const lamp = await newest(id)
        if (lamp) await show(id, lamp)
        else store.setState({ trouble: 'That lamp could not be read back from this browser’s storage.' })
      })
    },
    async duplicate(id: string) {
      await keepNow()
      await inTurn(async () => {
        const lamp = await newest(id)
        if (lamp) await addNow({ ...lamp, name: copyName(lamp.name, store.getState().lamps) }, 'Copy')
      })
    },
    async rename(id: string, name: string) {
      if (id === store.getState().openId) return design.edit('Name of the lamp', (lamp) => ({ ...lamp, name }))
      await inTurn(async () => {
        const lamp = await newest(id)
        if (lamp) await push(id, { ...lamp, name }, 'Name of the lamp')
      })
    },
    /** Throws a lamp away for good; the last one is replaced by `instead`. */
    async remove(id: string, instead: () => Lamp) {
      await keepNow()
      await inTurn(async () => {
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
        await addNow(instead(), 'New')
      })
    },
    /** An earlier state of the open lamp comes back as an edit, so that undo leads away from it again. */
    async goBack(state: KeptState) {
      await keepNow()
      const lamp = await lampOf(state.key)
      if (lamp) design.edit(`Back to “${state.label}”`, () => lamp)
      else store.setState({ trouble: 'That state could not be read back from this browser’s storage.' })
    },
  }
}

export type Drawer = ReturnType<typeof createDrawer>

function isRecord(value: unknown): value is KeptLamp {
  const v = value as KeptLamp | null | undefined
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
