// Reflected and refracted: both are followed while both carry enough of what the ray set out with; else one is drawn by its share.
import type { Random } from './random.ts'
import { type Crossing, type Ray, turnTo } from './ray.ts'

/** Where watts end: the lines of the program's ledger, so that both can be compared. */
export type Fate =
  | 'delivered'
  | 'face'
  | 'wall'
  | 'blocked'
  | 'behindFace'
  | 'leakedFaceGap'
  | 'leakedLensGap'
  | 'outsideLens'
  | 'lensRim'
  | 'lensAbsorbed'
  | 'roulette'
  | 'limit'

export interface Split {
  random: Random
  /** Both parts are followed above so many watts. */
  floorWatts: number
}

/** [reflected, refracted]; one of them null where one was drawn. The ray itself becomes one of the two. */
export function splitRay(ray: Ray, c: Crossing, { random, floorWatts }: Split): [Ray | null, Ray | null] {
  const r = c.reflectance
  if (r >= 1 || (Math.min(r, 1 - r) * ray.watts < floorWatts && random() < r)) {
    turnTo(ray, c.reflected)
    return [ray, null]
  }
  if (Math.min(r, 1 - r) * ray.watts < floorWatts) {
    turnTo(ray, c.refracted)
    return [null, ray]
  }
  const back = { ...ray, watts: r * ray.watts }
  turnTo(back, c.reflected)
  ray.watts *= 1 - r
  turnTo(ray, c.refracted)
  return [back, ray]
}
