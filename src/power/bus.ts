// Supply, main run and all drivers together: the voltage at which what the drivers draw is what the supply gives.
import { type Ask, type DriverAt, driveAt } from './driver.ts'

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

/** Constant power draws the more current the lower the voltage; from above, turn by turn, this settles on the upper of both solutions. */
export function busAt(openV: number, supplyOhm: number, mainOhm: number, asks: readonly Ask[]): BusAt {
  const ohm = supplyOhm + mainOhm
  let amps = 0
  let channels: DriverAt[] = []
  for (let turn = 0; turn < TURNS; turn++) {
    const busV = openV - amps * ohm
    if (!(busV > 0)) break
    channels = asks.map((ask) => driveAt(ask, busV))
    const next = channels.reduce((sum, c) => sum + c.inA, 0)
    const settled = Math.abs(next - amps) <= 1e-12 + 1e-10 * next
    // A driver that lets go raises the voltage again: half steps keep the two from chasing each other.
    amps = turn < 20 ? next : (amps + next) / 2
    if (settled) return { supplyA: next, terminalV: openV - next * supplyOhm, busV, channels, overloaded: false }
  }
  // No rest: those at their last hold let go for good; else the load is too heavy.
  const off = asks.map((ask) => driveAt({ ...ask, tripped: true }, openV))
  return { supplyA: 0, terminalV: openV, busV: openV, channels: off, overloaded: true }
}
