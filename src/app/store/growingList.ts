// A list that only grows, kept in rows of a few items beside a head: each save writes the head and what has come since the one before. Written whole,
// the readings of 5,000 lamps held up the page for some 0.4 s each time.
import type { KeyValue } from './keyValue.ts'

/** Items in a row. */
const ROW = 64
const PREFIX = 'row:'
const rowKey = (key: string, row: number) => `${PREFIX}${key} ${row}`

interface Stored {
  head: unknown
  items: unknown[]
}

/** One list at a time grows. All calls reject where the store does. */
export function createGrowingList(store: KeyValue) {
  let saved = { list: '', count: 0 }
  return {
    /** `list` says which one it is: another than the last is written from its first item on. */
    async save(key: string, list: string, head: object, items: readonly unknown[]): Promise<void> {
      const known = saved.list === list && items.length >= saved.count ? saved.count : 0
      const rows: [string, unknown][] = []
      for (let row = Math.floor(known / ROW); row * ROW < items.length; row++)
        rows.push([rowKey(key, row), items.slice(row * ROW, (row + 1) * ROW)])
      saved = { list, count: items.length }
      try {
        await store.setMany([[key, { head, count: items.length }], ...rows])
      } catch (error) {
        saved = { list: '', count: 0 }
        throw error
      }
    },
    /** Null where there is none. Row by row, so that a long one never holds up the page. `listOf`: from its head, as in `save`. */
    async load(key: string, listOf: (head: unknown) => string | null): Promise<Stored | null> {
      const [found] = await store.getMany([key])
      if (!isHead(found)) return null
      const list = listOf(found.head)
      if (list === null) return null
      const items: unknown[] = []
      for (let row = 0; row * ROW < found.count; row++) {
        const [part] = await store.getMany([rowKey(key, row)])
        if (Array.isArray(part)) items.push(...part)
      }
      const whole = items.slice(0, found.count)
      saved = { list, count: whole.length === found.count ? found.count : 0 }
      return { head: found.head, items: whole }
    },
    async forget(keys: readonly string[]): Promise<void> {
      if (keys.includes(saved.list)) saved = { list: '', count: 0 }
      const rows = (await store.keys()).filter((k) => k.startsWith(PREFIX))
      const listKey = (row: string) => row.slice(PREFIX.length, row.lastIndexOf(' '))
      await store.delMany([...keys, ...rows.filter((row) => keys.includes(listKey(row)))])
    },
  }
}

const isHead = (value: unknown): value is { head: unknown; count: number } =>
  typeof value === 'object' && value !== null && 'head' in value && 'count' in value && typeof value.count === 'number'
