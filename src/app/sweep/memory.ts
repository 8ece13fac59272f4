// The last sweep's ranges and cells, kept in the browser: what is traced stays so after the page was closed.
import type { SweepCell } from '../../job/sweep/run.ts'
import type { RangeChoice } from '../common/rangeChoice.ts'
import { createGrowingList } from '../store/growingList.ts'
import type { KeyValue } from '../store/keyValue.ts'

interface StoredSweep {
  ranges: readonly RangeChoice[]
  /** Says which sweep of which lamp it is. */
  sweep: string
  /** In the order in which they came. */
  cells: readonly SweepCell[]
}

export interface SweepMemory {
  /** Null where there is none, or none that can be read. */
  load(): Promise<StoredSweep | null>
  save(stored: StoredSweep): Promise<void>
}

const KEY = 'last sweep'
/** Another number, and what was stored before is no longer read. */
const VERSION = 1

/** A sweep can do without: where the browser keeps nothing, it only begins anew. */
export function createSweepMemory(store: KeyValue): SweepMemory {
  const lists = createGrowingList(store)
  return {
    async load() {
      try {
        const found = await lists.load(KEY, (head) => (isHead(head) ? head.sweep : null))
        if (!found || !isHead(found.head)) return null
        const { ranges, sweep } = found.head
        return { ranges, sweep, cells: found.items as SweepCell[] }
      } catch {
        return null
      }
    },
    async save({ ranges, sweep, cells }) {
      try {
        await lists.save(KEY, sweep, { version: VERSION, ranges, sweep }, cells)
      } catch {
        // Full, blocked or forbidden.
      }
    },
  }
}

const isHead = (head: unknown): head is Omit<StoredSweep, 'cells'> =>
  typeof head === 'object' &&
  head !== null &&
  'version' in head &&
  head.version === VERSION &&
  'sweep' in head &&
  'ranges' in head
