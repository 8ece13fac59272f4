// Runs over built lamps on Node: a worker thread for each lamp at work, or this thread.
import type { Lamp } from '../../lamp/schema.ts'
import { withTracers } from '../sweep/node.ts'
import { type BuiltReading, runTolerances, type ToleranceSettings } from './run.ts'

/** The lamps of `indices`, in rising order; `onReading` hears of each as it comes. `threads` 0: this thread. */
export async function tolerancesInNode(
  lamp: Lamp,
  settings: ToleranceSettings,
  threads: number,
  indices: readonly number[],
  onReading: (reading: BuiltReading) => void = () => {},
): Promise<BuiltReading[]> {
  const readings: BuiltReading[] = []
  await withTracers(threads, (tracers) =>
    runTolerances(tracers, lamp, settings, indices, (reading) => {
      readings.push(reading)
      onReading(reading)
    }),
  )
  return readings.sort((a, b) => a.index - b.index)
}
