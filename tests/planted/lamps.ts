// The planted sets: lamps drawn by class and seed, each with a place that geometry makes hot, and where light is to be searched.
import type { Lamp } from '../../src/lamp/schema.ts'
import type { Light } from './light.ts'
import { OWN_CLASSES } from './ownLamps.ts'
import { type Dice, makeDice, makeRandom } from './random.ts'
import { SUN_CLASSES } from './sunLamps.ts'
import type { Planted } from './truth.ts'

export type Zone = 'front' | 'inside' | 'outside'

export interface PlantedLamp {
  lamp: Lamp
  light: Light
  zone: Zone
  /** Starting places, by geometry; the truth is the hottest near any of them. */
  places: Planted[]
}

export type Draw = (d: Dice, seed: number) => PlantedLamp

const DRAWS = { ...OWN_CLASSES, ...SUN_CLASSES }

export type PlantedClass = keyof typeof DRAWS
export const CLASSES = Object.keys(DRAWS) as PlantedClass[]

/** The lamp of a class and seed; the same every time. */
export function plant(name: PlantedClass, seed: number): PlantedLamp {
  const d = makeDice(makeRandom(1000 * CLASSES.indexOf(name) + seed))
  return DRAWS[name](d, seed)
}
