// What the program says of a planted place, against the truth: the ratio, and the table by class.
import type { Lamp } from '../../src/lamp/schema.ts'
import { CLASSES, type PlantedClass, plant, type Zone } from './lamps.ts'
import type { Light } from './light.ts'
import { makeTracer } from './tracer.ts'
import { findTruth, type Truth } from './truth.ts'
import { placesOf } from './zones.ts'

/** A hot place in the air, as the program says it. */
export interface AirPlace {
  kWm2: number
  se: number
  xMm: number
  yMm: number
  zMm: number
  discMm: number
  zone: Zone
}

export type Say = (lamp: Lamp, light: Light) => Promise<readonly AirPlace[]>

export const DISC_MM = 10
const NEAR_MM = 15
/** Student's t of 95 % for 16 batches: screens show so many standard errors. */
const T95 = 2.131
/** Understated: under so much of the truth. */
const ENOUGH = 0.95

/** Null where no light comes to the planted place. */
export function truthOf(name: PlantedClass, seed: number): Truth | null {
  const { lamp, light, places, zone } = plant(name, seed)
  return findTruth(makeTracer(lamp, light), places, { discMm: DISC_MM, seed, allowed: placesOf(lamp, zone) })
}

export interface Compared {
  name: PlantedClass
  seed: number
  trueKWm2: number
  /** Greatest upper end near the place or, if that is more, in its zone; 0 where nothing is said. */
  upperKWm2: number
  /** The same of the places near it only. */
  nearKWm2: number
  ratio: number
}

export async function compare(say: Say, name: PlantedClass, seed: number, truth: Truth): Promise<Compared> {
  const { lamp, light, zone } = plant(name, seed)
  const places = (await say(lamp, light)).filter((p) => p.discMm <= DISC_MM + 1e-9)
  const most = (of: readonly AirPlace[]) => of.reduce((top, p) => Math.max(top, p.kWm2 + T95 * p.se), 0)
  const nearKWm2 = most(places.filter((p) => isNear(p, truth)))
  const upperKWm2 = Math.max(nearKWm2, most(places.filter((p) => p.zone === zone)))
  return { name, seed, trueKWm2: truth.kWm2, upperKWm2, nearKWm2, ratio: upperKWm2 / truth.kWm2 }
}

/** Within 15 mm across the light, and along it within 15 mm or the depth of its focus. */
function isNear({ xMm, yMm, zMm }: AirPlace, { at, along, depthMm }: Truth): boolean {
  const d = [xMm - at[0], yMm - at[1], zMm - at[2]] as const
  const ahead = d[0] * along[0] + d[1] * along[1] + d[2] * along[2]
  const across = Math.sqrt(Math.max(0, d[0] ** 2 + d[1] ** 2 + d[2] ** 2 - ahead ** 2))
  return across <= NEAR_MM && Math.abs(ahead) <= Math.max(NEAR_MM, depthMm)
}

export interface ClassRow {
  class: string
  lamps: number
  least: number
  median: number
  /** Said / true under 0.95. */
  understated: number
  /** Under a fifth: as good as not said. */
  unseen: number
}

export function tableOf(rows: readonly Compared[]): ClassRow[] {
  const of = (label: string, some: readonly Compared[]): ClassRow => {
    const ratios = some.map((r) => r.ratio).sort((a, b) => a - b)
    return {
      class: label,
      lamps: ratios.length,
      least: ratios[0] ?? Number.NaN,
      median: ratios[Math.floor(ratios.length / 2)] ?? Number.NaN,
      understated: ratios.filter((r) => r < ENOUGH).length,
      unseen: ratios.filter((r) => r < 0.2).length,
    }
  }
  const classes = CLASSES.filter((name) => rows.some((r) => r.name === name))
  return [
    ...classes.map((name) =>
      of(
        name,
        rows.filter((r) => r.name === name),
      ),
    ),
    of('all', rows),
  ]
}
