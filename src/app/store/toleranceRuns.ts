// Runs over built lamps in this browser: one that is left goes on when the page comes back. Apart from the lamps, whose storage is never
// touched by it; the newest few are kept.

import type { BuiltReading } from '../../job/tolerances/run.ts'
import { designHash } from '../../lamp/designHash.ts'
import type { Lamp } from '../../lamp/schema.ts'
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
    const byAge = keys.map((key, i) => ({ key, at: isStored(runs[i]) ? runs[i].at : 0 })).sort((a, b) => b.at - a.at)
    await rows.delMany(byAge.slice(MOST_KEPT).map(({ key }) => key))
  }
  return {
    async load(lamp: Lamp): Promise<StoredRun | null> {
      const found = await quietly(() => rows.getMany([keyOf(lamp, settings)]))
      return isStored(found?.[0]) ? found[0] : null
    },
    async save(lamp: Lamp, run: StoredRun): Promise<void> {
      await quietly(() => rows.setMany([[keyOf(lamp, settings), run]]))
      await quietly(forgetOld)
    },
    async forget(lamp: Lamp): Promise<void> {
      await quietly(() => rows.delMany([keyOf(lamp, settings)]))
    },
  }
}

export type ToleranceRuns = ReturnType<typeof createToleranceRuns>

const isStored = (value: unknown): value is StoredRun =>
  typeof value === 'object' &&
  value !== null &&
  'readings' in value &&
  Array.isArray(value.readings) &&
  'lamps' in value &&
  typeof value.lamps === 'number' &&
  'at' in value &&
  typeof value.at === 'number' &&
  'running' in value
