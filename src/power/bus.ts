// Supply, main run and all drivers together: the voltage at which what the drivers draw is what the supply gives.
import { brent } from '../num/roots.ts'
import { type Ask, type DriverAt, driveAt, type Hold, heldInA, holdOf } from './driver.ts'

export interface BusAt {
  supplyA: number
  /** At the supply's own terminals. */
  terminalV: number
  busV: number
  channels: DriverAt[]
  /** The supply can't carry this load at any voltage. */
  overloaded: boolean
}

/** DeviceQueue of the quick way; each brings it closer by the share of the voltage that the wires take. */
const TURNS = 12
const STEPS = 40

/**
 * All drivers at rest: V = V₀ − R ΣI(V), of several solutions the highest, or the one nearest to a guess. Where drivers only hold
 * their currents it is found turn by turn; where they sag, between bounds. Where there is no rest (a driver pulls the voltage under its
 * own least input, lets go, and the voltage rises again) those drivers are off.
 */
export function busAt(openV: number, supplyOhm: number, mainOhm: number, asks: readonly Ask[], guessA = 0): BusAt {
  const ohm = supplyOhm + mainOhm
  const holds = asks.map(holdOf)
  const drawn = (busV: number) => {
    if (!(busV > 0)) return 0
    let sum = 0
    for (const hold of holds) {
      const held = heldInA(hold, busV)
      sum += held >= 0 ? held : driveAt(hold.ask, busV).inA
    }
    return sum
  }
  const whole = (busV: number, overloaded: boolean): BusAt => {
    const channels = asks.map((ask) => driveAt(ask, busV))
    const supplyA = channels.reduce((sum, c) => sum + c.inA, 0)
    return { supplyA, terminalV: openV - supplyA * supplyOhm, busV, channels, overloaded }
  }
  const quick = turnByTurn(openV, ohm, holds, guessA)
  if (quick !== null) return whole(quick, false)
  const found = between(openV, ohm, drawn, guessA)
  if (found.rests) return whole(found.busV, false)
  const low = asks.map((ask) => driveAt(ask, found.busV))
  const rest = asks.map((ask, i) => (low[i]!.state === 'off' ? { ...ask, tripped: true } : ask))
  if (rest.every((ask, i) => ask.tripped === asks[i]!.tripped)) return whole(found.busV, true)
  return { ...busAt(openV, supplyOhm, mainOhm, rest, 0), overloaded: true }
}

/** Null as soon as one of them does not plainly hold. */
function turnByTurn(openV: number, ohm: number, holds: readonly Hold[], guessA: number): number | null {
  let amps = guessA * ohm < openV / 2 ? guessA : 0
  for (let turn = 0; turn < TURNS; turn++) {
    const busV = openV - amps * ohm
    if (!(busV > 0)) return null
    let next = 0
    for (const hold of holds) {
      const held = heldInA(hold, busV)
      if (held < 0 && hold.load > 0 && !hold.ask.tripped) return null
      next += Math.max(0, held)
    }
    if (Math.abs(next - amps) <= 1e-12 + 1e-9 * next) return busV
    amps = next
  }
  return null
}

function between(openV: number, ohm: number, drawn: (v: number) => number, guessA: number) {
  /** Above zero: more is drawn than leaves this voltage. */
  const over = (v: number) => v - openV + ohm * drawn(v)
  let [low, high] = bounds(openV, over, guessA > 0 ? openV - guessA * ohm : null)
  const busV = brent(over, low, high, 1e-8 * openV) ?? low
  // A jump is no root: what is drawn there doesn't fit the voltage.
  const rests = Math.abs(over(busV)) < 1e-5 * openV
  if (rests) return { busV, rests }
  for (let i = 0; i < 60 && high - low > 1e-9 * openV; i++) {
    const mid = (low + high) / 2
    if (over(mid) > 0) high = mid
    else low = mid
  }
  return { busV: low, rests: false }
}

function bounds(openV: number, over: (v: number) => number, near: number | null): [number, number] {
  for (let reach = 0.004 * openV; near !== null && reach < 0.1 * openV; reach *= 4) {
    const [low, high] = [Math.max(0, near - reach), Math.min(openV, near + reach)]
    if (over(low) < 0 && over(high) > 0) return [low, high]
  }
  let high = openV
  for (let i = STEPS - 1; i > 0; i--) {
    const low = (openV * i) / STEPS
    if (over(low) < 0) return [low, high]
    high = low
  }
  return [0, high]
}
