// Supply, main run and all drivers together: the voltage at which what the drivers draw is what the supply gives.
import { type Ask, type DriverAt, driveAt, heldInA, holdOf } from './driver.ts'

export interface BusAt {
  supplyA: number
  /** At the supply's own terminals. */
  terminalV: number
  busV: number
  channels: DriverAt[]
  /** The supply can't carry this load at any voltage. */
  overloaded: boolean
}

const TURNS = 200

/**
 * Constant power draws the more current the lower the voltage; from above (or from a guess nearby), turn by turn, this settles on the
 * upper of both solutions.
 */
export function busAt(openV: number, supplyOhm: number, mainOhm: number, asks: readonly Ask[], guessA = 0): BusAt {
  const ohm = supplyOhm + mainOhm
  const holds = asks.map(holdOf)
  let amps = guessA * ohm < openV / 2 ? guessA : 0
  for (let turn = 0; turn < TURNS; turn++) {
    const busV = openV - amps * ohm
    if (!(busV > 0)) break
    let next = 0
    for (const hold of holds) {
      const held = heldInA(hold, busV)
      next += held >= 0 ? held : driveAt(hold.ask, busV).inA
    }
    if (Math.abs(next - amps) <= 1e-12 + 1e-9 * next) {
      const channels = asks.map((ask) => driveAt(ask, busV))
      const supplyA = channels.reduce((sum, c) => sum + c.inA, 0)
      return { supplyA, terminalV: openV - supplyA * supplyOhm, busV, channels, overloaded: false }
    }
    // A driver that lets go raises the voltage again: half steps keep the two from chasing each other.
    amps = turn < 20 ? next : (amps + next) / 2
  }
  const off = asks.map((ask) => driveAt({ ...ask, tripped: true }, openV))
  return { supplyA: 0, terminalV: openV, busV: openV, channels: off, overloaded: true }
}
