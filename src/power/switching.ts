// What the contactor, relay or switch in the main wire must carry: by mode, since a lamp that never runs its
// strongest mode needs less. References: [1] IEC 60059, standard current ratings: the R10 series, 1 1.25 1.6 2 2.5
// 3.15 4 5 6.3 8 × 10ⁿ A (memory).

const R10 = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8] as const
/** A lasting load takes four fifths of a rating at most, as with fuses (common practice, no source). */
const SWITCH_FACTOR = 1.25
/** Current that contacts bear while they close, of their rating: IEC 60947-4-1, DC-3 (memory). */
export const USUAL_MAKES = 4

export interface SwitchNeed {
  modeId: string
  mode: string
  /** Largest lasting current, A: at the emptiest supply, cold. */
  amps: number
  /** The smallest standard rating [1] for this lasting current, A. */
  ratingA: number
  /** Direct voltage that it must break: the full supply's. */
  volts: number
}

/** The smallest standard rating [1] of at least so many amperes; 1 A for no current. */
export function standardRatingA(leastA: number): number {
  if (!(leastA > 0)) return R10[0]
  const decade = 10 ** Math.floor(Math.log10(leastA) + 1e-12)
  const found = R10.find((r) => r * decade >= leastA * (1 - 1e-9))
  return Number(((found ?? 10) * decade).toPrecision(3))
}

/** Rating (A) and direct voltage (V) that the switch of one mode needs, for its largest lasting current. */
export const makeSwitchNeed = (modeId: string, mode: string, amps: number, volts: number): SwitchNeed => ({
  modeId,
  mode,
  amps,
  ratingA: standardRatingA(SWITCH_FACTOR * amps),
  volts,
})
