// How strings side by side share a current, and what a board draws that a failed driver has put on the supply. Kirchhoff; no other source.
import { brent } from '../num/roots.ts'

/** Spread of forward voltage within one delivery, of the voltage (typical, from memory); in a string of n it falls as 1/√n. */
export const VOLTS_SPREAD = 0.02

/**
 * Largest current in one of `strings` strings that share totalA, A, where its voltage lies lower by `lower` (a share)
 * than the others' at the same current: V((I − x)/(n − 1)) = (1 − lower) V(x). `stringV` must not fall. One string, or
 * no difference: the even share.
 */
export function unevenShareA(
  totalA: number,
  strings: number,
  stringV: (amps: number) => number,
  lower: number,
): number {
  const even = totalA / strings
  if (strings < 2 || !(lower > 0)) return even
  const over = (x: number) => stringV((totalA - x) / (strings - 1)) - (1 - lower) * stringV(x)
  return brent(over, even, totalA, 1e-9 * totalA) ?? totalA
}

/**
 * Current through boards that stand on the supply itself, A: openV = I R + V(I), R in Ω of everything on the way. 0
 * where the boards need more than the supply has. `boardV` must not fall; without resistance it must rise.
 */
export function shortedDriverA(openV: number, ohm: number, boardV: (amps: number) => number): number {
  const over = (amps: number) => openV - amps * ohm - boardV(amps)
  let high = 1
  // Small enough that no board draws less.
  const low = 1e-6
  if (!(over(low) > 0)) return 0
  while (over(high) > 0 && high < MOST_A) high *= 2
  return brent(over, low, high, 1e-9 * high) ?? MOST_A
}

/** No supply of a lamp gives more. */
const MOST_A = 1e6
