// Supply, main run and all drivers together: the voltage at which what the drivers draw is what the supply gives.
import { brent } from '../num/roots.ts'
import { type DriverAt, type DriverRequest, operateDriver, regulatedInputA, regulatedLoadOf } from './driver.ts'

export interface BusAt {
  supplyA: number
  /** At the supply's own terminals. */
  terminalV: number
  busV: number
  channels: DriverAt[]
  /** The supply can't carry this load at any voltage. */
  overloaded: boolean
}

/** Of the open voltage, from the top down, until a step holds the highest state at rest. */
const STEPS = 40

/**
 * The state in which all drivers are at rest: V = V₀ − R ΣI(V) (Kirchhoff), V and Ω; of several solutions the
 * highest, or the one near guessA if there is one.
 * Where there is no rest (a driver pulls the voltage under its own least input, lets go, and the voltage rises again)
 * those drivers are off and `overloaded` is set. Never throws.
 */
export function solveBus(
  openV: number,
  supplyOhm: number,
  mainOhm: number,
  requests: readonly DriverRequest[],
  guessA = 0,
): BusAt {
  const ohm = supplyOhm + mainOhm
  const loads = requests.map(regulatedLoadOf)
  const drawn = (busV: number) => {
    if (!(busV > 0)) return 0
    let sum = 0
    for (const hold of loads) {
      const regulatedA = regulatedInputA(hold, busV)
      sum += regulatedA >= 0 ? regulatedA : operateDriver(hold.request, busV).inA
    }
    return sum
  }
  const whole = (busV: number, overloaded: boolean): BusAt => {
    const channels = requests.map((request) => operateDriver(request, busV))
    const supplyA = channels.reduce((sum, c) => sum + c.inA, 0)
    return { supplyA, terminalV: openV - supplyA * supplyOhm, busV, channels, overloaded }
  }
  const found = solveBracketed(openV, ohm, drawn, guessA)
  if (found.rests) return whole(found.busV, false)
  const low = requests.map((request) => operateDriver(request, found.busV))
  const remaining = requests.map((request, i) => (low[i]!.state === 'off' ? { ...request, tripped: true } : request))
  if (remaining.every((request, i) => request.tripped === requests[i]!.tripped)) return whole(found.busV, true)
  return { ...solveBus(openV, supplyOhm, mainOhm, remaining, 0), overloaded: true }
}

/** Where there is no rest: just under the voltage at which a driver lets go. */
function solveBracketed(openV: number, ohm: number, drawn: (v: number) => number, guessA: number) {
  /** Above zero: more is drawn than leaves this voltage. */
  const over = (v: number) => v - openV + ohm * drawn(v)
  /** Null for a jump, which is no root: what is drawn there doesn't fit the voltage. */
  const restIn = ([low, high]: Bracket): number | null => {
    const busV = brent(over, low, high, 1e-10 * openV) ?? low
    return Math.abs(over(busV)) < 1e-5 * openV ? busV : null
  }
  const near = guessA > 0 ? bracketNear(openV, over, openV - guessA * ohm) : null
  const nearV = near && restIn(near)
  if (nearV !== null) return { busV: nearV, rests: true }
  let [low, high] = highestBracket(openV, over)
  const busV = restIn([low, high])
  if (busV !== null) return { busV, rests: true }
  while (high - low > 1e-9 * openV) {
    const mid = (low + high) / 2
    if (over(mid) > 0) high = mid
    else low = mid
  }
  return { busV: low, rests: false }
}

type Bracket = readonly [low: number, high: number]

function bracketNear(openV: number, over: (v: number) => number, nearV: number): Bracket | null {
  for (let reach = 0.004 * openV; reach < 0.1 * openV; reach *= 4) {
    const [low, high] = [Math.max(0, nearV - reach), Math.min(openV, nearV + reach)]
    if (over(low) < 0 && over(high) > 0) return [low, high]
  }
  return null
}

function highestBracket(openV: number, over: (v: number) => number): Bracket {
  let high = openV
  for (let i = STEPS - 1; i > 0; i--) {
    const low = (openV * i) / STEPS
    if (over(low) < 0) return [low, high]
    high = low
  }
  return [0, high]
}
