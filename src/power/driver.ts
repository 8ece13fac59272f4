// A constant-current driver at an input voltage. A buck (or linear) driver holds its current as long as the input stands above what the
// string needs by its headroom; below that the current falls to what the voltage allows; under its least input it lets go.
// Input power = output power / efficiency; a linear driver takes in what it gives out, and burns the difference of voltages.
import type { Driver } from '../lamp/schema.ts'
import { brent } from '../num/roots.ts'

export type DriverState = 'holds' | 'sags' | 'off' | 'input too high'

export interface Ask {
  driver: Driver
  /** Output current wanted while it is on, A. */
  outA: number
  /** Share of time it is on (dimming by pulse width). */
  duty: number
  /** At the board's terminals for an output current, V. */
  boardV(outA: number): number
  inOhm: number
  outOhm: number
  /** Let go before, and stays so. */
  tripped: boolean
}

export interface DriverAt {
  state: DriverState
  inV: number
  /** Mean over the pulses. */
  inA: number
  /** While it is on. */
  outA: number
  duty: number
  boardV: number
  /** Lost in the driver, and in the wires before and after it, W. */
  driverW: number
  wireW: number
}

const OFF: DriverAt = { state: 'off', inV: 0, inA: 0, outA: 0, duty: 0, boardV: 0, driverW: 0, wireW: 0 }

/** At the voltage of the place where the channels branch. */
export function driveAt(ask: Ask, busV: number): DriverAt {
  const { driver, outA } = ask
  if (ask.tripped || !(outA > 0) || !(ask.duty > 0) || !(busV > 0)) return { ...OFF, inV: busV }
  const wanted = at(ask, busV, outA)
  const held = wanted && meetsHeadroom(ask, wanted)
  const found = held ? wanted : sagged(ask, busV)
  if (!found || found.inV < driver.inputMinV) return { ...OFF, inV: found ? found.inV : busV }
  const tooHigh = found.inV > driver.inputMaxV || (driver.kind === 'boost' && !boosts(ask, found))
  found.state = tooHigh ? 'input too high' : held ? 'holds' : 'sags'
  return found
}

/** What holding its current asks for, worked out once for many voltages of the bus. */
export interface Hold {
  ask: Ask
  needV: number
  /** Mean input power; of a linear driver its mean current instead. */
  load: number
}

export function holdOf(ask: Ask): Hold {
  const needV = outV(ask, ask.outA)
  const { kind, efficiency } = ask.driver
  return { ask, needV, load: ask.duty * ask.outA * (kind === 'linear' ? 1 : needV / efficiency) }
}

/** Input current of a driver that plainly holds at this voltage; −1 where that must be looked into (`driveAt`). */
export function heldInA({ ask, needV, load }: Hold, busV: number): number {
  const { driver, inOhm } = ask
  if (ask.tripped || !(load > 0)) return -1
  let inA = load
  if (driver.kind !== 'linear') {
    const under = busV * busV - 4 * inOhm * load
    if (under < 0) return -1
    inA = (2 * load) / (busV + Math.sqrt(under))
  }
  const inV = busV - inA * inOhm
  if (inV < driver.inputMinV || inV > driver.inputMaxV) return -1
  if (driver.kind === 'boost') return needV >= inV + driver.headroomV ? inA : -1
  return driver.kind === 'buck-boost' || inV >= needV + driver.headroomV ? inA : -1
}

const outV = (ask: Ask, outA: number) => ask.boardV(outA) + outA * ask.outOhm

const boosts = (ask: Ask, d: DriverAt) => outV(ask, d.outA) >= d.inV + ask.driver.headroomV

function meetsHeadroom(ask: Ask, d: DriverAt): boolean {
  const { kind, headroomV } = ask.driver
  return kind === 'boost' || kind === 'buck-boost' || d.inV >= outV(ask, d.outA) + headroomV
}

/** Null where the wires before it can't carry so much power at all. */
function at(ask: Ask, busV: number, outA: number): DriverAt | null {
  const boardV = ask.boardV(outA)
  const needV = boardV + outA * ask.outOhm
  let inA: number
  if (ask.driver.kind === 'linear') inA = ask.duty * outA
  else {
    // V − R I = P / I, the lesser of both currents.
    const p = (ask.duty * needV * outA) / ask.driver.efficiency
    const under = busV * busV - 4 * ask.inOhm * p
    if (under < 0) return null
    inA = (2 * p) / (busV + Math.sqrt(under))
  }
  const inV = busV - inA * ask.inOhm
  const wireW = inA * inA * ask.inOhm + ask.duty * outA * outA * ask.outOhm
  const driverW = inV * inA - ask.duty * needV * outA
  return { state: 'holds', inV, inA, outA, duty: ask.duty, boardV, driverW, wireW }
}

/** The largest current that leaves the headroom; null where there is none. */
function sagged(ask: Ask, busV: number): DriverAt | null {
  const { headroomV, efficiency, kind } = ask.driver
  const room = (outA: number) => {
    const needV = outV(ask, outA)
    let inA = ask.duty * outA
    if (kind !== 'linear') {
      const p = (inA * needV) / efficiency
      const under = busV * busV - 4 * ask.inOhm * p
      if (under < 0) return -busV
      inA = (2 * p) / (busV + Math.sqrt(under))
    }
    return busV - inA * ask.inOhm - needV - headroomV
  }
  const least = 1e-6 * ask.outA
  if (!(room(least) > 0)) return null
  const outA = brent(room, least, ask.outA, 1e-9 * ask.outA)
  return outA === null ? null : at(ask, busV, outA)
}
