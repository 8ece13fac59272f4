// The greatest or the least of many noisy places.
import { T95 } from '../num/stats.ts'
import type { Figure } from './figure.ts'

/**
 * A maximum (or minimum) over noisy places with its error, in their unit. `split`: found in one half of the batches and measured in the other,
 * which falls short of it on average, because noise may choose another place; `own`: the extreme of all batches themselves, which goes beyond it
 * on average, since the mean of a maximum is no less than the maximum of the means (Jensen's inequality). So it lies between the two, most often
 * nearer to the first: a third of the way, and half of it as ± beside that of the batches (our choice). Where noise chooses no places the two are one.
 * `way`: another share of the way, where places are so many that noise alone sets the two apart.
 */
export const betweenExtremes = (split: Figure, own: number, way = 1 / 3): Figure => ({
  value: split.value + (own - split.value) * way,
  se: Math.hypot(split.se, (own - split.value) / (2 * T95)),
})

/**
 * The root of an estimate (a variance, say) that noise may bring below 0: value, and an error so wide that ± holds the root of either end of its
 * own ±. In the root of its unit.
 */
export function rootOf({ value, se }: Figure): Figure {
  const least = Math.max(0, value)
  const middle = Math.sqrt(least)
  const [low, high] = [Math.sqrt(Math.max(0, least - T95 * se)), Math.sqrt(least + T95 * se)]
  return { value: middle, se: Math.max(high - middle, middle - low) / T95 }
}
