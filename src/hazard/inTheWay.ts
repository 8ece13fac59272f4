// Things in the beam: the greatest irradiance on them, their temperature, the time to harm; and the same at a chosen distance.
import type { MaterialId, ThingInTheWay } from '../lamp/danger.ts'
import { burnSeconds, ignitionMaterial, ignitionSeconds } from '../library/ignition.ts'
import { MATERIALS, secondsToHarm, type Threshold } from '../library/thresholds.ts'
import { DULL_EMISSIVITY, steadyTemperatureC } from './balance.ts'
import { type Front, irradianceAt } from './front.ts'

/** Cases that every lamp meets sooner or later (our choice). */
export const USUAL_THINGS: readonly ThingInTheWay[] = [
  { name: 'A cover left on', material: 'black-plastic', distanceMm: 0, absorbs: 1 },
  { name: 'A bag over the lens', material: 'dark-cloth', distanceMm: 0, absorbs: 1 },
  { name: 'A hand before the lens', material: 'skin', distanceMm: 100, absorbs: 1 },
  { name: 'A wooden wall at 0.3 m', material: 'timber', distanceMm: 300, absorbs: 1 },
]

export interface ThingReading extends ThingInTheWay {
  /** Upper end, over the disc of the reading. */
  kWm2: number
  /** Steady temperature of a surface that loses heat on the lit side only; null for skin, which blood cools. */
  settlesC: number | null
  harm: Threshold['harm']
  /** Null: stays below the threshold. */
  secondsToHarm: number | null
  /** Until it is alight by itself or by a spark near by; null: never, or no figure is known. */
  secondsToIgnite: number | null
}

/** Rows of the ignition table. Timber: with a flame, beyond the charring that its threshold is for. */
const IGNITION_ROWS: Partial<Record<MaterialId, string>> = {
  'dry-grass': 'dry-grass',
  paper: 'paper',
  'dark-cloth': 'cotton',
  timber: 'wood',
  'black-plastic': 'abs',
}

/**
 * What happens to a thing in the beam: irradiance on it (kW/m², upper end), steady temperature (°C), seconds to harm
 * and to ignition (null: never, or no figure). `table` must have the thing's material. Sources:
 * src/library/thresholds.ts and ignition.ts.
 */
export function readThing(
  front: Front,
  thing: ThingInTheWay,
  table: readonly Threshold[],
  ambientC: number,
): ThingReading {
  const kWm2 = irradianceAt(front, Math.max(1, thing.distanceMm))
  const threshold = table.find((t) => t.id === thing.material)!
  const takenKWm2 = kWm2 * thing.absorbs
  const steadyC = steadyTemperatureC({
    takenKWm2,
    ambientC,
    emissivity: Math.max(0.05, Math.min(DULL_EMISSIVITY, thing.absorbs)),
  })
  const lit = IGNITION_ROWS[thing.material]
  return {
    ...thing,
    kWm2,
    secondsToIgnite: lit === undefined ? null : ignitionSeconds(ignitionMaterial(lit), takenKWm2, ambientC),
    settlesC: thing.material === 'skin' ? null : steadyC,
    harm: threshold.harm,
    secondsToHarm: secondsToHarm(threshold, kWm2, ambientC, thing.absorbs),
  }
}

export interface HarmAt {
  distanceMm: number
  /** Upper end. */
  kWm2: number
  /** Second-degree burn of bare skin; null under 1 kW/m². */
  skinBurnSeconds: number | null
  seconds: Record<MaterialId, number | null>
}

/**
 * Seconds to harm, material by material, at a distance from the front (mm), for whatever stays at the worst place of
 * that plane; null: stays below the threshold.
 */
export function readHarmAt(front: Front, distanceMm: number, table: readonly Threshold[], ambientC: number): HarmAt {
  const kWm2 = irradianceAt(front, distanceMm)
  const seconds = Object.fromEntries(table.map((t) => [t.id, secondsToHarm(t, kWm2, ambientC)]))
  return { distanceMm, kWm2, skinBurnSeconds: burnSeconds(kWm2), seconds: seconds as HarmAt['seconds'] }
}

/** The material's name in the table of thresholds. */
export const materialName = (id: MaterialId): string => MATERIALS[id].name
