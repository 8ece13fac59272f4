// The page's stored lamps over a store of the test's own, whose waits the test runs out.
import { createDesign } from '../../src/app/store/design.ts'
import { type KeyValue, memoryKeyValue, type Timer } from '../../src/app/store/keyValue.ts'
import { createLastStates, type TextStore } from '../../src/app/store/lastStates.ts'
import { createStorage } from '../../src/app/store/storage.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

/** As localStorage, which outlives the page. */
export const memoryTexts = (texts = new Map<string, string>()): TextStore => ({
  getItem: (key) => texts.get(key) ?? null,
  setItem: (key, text) => void texts.set(key, text),
  removeItem: (key) => void texts.delete(key),
  key: (i) => [...texts.keys()][i] ?? null,
  get length() {
    return texts.size
  },
})

let pages = 0

export function storagePage(kv: KeyValue, texts: TextStore = memoryTexts()) {
  let clock = 1_000
  const lastStates = createLastStates(() => texts, `page-${pages++}`)
  const design = createDesign(gannetHead())
  const waits: { ms: number; run(): void }[] = []
  const after: Timer = (ms, run) => {
    const wait = { ms, run }
    waits.push(wait)
    return () => void (waits.includes(wait) && waits.splice(waits.indexOf(wait), 1))
  }
  // The tests flush by themselves: no test waits for the timer.
  const storage = createStorage(kv, design, { now: () => clock++, waitMs: 1e9, after, lastStates })
  /** Lets the promises settle, then runs out the waits of so many ms. */
  const pass = async (ms: number) => {
    await settle()
    for (const wait of waits.filter((w) => w.ms === ms)) {
      waits.splice(waits.indexOf(wait), 1)
      wait.run()
    }
    await settle()
  }
  const notice = () => storage.store.getState().notice
  return { design, storage, state: () => storage.store.getState(), pass, notice }
}
export const settle = () => new Promise((next) => setImmediate(next))
/** A call of the storage that takes so long has failed; so long until it is tried again. */
export const LIMIT_MS = 3_000
export const RETRY_MS = 15_000

/** A store that can be made to refuse, or never to answer. */
export function fickle(rows = new Map<string, unknown>()) {
  const inner = memoryKeyValue(rows)
  const kv = { now: 'works' as 'works' | 'refuses' | 'full' | 'silent' | 'late', asked: 0 }
  const through = async <T>(work: () => Promise<T>): Promise<T> => {
    kv.asked++
    if (kv.now === 'silent') return new Promise(() => {})
    if (kv.now === 'refuses') throw new Error('no')
    if (kv.now === 'full') throw new DOMException('full', 'QuotaExceededError')
    if (kv.now === 'late') await work()
    if (kv.now === 'late') return new Promise(() => {})
    return work()
  }
  const store: KeyValue = {
    keys: () => through(inner.keys),
    getMany: (wanted) => through(() => inner.getMany(wanted)),
    setMany: (more) => through(() => inner.setMany(structuredClone(more))),
    delMany: (gone) => through(() => inner.delMany(gone)),
    setManyIf: (key, expects, more) => through(() => inner.setManyIf(key, expects, structuredClone(more))),
  }
  return { kv, store, rows }
}
export const named =
  (name: string) =>
  (lamp: Lamp): Lamp => ({ ...lamp, name })
export const openRecord = (p: ReturnType<typeof storagePage>) => p.state().lamps.find((l) => l.id === p.state().openId)!
