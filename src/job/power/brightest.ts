// The brightest that a lamp's light can be: dangers are judged by it, whatever light the beam sheet follows.
import { degreesC } from '../../checks/words.ts'
import { solveOperatingPoint } from '../../heat/operating.ts'
import { weldedModes } from '../../lamp/groups.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { COLD_START_C } from '../../library/typicalPower.ts'
import { lampOperatingPoint, modeOperatingPoint } from './light.ts'

export interface BrightestLight {
  /** lm of each emitter, in placeEmitters order. */
  fluxLm: Float64Array
  /** Where it comes from, to stand after "Light:". */
  from: string
}

/**
 * Each emitter at the most it gives in any mode, and with every group on in it (a relay may weld shut), from a cold start at COLD_START_C, and at its board's own current with the board as cold:
 * irradiance is a sum over emitters, so no moment of any mode is stronger anywhere. Flux outside the emitter's table of temperature stays
 * at the table's end.
 */
export function brightestLight(lamp: Lamp): BrightestLight {
  const cold: Lamp = { ...lamp, reading: { ...lamp.reading, ambientC: COLD_START_C } }
  const tries: { name: string; fluxLm: Float64Array }[] = [
    { name: 'the light of the beam sheet', fluxLm: lampOperatingPoint(lamp).fluxLm },
  ]
  const modes = lamp.power?.modes ?? []
  if (modes.length === 0) {
    const board = solveOperatingPoint({ ...lamp, heat: { kind: 'board', boardC: COLD_START_C } })
    tries.push({ name: 'the boards’ own currents', fluxLm: board.fluxLm })
  }
  for (const { id, name } of modes) {
    const start = modeOperatingPoint(cold, id, 0)
    if (start) tries.push({ name: `“${name}”`, fluxLm: start.fluxLm })
  }
  // Contacts that weld shut leave a group on in a mode that has it off.
  const welded = lamp.power ? weldedModes(lamp.power) : []
  const stuck: Lamp = lamp.power ? { ...cold, power: { ...lamp.power, modes: welded } } : cold
  for (const { id, name } of welded) {
    const start = modeOperatingPoint(stuck, id, 0)
    if (start) tries.push({ name: `“${name}”`, fluxLm: start.fluxLm })
  }
  const fluxLm = Float64Array.from(tries[0]!.fluxLm, (_, i) => Math.max(...tries.map((t) => t.fluxLm[i] ?? 0)))
  const most = Math.max(...tries.map((t) => sum(t.fluxLm)))
  const brightest = tries.find((t) => sum(t.fluxLm) === most)!
  const alone = sum(fluxLm) <= most * (1 + 1e-9)
  const from =
    brightest === tries[0] && alone
      ? 'that of the beam sheet, the brightest there is'
      : alone
        ? `${brightest.name}, cold start at ${degreesC(COLD_START_C)}`
        : `each emitter at its brightest in any mode, cold start at ${degreesC(COLD_START_C)}`
  return { fluxLm, from }
}

const sum = (x: ArrayLike<number>): number => Array.from(x).reduce((a, b) => a + b, 0)
