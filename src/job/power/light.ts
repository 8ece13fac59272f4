// The light that the beam is traced with: as the document's `heat` says, of a mode's moment in the coupled run of heat and power.

import type { ModeRun } from '../../electrothermal/result.ts'
import { solveOperatingPoint as plainPoint } from '../../heat/operating.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { fractionalIndex } from '../../num/interpolate.ts'
import { retainedByPilot } from '../beam/retainedLight.ts'
import type { LightTraced } from './lightTraced.ts'
import { valueAt } from './modeRun.ts'
import { preparePower } from './run.ts'

/** What a run of heat and power hangs on, the light that comes back into the lamp included. */
const partsOf = (lamp: Lamp): readonly unknown[] => [
  lamp.boardTypes,
  lamp.emitterTypes,
  lamp.opticTypes,
  lamp.optic,
  lamp.face,
  lamp.tunnel,
  lamp.lens,
  lamp.elements,
  lamp.cooling,
  lamp.power,
  lamp.reading.ambientC,
]

const known = new WeakMap<Lamp['boards'], { parts: readonly unknown[]; runs: Map<string, ModeRun> }>()

/**
 * The run of one mode, cached for as long as the lamp's boards live. Null when there is no such mode. Cut-out and
 * fold-back are taken as failed: hazards are judged by this light.
 */
export function runOfMode(lamp: Lamp, mode: string): ModeRun | null {
  const parts = partsOf(lamp)
  let cache = known.get(lamp.boards)
  if (!cache?.parts.every((part, i) => part === parts[i])) {
    cache = { parts, runs: new Map() }
    known.set(lamp.boards, cache)
  }
  const cached = cache.runs.get(mode)
  if (cached) return cached
  const prepared = preparePower(lamp, { retained: retainedByPilot(lamp) })
  const wanted = prepared.modes.find((m) => m.id === mode)
  if (!wanted) return null
  const run = prepared.runUnprotected(wanted)
  cache.runs.set(mode, run)
  return run
}

/** Flux of every emitter in placeEmitters order, at a moment of a mode; after its end, as at its end. */
export function modeOperatingPoint(lamp: Lamp, mode: string, seconds: number): { fluxLm: Float64Array } | null {
  const run = runOfMode(lamp, mode)
  if (!run) return null
  const [i, part] = fractionalIndex(run.curves.tS, seconds)
  const after = Math.min(i + 1, run.boardLm.length - 1)
  const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  const fluxLm = lamp.boards.flatMap((board, b) => {
    const [from, to] = [run.boardLm[i]![b]!, run.boardLm[after]![b]!]
    const count = sites.get(board.type)!
    return new Array<number>(count).fill((from + part * (to - from)) / count)
  })
  return { fluxLm: Float64Array.from(fluxLm) }
}

/** What the beam is traced with: as the document's `heat` says. */
export function lampOperatingPoint(lamp: Lamp): { fluxLm: Float64Array } {
  if (lamp.heat.kind !== 'mode') return plainPoint(lamp)
  return modeOperatingPoint(lamp, lamp.heat.mode, lamp.heat.seconds) ?? plainPoint(lamp)
}

/** Which light the lumens of a lamp's sheet are. */
export function lightTraced(lamp: Lamp): LightTraced {
  const { heat } = lamp
  if (heat.kind !== 'mode') return heat
  const run = lamp.boards.length > 0 ? runOfMode(lamp, heat.mode) : null
  if (!run) return { kind: 'rated' }
  const { tS, junctionMaxC } = run.curves
  const endS = tS[tS.length - 1]!
  return {
    kind: 'mode',
    mode: run.name,
    seconds: heat.seconds,
    endS,
    junctionMaxC: valueAt(tS, junctionMaxC, heat.seconds),
    ...(lamp.power?.protection ? { protectionFailed: true } : {}),
  }
}
