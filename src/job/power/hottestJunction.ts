// The hottest that any junction of a lamp gets, in one number.
import type { RetainedLight } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { preparePower } from './run.ts'

/** °C, of any mode until its run ends, cut-out and fold-back taken as failed; null: no boards. `retained`: what of the light stays in the lamp as heat. */
export function hottestJunctionC(lamp: Lamp, retained: RetainedLight): number | null {
  const prepared = preparePower(lamp, { retained })
  const tops = prepared.modes.map((mode) =>
    prepared.runUnprotected(mode).curves.junctionMaxC.reduce((a, b) => Math.max(a, b), -Infinity),
  )
  return tops.length > 0 ? Math.max(...tops) : null
}
