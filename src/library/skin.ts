// Bare skin in radiant heat: seconds to pain and to a burn. Four sources; where they differ the shorter time counts.
import { linear } from '../num/interpolate.ts'

/** FEMA, DOT, EPA, Handbook of Chemical Hazard Analysis Procedures (1989), Table 4.2. */
export const SKIN = {
  kWm2: [1, 2, 3, 4, 5, 6, 8, 10, 12],
  painSeconds: [115, 45, 27, 18, 13, 11, 7, 5, 4],
  burnSeconds: [663, 187, 92, 57, 40, 30, 20, 14, 11],
  source:
    'Handbook of Chemical Hazard Analysis Procedures (1989) Table 4.2; pain also Stoll and Greene, J. Appl. Physiol. 14 (1959) 373 (values from memory); burns also DESR 6055.09, t = 200 q^-1.46 s, and Stoll and Chianta (1969), the table of ASTM F1939 (second-hand). The shorter time counts',
} as const

/**
 * Stoll and Greene, J. Appl. Physiol. 14 (1959) 373: blackened skin of the forearm at 0.1, 0.15, 0.2, 0.3 and 0.4
 * cal/cm²s. Values from memory, as fire-safety handbooks print them.
 */
export const STOLL_GREENE = {
  kWm2: [4.2, 6.3, 8.4, 12.6, 16.8],
  painSeconds: [13.5, 7.8, 5.5, 2.9, 2.2],
  blisterSeconds: [33.8, 20.8, 13.4, 7.8, 5.6],
} as const

/** Second-degree burn: Stoll and Chianta (1969), as the table of ASTM F1939 and F955 prints it (second-hand). */
export const STOLL_CHIANTA = {
  kWm2: [4.5, 5.1, 6, 6.2, 6.4, 6.7, 7, 7.4, 7.7, 8.1, 8.6, 9.2, 9.8, 10.6, 11.5, 13, 14, 16, 19, 23, 31, 50],
  burnSeconds: [30, 25, 20, 19, 18, 17, 16, 15, 14, 13, 12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1],
} as const

/** Burn onset of DESR 6055.09. */
const burnOnset = (kWm2: number) => 200 * kWm2 ** -1.46

/** Along a table in the logarithms; beyond its end it falls as the burn formula falls, steeper than the tables: the hotter side. Null below it. */
function alongTable(fluxes: readonly number[], seconds: readonly number[], kWm2: number): number {
  const top = fluxes.length - 1
  if (kWm2 < fluxes[0]!) return Number.POSITIVE_INFINITY
  if (kWm2 > fluxes[top]!) return (seconds[top]! * burnOnset(kWm2)) / burnOnset(fluxes[top]!)
  return Math.exp(linear(fluxes.map(Math.log), seconds.map(Math.log), Math.log(kWm2)))
}

/**
 * Seconds until bare skin hurts at an irradiance (kW/m²): the shorter of both tables; null under 1 kW/m², about the
 * strength of full sun, where the longer table ends.
 */
export function painSeconds(kWm2: number): number | null {
  if (!(kWm2 >= 1)) return null
  const handbook = alongTable(SKIN.kWm2, SKIN.painSeconds, kWm2)
  return Math.min(handbook, alongTable(STOLL_GREENE.kWm2, STOLL_GREENE.painSeconds, kWm2))
}

/** Seconds until bare skin is burnt (second degree): the shortest of all sources. Null under 1 kW/m². */
export function burnSeconds(kWm2: number): number | null {
  if (!(kWm2 >= 1)) return null
  return Math.min(
    burnOnset(kWm2),
    alongTable(SKIN.kWm2, SKIN.burnSeconds, kWm2),
    alongTable(STOLL_GREENE.kWm2, STOLL_GREENE.blisterSeconds, kWm2),
    alongTable(STOLL_CHIANTA.kWm2, STOLL_CHIANTA.burnSeconds, kWm2),
  )
}
