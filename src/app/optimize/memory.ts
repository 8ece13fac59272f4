// What the last search was and what it has evaluated, kept in the browser: it goes on after the page was closed.
import type { OptimizePlan } from '../../job/choose/plan.ts'
import type { Outcome } from '../../job/choose/evaluating.ts'
import type { KeyValue } from '../store/keyValue.ts'

interface StoredSearch {
  setup: Pick<OptimizePlan, 'moves' | 'wants' | 'keeps' | 'evaluations'>
  /** Says which search of which lamp it is. */
  search: string
  outcomes: readonly (readonly [string, Outcome])[]
}

export interface SearchMemory {
  /** Null where there is none, or none that can be read. */
  load(): Promise<StoredSearch | null>
  save(stored: StoredSearch): Promise<void>
}

const KEY = 'last search'
/** Another number, and what was stored before is no longer read. */
const VERSION = 1

/** A search can do without: where the browser keeps nothing, it only begins anew. */
export const createSearchMemory = (store: KeyValue): SearchMemory => ({
  async load() {
    try {
      const [row] = await store.getMany([KEY])
      return isStored(row) ? row.stored : null
    } catch {
      return null
    }
  },
  async save(stored) {
    try {
      await store.setMany([[KEY, { version: VERSION, stored }]])
    } catch {
      // Full, blocked or forbidden.
    }
  },
})

const isStored = (row: unknown): row is { stored: StoredSearch } =>
  typeof row === 'object' && row !== null && 'version' in row && row.version === VERSION && 'stored' in row
