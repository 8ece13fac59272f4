// What the last search was and what it has evaluated, kept in the browser: it goes on after the page was closed.
import type { Outcome } from '../../job/choose/evaluating.ts'
import type { OptimizePlan } from '../../job/choose/plan.ts'
import { createGrowingList } from '../store/growingList.ts'
import type { KeyValue } from '../store/keyValue.ts'

interface StoredSearch {
  setup: Pick<OptimizePlan, 'moves' | 'wants' | 'keeps' | 'evaluations'>
  /** Says which search of which lamp it is. */
  search: string
  /** It was left while it ran. */
  running: boolean
  outcomes: readonly (readonly [string, Outcome])[]
}

export interface SearchMemory {
  /** Null where there is none, or none that can be read. */
  load(): Promise<StoredSearch | null>
  save(stored: StoredSearch): Promise<void>
}

const KEY = 'last search'
/** Another number, and what was stored before is no longer read. */
const VERSION = 2

/** A search can do without: where the browser keeps nothing, it only begins anew. */
export function createSearchMemory(store: KeyValue): SearchMemory {
  const lists = createGrowingList(store)
  return {
    async load() {
      try {
        const found = await lists.load(KEY, (head) => (isHead(head) ? head.stored.search : null))
        if (!found || !isHead(found.head)) return null
        return { ...found.head.stored, outcomes: found.items as StoredSearch['outcomes'] }
      } catch {
        return null
      }
    },
    async save({ outcomes, ...stored }) {
      try {
        await lists.save(KEY, stored.search, { version: VERSION, stored }, outcomes)
      } catch {
        // Full, blocked or forbidden.
      }
    },
  }
}

type Head = Omit<StoredSearch, 'outcomes'>

const isHead = (head: unknown): head is { stored: Head } =>
  typeof head === 'object' && head !== null && 'version' in head && head.version === VERSION && 'stored' in head
