// The lamps stored in this browser, each with its last twenty states. A lamp is stored a moment after each edit. While the browser stores nothing
// the lamps live in memory, `error` says so, and storing is tried again from time to time. What another tab has stored is never overwritten.
import { createStore } from 'zustand/vanilla'
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { changeWords } from '../common/changeWords.ts'
import type { Design } from './design.ts'
import { type Edited, historyKey, historyOf, restoreHistory } from './history.ts'
import { type KeyValue, pageTimer, type Timer } from './keyValue.ts'
import type { LastStates } from './lastStates.ts'
import { createLeaving } from './leaving.ts'
import {
  copyName,
  isRecord,
  recordKey,
  recordsFound,
  type StoredLamp,
  type StoredState,
  stateKey,
} from './storedLamps.ts'
import { createSync, OPEN_KEY, type StorageState } from './sync.ts'

export const MAX_STATES = 20
const WAIT_MS = 400

export interface StorageOptions {
  now?: () => number
  waitMs?: number
  newId?: () => string
  after?: Timer
  /** For what a page has no time to store when it is left. */
  lastStates?: LastStates
}

let counter = 0
export const freshId = () =>
  `${Date.now().toString(36)}${(counter++).toString(36)}${Math.random().toString(36).slice(2, 8)}`

export function createStorage(inner: KeyValue, design: Design, options: StorageOptions = {}) {
  const { now = Date.now, waitMs = WAIT_MS, newId = freshId, after = pageTimer, lastStates } = options
  const store = createStore<StorageState>()(() => ({ lamps: [], openId: '', ready: false, error: null, notice: null }))
  let stored: Lamp | null = null // the open lamp as it was last stored, in the browser or in memory
  /** It has not been added yet: other work comes first. */
  let onItsWay = false
  let timer: ReturnType<typeof setTimeout> | undefined
  let queue: Promise<unknown> = Promise.resolve()
  const enqueue = <T>(work: () => Promise<T>): Promise<T> => {
    const next = queue.then(work)
    queue = next.catch(() => {})
    return next
  }
  const find = (id: string) => store.getState().lamps.find((l) => l.id === id)
  const notify = (notice: string) => store.setState({ notice })

  const sync = createSync(inner, store, after, {
    enqueue: (work) => void enqueue(work),
    allStored: () => void lastStates?.removeOwn(),
    readAgain,
    keepBoth,
  })
  const { unwritten, unsynced, histories, doomed, newestStored, attempt } = sync
  /** A first lamp that nobody has touched. It is not stored while others may be there. */
  let untouchedId: string | null = null
  /** The open lamp's id before another tab had changed it too, to the one that it has got. */
  const renamedIds = new Map<string, string>()

  /** Another tab has stored this lamp meanwhile: its lamp stays as it is, ours becomes one of its own. */
  function keepBoth(ours: StoredLamp, theirs: StoredLamp) {
    const id = newId()
    const lamps = store.getState().lamps
    const name = copyName(ours.name, lamps)
    const states = ours.states.filter(({ key }) => unwritten.has(key))
    const [top] = states
    const newest = top && unwritten.get(top.key)
    const renamed = newest && { ...newest, name }
    if (top && renamed) unwritten.set(top.key, renamed)
    const copy: StoredLamp = { id, name, since: now(), states }
    store.setState({ lamps: [...lamps.map((l) => (l.id === theirs.id ? theirs : l)), copy] })
    newestStored.set(theirs.id, theirs.states[0]?.key ?? '')
    unsynced.add(id)
    const history = histories.get(ours.id)
    if (history) histories.set(id, history)
    histories.delete(ours.id)
    if (store.getState().openId === ours.id) {
      take(id)
      renamedIds.set(ours.id, id)
      if (!design.isDragging()) {
        const isNewest = design.lamp() === newest
        design.edit('Name of the lamp', (lamp) => (isNewest && renamed ? renamed : { ...lamp, name }))
        if (isNewest) stored = design.lamp()
      }
    }
    notify(`“${theirs.name}” was also changed in another tab. Both are kept: what you made here is now “${name}”.`)
  }

  /** A new state of a lamp, in memory; `sync` stores it. */
  function add(id: string, { lamp, label, at, steps }: Edited) {
    const old = find(id)
    const values = changeWords(steps?.done.at(-1)?.changes ?? [])
    const top = { key: stateKey(id, newId()), at, label, ...(values && { values }) }
    const states: StoredState[] = [top, ...(old?.states ?? [])]
    unwritten.set(top.key, lamp)
    if (steps) histories.set(id, { ...steps, of: top.key })
    for (const { key } of states.slice(MAX_STATES)) if (!unwritten.delete(key)) doomed.add(key)
    const record: StoredLamp = { id, name: lamp.name, since: old?.since ?? at, states: states.slice(0, MAX_STATES) }
    const { lamps } = store.getState()
    store.setState({ lamps: old ? lamps.map((l) => (l.id === id ? record : l)) : [...lamps, record] })
    unsynced.add(id)
    if (untouchedId === id) untouchedId = null
  }

  async function push(id: string, edited: Edited) {
    add(id, edited)
    onItsWay = false
    await sync.run()
  }

  async function lampOf(key: string): Promise<Lamp | null> {
    const lamp = unwritten.get(key)
    if (lamp) return lamp
    const read = await attempt(() => inner.getMany([key]))
    const checked = readLamp(read?.value[0])
    return checked.ok ? checked.lamp : null
  }

  /** The newest state of a lamp that is still valid, and the states above it that are not. */
  async function newestOf(id: string): Promise<{ lamp: Lamp; state: StoredState; lost: number } | null> {
    for (const [lost, state] of (find(id)?.states ?? []).entries()) {
      const lamp = await lampOf(state.key)
      if (lamp) return { lamp, state, lost }
    }
    return null
  }
  const newest = async (id: string): Promise<Lamp | null> => (await newestOf(id))?.lamp ?? null

  function take(id: string) {
    store.setState({ openId: id })
    sync.openChanged()
  }

  async function show(id: string, lamp: Lamp) {
    stored = lamp
    renamedIds.clear()
    take(id)
    design.open(lamp)
    const top = find(id)?.states[0]
    const history = histories.get(id) ?? (await attempt(() => inner.getMany([historyKey(id)])))?.value[0]
    if (top && design.lamp() === lamp && !design.canUndo()) restoreHistory(design, history, top.key)
    await sync.run()
  }

  function flush(): Promise<void> {
    clearTimeout(timer)
    const { lamp, label } = design.store.getState()
    const { openId } = store.getState()
    if (openId === '' || lamp === stored || design.isDragging()) return queue.then(() => {})
    stored = lamp
    onItsWay = true
    const edited = { lamp, label, steps: historyOf(design), at: now() }
    return enqueue(() => push(renamedIds.get(openId) ?? openId, edited))
  }

  const leaving = createLeaving({
    lastStates,
    sync,
    lamps: () => store.getState().lamps,
    openLamp: () => {
      const { openId } = store.getState()
      const isDue = onItsWay || design.lamp() !== stored || unsynced.has(openId)
      if (openId === '' || design.isDragging() || !isDue) return null
      const { lamp, label } = design.store.getState()
      return { id: openId, lamp, label, at: now(), steps: historyOf(design) }
    },
    lampOf,
    add,
    newId,
    notify,
  })

  async function addLamp(lamp: Lamp, label: string) {
    const id = newId()
    add(id, { lamp, label, at: now() })
    await show(id, lamp)
  }

  /** A record that was made anew gets its name from its newest state, and is stored. */
  async function named(record: StoredLamp): Promise<StoredLamp> {
    if (!record.foundAgain) return record
    unsynced.add(record.id)
    for (const { key } of record.states) {
      const lamp = await lampOf(key)
      if (lamp) return { ...record, name: lamp.name }
    }
    return record
  }

  /** Null when the browser does not let them be read. */
  async function readRecords() {
    const keys = await attempt(() => inner.keys())
    const rows =
      keys && (await attempt(() => inner.getMany([OPEN_KEY, ...keys.value.filter((k) => k.startsWith('lamp:'))])))
    if (!rows) return null
    const [last, ...records] = rows.value
    const found = recordsFound(keys.value, records, now())
    for (const { id, states } of found) if (states[0]) newestStored.set(id, states[0].key)
    return { records: await Promise.all(found.map(named)), last }
  }

  /** Opens the lamp that was open last, or says why it is another one; false when there is none that can be read. */
  async function openLast({ records, last }: { records: readonly StoredLamp[]; last: unknown }): Promise<boolean> {
    const inOrder = [...records.filter((r) => r.id === last), ...records.filter((r) => r.id !== last)]
    const [wanted] = inOrder
    for (const record of inOrder) {
      const found = await newestOf(record.id)
      if (!found) continue
      if (record !== wanted)
        notify(`“${wanted!.name}” could not be read back; it stays under Lamps. “${record.name}” is open in its place.`)
      else if (found.lost > 0)
        notify(
          `The last ${found.lost === 1 ? 'state' : `${found.lost} states`} of “${record.name}” could not be read back: it is open as it was before, after “${found.state.label}”.`,
        )
      else if (record.foundAgain) notify(`The list of “${record.name}” was damaged. Its states have been found again.`)
      await show(record.id, found.lamp)
      return true
    }
    return false
  }

  /** The browser answers again: what it holds joins what was made meanwhile. */
  async function readAgain() {
    const found = await readRecords()
    if (!found) return
    sync.setUnread(false)
    const untouched =
      untouchedId !== null && untouchedId === store.getState().openId ? (find(untouchedId) ?? null) : null
    const made = store.getState().lamps.filter((l) => l !== untouched || found.records.length === 0)
    store.setState({ lamps: [...found.records, ...made], error: null })
    if (found.records.length === 0) return
    if (untouched && !design.canUndo() && (await openLast(found)))
      return notify('This browser’s storage answers again: your lamp is open as you left it.')
    if (untouched) store.setState({ lamps: [...store.getState().lamps, untouched] })
    notify('This browser’s storage answers again: your earlier lamps are back, under Lamps.')
  }

  /** As another tab may have left it. */
  async function refresh(id: string) {
    if (sync.isUnread() || unsynced.has(id)) return
    const there = (await attempt(() => inner.getMany([recordKey(id)])))?.value[0]
    if (!isRecord(there)) return
    newestStored.set(id, there.states[0]?.key ?? '')
    store.setState({ lamps: store.getState().lamps.map((l) => (l.id === id ? there : l)) })
  }

  async function begin(first: () => Lamp) {
    const found = await readRecords()
    sync.setUnread(found === null)
    if (found) store.setState({ lamps: found.records })
    if (design.canUndo()) {
      // The builder did not wait. What was made meanwhile is no reason to lose it.
      const { lamp, label } = design.store.getState()
      const id = newId()
      add(id, { lamp, label, at: now(), steps: historyOf(design) })
      stored = lamp
      take(id)
      if (found && found.records.length > 0)
        notify(`What you have begun is a lamp of its own; your earlier lamps are under Lamps.`)
      return sync.run()
    }
    const left = found && (await leaving.takeOver())
    const records = store.getState().lamps
    if (found && (await openLast({ records, last: left ?? found.last }))) return
    const lamp = first()
    await addLamp(lamp, 'New')
    if (!found) untouchedId = store.getState().openId
    else if (found.records.length > 0) {
      const [one, ...more] = found.records
      const who = more.length > 0 ? `None of the ${more.length + 1} lamps kept here` : `“${one?.name}”`
      const how = more.length > 0 ? 'could be read back; they stay' : 'could not be read back; it stays'
      notify(`${who} ${how} under Lamps. The example “${lamp.name}” is open instead.`)
    }
  }

  design.store.subscribe(() => {
    if (store.getState().openId === '') return
    clearTimeout(timer)
    timer = setTimeout(flush, waitMs)
  })

  return {
    store,
    /** Restores the stored lamps and opens the one that was open last. Never waits longer than a few seconds. */
    start: (first: () => Lamp) => enqueue(() => begin(first)).finally(() => store.setState({ ready: true })),
    /** A stored lamp, without opening it; null when it can't be read back. */
    peek: (id: string) => enqueue(() => newest(id)),
    /** Stores the open lamp at once; resolves when every write so far is done. */
    flush,
    /** Stores what it can at once: the page is being left. */
    leave: () => {
      leaving.leave()
      void flush()
    },
    /** Stores a lamp from a file or an example and opens it. */
    async add(lamp: Lamp, label: string) {
      await flush()
      await enqueue(() => addLamp(lamp, label))
    },
    async switchTo(id: string) {
      if (id === store.getState().openId) return
      await flush()
      await enqueue(async () => {
        await refresh(id)
        const lamp = await newest(id)
        if (lamp) await show(id, lamp)
        else notify('That lamp could not be read back from this browser’s storage.')
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
        if (lamp) await push(id, { lamp: { ...lamp, name }, label: 'Name of the lamp', at: now() })
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
        newestStored.delete(id)
        histories.delete(id)
        for (const key of [recordKey(id), historyKey(id), ...gone.states.map((s) => s.key)])
          if (!unwritten.delete(key)) doomed.add(key)
        await sync.run(true) // there may be room now
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
      else notify('That state could not be read back from this browser’s storage.')
    },
    /** What is stored under the key of a state; null: it can't be read back. */
    lampOf,
    /** Says what has become of a lamp. */
    notify,
    closeNotice: () => store.setState({ notice: null }),
  }
}
