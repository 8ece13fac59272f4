// Runs over built lamps in this browser: one that is left goes on when the page comes back. Apart from the lamps, whose storage is never
// touched by it; the newest few are kept.

import type { BuiltReading } from '../../job/tolerances/run.ts'
import { designHash } from '../../lamp/designHash.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { createGrowingList } from './growingList.ts'
import type { KeyValue } from './keyValue.ts'

export interface StoredRun {
  at: number
  /** Lamps that are to be built. */
  lamps: number
  /** It was left while it ran. */
  running: boolean
  readings: readonly BuiltReading[]
}

const MOST_KEPT = 6
const PREFIX = 'run:'

/** Names and notes change nothing of it. */
const keyOf = (lamp: Lamp, settings: string): string => {
  const { workshop: _, powerUp: __, danger: ___, ...rest } = lamp
  return `${PREFIX}${designHash({ ...rest, name: 'lamp', note: '' })} ${settings}`
}

/** `settings`: rays and seed; a run of others is another. Nothing here rejects: a browser without storage keeps no runs. */
export function createToleranceRuns(rows: KeyValue, settings: string) {
  const lists = createGrowingList(rows)
  const quietly = async <T>(work: () => Promise<T>): Promise<T | null> => {
    try {
      return await work()
    } catch {
      return null
    }
  }
  async function forgetOld() {
    const keys = (await rows.keys()).filter((key) => key.startsWith(PREFIX))
    if (keys.length <= MOST_KEPT) return
    const runs = await rows.getMany(keys)
    const byAge = keys.map((key, i) => ({ key, at: ageOf(runs[i]) })).sort((a, b) => b.at - a.at)
    await lists.forget(byAge.slice(MOST_KEPT).map(({ key }) => key))
  }
  return {
    async load(lamp: Lamp): Promise<StoredRun | null> {
      const key = keyOf(lamp, settings)
      const found = await quietly(() => lists.load(key, (head) => (isHead(head) ? key : null)))
      if (!found || !isHead(found.head)) return null
      // Two tabs may have written the same rows, each with lamps in its own order.
      const readings = new Map((found.items as BuiltReading[]).map((reading) => [reading.index, reading]))
      return { ...found.head, readings: [...readings.values()] }
    },
    async save(lamp: Lamp, { readings, ...head }: StoredRun): Promise<void> {
      const key = keyOf(lamp, settings)
      await quietly(() => lists.save(key, key, head, readings))
      await quietly(forgetOld)
    },
    async forget(lamp: Lamp): Promise<void> {
      await quietly(() => lists.forget([keyOf(lamp, settings)]))
    },
  }
}

export type ToleranceRuns = ReturnType<typeof createToleranceRuns>

type Head = Omit<StoredRun, 'readings'>

const isHead = (value: unknown): value is Head =>
  typeof value === 'object' &&
  value !== null &&
  'lamps' in value &&
  typeof value.lamps === 'number' &&
  'at' in value &&
  typeof value.at === 'number' &&
  'running' in value

/** 0: of what can no longer be read. */
const ageOf = (row: unknown): number =>
  typeof row === 'object' && row !== null && 'head' in row && isHead(row.head) ? row.head.at : 0
