// What a meter would read at places in front of a lamp, traced backwards from each: right in the near field as well, and with the same random numbers
// for every lamp, so that two lamps differ by what sets them apart and not by noise.
import { backwardEstimate } from '../../engine/backward/estimate.ts'
import { backwardUnsupported } from '../../engine/progressive.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { BATCHES } from '../../run/types.ts'
import { compile } from '../../scene/compile.ts'
import { lampOperatingPoint } from '../power/light.ts'
import type { LampState, Spot } from './points.ts'
import { predictRun, type RunOrder, type RunPrediction } from './runningRun.ts'

/** A lamp, and what each of its emitters gives in each state, in placeEmitters order. */
export interface PredictOrder {
  lamp: Lamp
  fluxLm: readonly Float64Array[]
  spots: readonly Spot[]
  seed: number
  /** Of each spot. */
  rays: readonly number[]
}

/** Lux at the spots and their standard errors; and of each spot the means of its batches. */
export interface Prediction {
  lx: number[]
  se: number[]
  batches: number[][]
}

/** Diameter of a meter's diffuser: common practice, no source. */
const DIFFUSER_MM = 30

/** Flux of every emitter in each state of the lamp, lm. */
export const statesFlux = (lamp: Lamp, states: readonly LampState[]): Float64Array[] =>
  states.map((state) => lampOperatingPoint(state ? { ...lamp, heat: { kind: 'mode', ...state } } : lamp).fluxLm)

/** Why lux can't be predicted, in words; null: they can. */
export function unpredictable(lamp: Lamp): string | null {
  const scene = compile(lamp, lampOperatingPoint(lamp))
  if (!(scene.emittedW > 0)) return 'Nothing shines: no emitter, no current, or no flux.'
  const why = backwardUnsupported(scene)
  return why.length > 0 ? `Light can’t be traced back from the meter: ${why.join(', ')}.` : null
}

const DARK = { value: 0, se: 0, batches: new Array<number>(BATCHES).fill(0) }

/** In this thread. A meter that is turned to the lamp faces the middle of its front. */
export function predictLux({ lamp, fluxLm, spots, seed, rays }: PredictOrder): Prediction {
  const scenes = fluxLm.map((flux) => compile(lamp, { fluxLm: flux }))
  const frontMm = frontZMm(lamp)
  const lx: number[] = []
  const se: number[] = []
  const batches: number[][] = []
  for (const [i, spot] of spots.entries()) {
    const scene = scenes[spot.state]
    const at = {
      kind: 'disc',
      xMm: spot.xMm,
      yMm: spot.yMm,
      zMm: frontMm + spot.distanceMm,
      discMm: DIFFUSER_MM,
    } as const
    const options = { seed, rays: rays[i] ?? BATCHES }
    const lit = scene && scene.emittedW > 0 ? backwardEstimate(scene, at, options) : DARK
    const turned = spot.faces === 'lamp' ? Math.hypot(spot.xMm, spot.yMm, spot.distanceMm) / spot.distanceMm : 1
    lx.push(lit.value * turned)
    se.push(lit.se * turned)
    batches.push(lit.batches.map((b) => b * turned))
  }
  return { lx, se, batches }
}

/** Who predicts: a worker of a browser or of Node, or this thread. */
export interface Predictor {
  predict(order: PredictOrder): Promise<Prediction>
  run(order: RunOrder): Promise<RunPrediction>
  /** Starts its worker at once, also one that is started no more by itself. */
  again(): void
  close(): void
}

export const inlinePredictor = (): Predictor => ({
  predict: async (order) => predictLux(order),
  run: async (order) => predictRun(order),
  again() {},
  close() {},
})
