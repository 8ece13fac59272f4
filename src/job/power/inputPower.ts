// The electrical input that goes with the light a lamp is traced with.
import { solveOperatingPoint } from '../../heat/operating.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { runOfMode } from './light.ts'
import { valueAt } from './modeRun.ts'

export interface InputPower {
  watts: number
  /** supply: what a mode draws from its supply at the moment; emitters: theirs alone, without drivers and wires. */
  of: 'supply' | 'emitters'
}

/** Null: the lamp has no boards, or its emitters no forward voltage. */
export function inputPower(lamp: Lamp): InputPower | null {
  if (lamp.boards.length === 0) return null
  const { heat } = lamp
  const run = heat.kind === 'mode' ? runOfMode(lamp, heat.mode) : null
  if (run && heat.kind === 'mode') {
    const { tS, supplyV, supplyA } = run.curves
    const at = (y: Float64Array) => valueAt(tS, y, heat.seconds)
    return { watts: at(supplyV) * at(supplyA), of: 'supply' }
  }
  const watts = solveOperatingPoint(lamp).points.reduce((sum, { inputW }) => sum + inputW, 0)
  return watts > 0 ? { watts, of: 'emitters' } : null
}
