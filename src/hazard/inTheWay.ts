// Things in the beam: the greatest irradiance on them, their temperature, the time to harm; and the same at a chosen distance.

import { elementsOf } from '../lamp/assembly.ts'
import type { MaterialId, ThingInTheWay } from '../lamp/danger.ts'
import type { Lamp } from '../lamp/schema.ts'
import { DULL_EMISSIVITY, steadyTemperatureC } from '../library/heatBalance.ts'
import { criticalAt, downThree, type IgnitionMaterial, ignitionMaterial, secondsToReach } from '../library/ignition.ts'
import { elementWords, frontWord } from '../library/lensSystem.ts'
import { burnSeconds } from '../library/skin.ts'
import { type AtDisc, MATERIALS, secondsToHarm, shareOf, type Threshold } from '../library/thresholds.ts'
import { distanceText } from '../num/quantity.ts'
import { coveredC, coveredLimitKWm2, type Layers, lensUnderC } from './balance.ts'
import { type Front, irradianceAt } from './front.ts'

/** Cases that every lamp meets sooner or later (our choice). */
export const USUAL_THINGS: readonly ThingInTheWay[] = [
  { name: 'A cover left on', material: 'black-plastic', distanceMm: 0, absorbs: 1 },
  { name: 'A bag over the lens', material: 'dark-cloth', distanceMm: 0, absorbs: 1 },
  { name: 'A hand before the lens', material: 'skin', distanceMm: 100, absorbs: 1 },
  { name: `A wooden wall at ${distanceText('0.3 m', 300)}`, material: 'timber', distanceMm: 300, absorbs: 1 },
  { name: 'A plastic bag over the lens', material: 'polyethylene', distanceMm: 0, absorbs: 1 },
  { name: 'A hand on the lens', material: 'skin', distanceMm: 0, absorbs: 1 },
]

/** The same with the lamp's own things, all as they come to harm (`readThing`); without a lens they lie on its front, and on no pane without one. */
export function readThings(
  front: Front,
  lamp: Lamp,
  table: readonly Threshold[],
  at: AtPlace = lightInFront(front),
): ThingReading[] {
  const usual = USUAL_THINGS.map((t) => ({ ...t, name: t.name.replace('lens', frontWord(lamp)) }))
  const foremost = elementsOf(lamp).at(-1)
  return [...usual, ...(lamp.danger?.things ?? [])].map((t) => {
    const thing = readThing(front, t, table, lamp.reading.ambientC, at)
    if (!foremost) return { ...thing, lensBehindC: null }
    return foremost.isLens ? thing : { ...thing, liesOn: elementWords(foremost) }
  })
}

/** Up to here a thing lies on the lens (our choice). */
const ON_LENS_MM = 5
/** Cloth and film fall into folds. */
const FOLDS: readonly MaterialId[] = ['dark-cloth', 'synthetic-cloth', 'polyethylene']

/** How a thing lies on the lens; null for what stands away from it, and for skin. */
export const layersOf = (thing: Pick<ThingInTheWay, 'material' | 'distanceMm'>): Layers | null =>
  thing.distanceMm > ON_LENS_MM || thing.material === 'skin' ? null : FOLDS.includes(thing.material) ? 2 : 1

export interface ThingReading extends ThingInTheWay {
  /** Upper end, over the disc of its material. */
  kWm2: number
  /** Steady temperature of a surface that loses heat on the lit side only; null for skin, which blood cools. */
  settlesC: number | null
  harm: Threshold['harm']
  /** Light on it from which the harm comes: for what lies on the lens that of its own balance, if lower. */
  limitKWm2: number
  /** What it takes in, of that limit: below 1 the harm doesn't come. */
  shareOfLimit: number
  /** Null: stays below the threshold. */
  secondsToHarm: number | null
  /** Until it is alight by itself or by a spark near by; null: never, or no figure is known. */
  secondsToIgnite: number | null
  /** Timber: until it passes the 90 °C of the lamp standard for lit surfaces; null: never, or no timber. */
  secondsTo90C: number | null
  /** Of the lens under it, where it lies on the lens; else null. */
  lensBehindC: number | null
  /** What is foremost in the lamp, in words, where that isn't the lens: `lensBehindC` is then of this. */
  liesOn?: string
}

/** Rows of the ignition table. Timber: with a flame, beyond the charring that its threshold is for. */
const IGNITION_ROWS: Partial<Record<MaterialId, string>> = {
  'dry-grass': 'dry-grass',
  paper: 'paper',
  'dark-cloth': 'cotton',
  timber: 'wood',
  'lit-surface': 'wood-long',
  'black-plastic': 'abs',
  pvc: 'pvc',
  'synthetic-cloth': 'synthetic-cloth',
  polyethylene: 'polyethylene',
}

/** Irradiance, kW/m², upper end, at a distance from the front over a disc. */
export type AtPlace = (distanceMm: number, discMm: number) => number

/** The curve of this disc stands for all smaller ones, mm: the thermal aperture of skin. */
export const SMALL_DISC_MM = 3.5

/**
 * What the front's curve has at a distance, and for discs up to SMALL_DISC_MM what the curve of that disc has where it is hotter; what
 * lies on the lens gets at least what falls on the lens itself (kW/m², its hottest place, losses in the lens left out: the hot side).
 */
export const lightInFront =
  (front: Front, { small, onLensKWm2 = 0 }: { small?: Front; onLensKWm2?: number | undefined } = {}): AtPlace =>
  (distanceMm, discMm) =>
    Math.max(
      irradianceAt(front, distanceMm),
      small && discMm <= SMALL_DISC_MM ? irradianceAt(small, distanceMm) : 0,
      distanceMm <= ON_LENS_MM ? onLensKWm2 : 0,
    )

/**
 * What happens to a thing in the beam: irradiance on it (kW/m², upper end, over its material's disc), steady temperature
 * (°C), seconds to harm and to ignition (null: never, or no figure). What lies on the lens takes in all of the light and
 * has the balance of `coveredC`. `table` must have the thing's material. Sources: src/library/thresholds.ts and
 * ignition.ts.
 */
export function readThing(
  front: Front,
  thing: ThingInTheWay,
  table: readonly Threshold[],
  ambientC: number,
  at: AtPlace = lightInFront(front),
): ThingReading {
  const threshold = table.find((t) => t.id === thing.material)!
  const layers = layersOf(thing)
  const kWm2 = at(Math.max(1, thing.distanceMm), threshold.discMm)
  const absorbs = layers === null ? thing.absorbs : 1
  const taken = kWm2 * absorbs
  const limit = limitOf(threshold, layers, ambientC)
  const settlesC = thing.material === 'skin' ? null : settles(taken, absorbs, ambientC, layers)
  const lit = IGNITION_ROWS[thing.material]
  return {
    ...thing,
    kWm2,
    settlesC,
    harm: threshold.harm,
    limitKWm2: limit,
    shareOfLimit: shareOf(taken, limit),
    secondsToHarm: secondsToHarm({ id: thing.material, kWm2: limit }, taken, ambientC),
    secondsToIgnite: lit === undefined ? null : igniteSeconds(ignitionMaterial(lit), taken, ambientC, layers),
    secondsTo90C: thing.material === 'timber' ? over90Seconds(table, taken, ambientC) : null,
    lensBehindC: layers === null || settlesC === null ? null : lensUnderC(settlesC, ambientC),
  }
}

function settles(takenKWm2: number, absorbs: number, ambientC: number, layers: Layers | null): number {
  if (layers !== null) return coveredC(takenKWm2, ambientC, layers)
  const emissivity = Math.max(0.05, Math.min(DULL_EMISSIVITY, absorbs))
  return steadyTemperatureC({ takenKWm2, ambientC, emissivity })
}

/** The lamp's own threshold stands as it was set. */
function limitOf(t: Threshold, layers: Layers | null, ambientC: number): number {
  const { toC } = MATERIALS[t.id]
  if (layers !== 2 || toC === null || t.changedFrom !== null) return t.kWm2
  return Math.min(t.kWm2, downThree(coveredLimitKWm2(toC, ambientC, layers)))
}

function igniteSeconds(m: IgnitionMaterial, taken: number, ambientC: number, layers: Layers | null): number | null {
  const folded = layers === 2 ? coveredLimitKWm2(m.ignitionC, ambientC, layers) : Number.POSITIVE_INFINITY
  const limit = Math.min(criticalAt(m, ambientC), folded)
  return taken >= limit ? secondsToReach(m, m.ignitionC, taken, ambientC) : null
}

function over90Seconds(table: readonly Threshold[], taken: number, ambientC: number): number | null {
  const surface = table.find((t) => t.id === 'lit-surface')
  return surface ? secondsToHarm(surface, taken, ambientC) : null
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
export function readHarmAt(
  front: Front,
  distanceMm: number,
  table: readonly Threshold[],
  ambientC: number,
  at: AtPlace = lightInFront(front),
): HarmAt {
  const light: AtDisc = (discMm) => at(distanceMm, discMm)
  const seconds = Object.fromEntries(table.map((t) => [t.id, secondsToHarm(t, light, ambientC)]))
  return {
    distanceMm,
    kWm2: irradianceAt(front, distanceMm),
    skinBurnSeconds: burnSeconds(light(MATERIALS.skin.discMm)),
    seconds: seconds as HarmAt['seconds'],
  }
}

/** The material's name in the table of thresholds. */
export const materialName = (id: MaterialId): string => MATERIALS[id].name
