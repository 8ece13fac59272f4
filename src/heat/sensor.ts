// What a temperature sensor reads that follows its place with a lag: a store of heat of its own behind a resistance, τ dR/dt = T − R (first order;
// any textbook, lumped capacitance).

/**
 * Lag of a sensor whose document names none, s: a thermostat's disc or a screwed or glued NTC on metal, 5 to 20 s in still air (common
 * practice, no source); the slower end.
 */
export const USUAL_LAG_S = 20

/**
 * What it reads, °C, `seconds` after it read `readsC`, while its place warmed from fromC to toC along a straight line:
 * T₁ − rτ + (R₀ − T₀ + rτ) e^(−t/τ), r = (T₁ − T₀)/t. Without a lag: toC. The exact solution of the first-order equation.
 */
export function sensorAfterC(readsC: number, fromC: number, toC: number, seconds: number, lagS: number): number {
  if (!(lagS > 0) || !(seconds > 0)) return lagS > 0 ? readsC : toC
  const behindK = ((toC - fromC) * lagS) / seconds
  return toC - behindK + (readsC - fromC + behindK) * Math.exp(-seconds / lagS)
}

/** The same along a whole curve (s, °C): what it reads at each moment; at first it is as warm as its place. */
export function sensorCurveC(tS: ArrayLike<number>, placeC: ArrayLike<number>, lagS: number): Float64Array {
  const out = new Float64Array(tS.length)
  let readsC = placeC[0] ?? 0
  for (let i = 0; i < out.length; i++) {
    const before = Math.max(0, i - 1)
    const seconds = (tS[i] ?? 0) - (tS[before] ?? 0)
    readsC = sensorAfterC(readsC, placeC[before] ?? 0, placeC[i] ?? 0, seconds, lagS)
    out[i] = readsC
  }
  return out
}
