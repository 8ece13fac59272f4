// A constant-current driver at an input voltage. A buck (or linear) driver holds its current as long as the input is
// above what the string needs by its headroom; below that the current falls to what the voltage allows; under its
// least input it lets go. Input power = output power / efficiency; in a linear driver the input current equals the
// output current, and it burns the difference of voltages. Conservation of energy; no other source.
import type { Driver } from '../lamp/schema.ts'
import { brent } from '../num/roots.ts'

export type DriverState = 'holds' | 'sags' | 'off' | 'input too high'

export interface DriverRequest {
  driver: Driver
  /** Output current wanted while it is on, A. */
  outA: number
  /** Share of time it is on (dimming by pulse width). */
  duty: number
  /** At the board's terminals for an output current, V. */
  boardV(outA: number): number
  inOhm: number
  outOhm: number
  /** Let go before, and stays off. */
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

/**
 * The driver's state, V, A and losses in W, at the voltage of the place where the channels branch. Off when it has
 * tripped, has nothing to drive, or its input is too low. Never throws.
 */
export function operateDriver(request: DriverRequest, busV: number): DriverAt {
  const { driver, outA } = request
  if (request.tripped || !(outA > 0) || !(request.duty > 0) || !(busV > 0)) return { ...OFF, inV: busV }
  const wanted = operatingPointAt(request, busV, outA)
  const regulates = wanted && meetsHeadroom(request, wanted)
  const found = regulates ? wanted : solveSag(request, busV)
  if (!found || found.inV < driver.inputMinV) return { ...OFF, inV: found ? found.inV : busV }
  const tooHigh = found.inV > driver.inputMaxV || (driver.kind === 'boost' && !isBoosting(request, found))
  found.state = tooHigh ? 'input too high' : regulates ? 'holds' : 'sags'
  return found
}

/** What a driver needs to hold its current, computed once for many voltages of the bus. */
export interface RegulatedLoad {
  request: DriverRequest
  needV: number
  /** Mean input power; of a linear driver its mean current instead. */
  load: number
}

/**
 * The load of a driver that holds its current, computed once for many voltages of the bus: output voltage (V) and
 * mean input power (W; of a linear driver its mean input current, A).
 */
export function regulatedLoadOf(request: DriverRequest): RegulatedLoad {
  const needV = outputV(request, request.outA)
  const { kind, efficiency } = request.driver
  return { request, needV, load: request.duty * request.outA * (kind === 'linear' ? 1 : needV / efficiency) }
}

/**
 * Mean input current, A, of a driver that clearly holds its current at this bus voltage: I = 2P/(V + √(V² − 4RP)). −1
 * where that is not clear, and `operateDriver` must decide.
 */
export function regulatedInputA({ request, needV, load }: RegulatedLoad, busV: number): number {
  const { driver, inOhm } = request
  if (request.tripped || !(load > 0)) return -1
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

const outputV = (request: DriverRequest, outA: number) => request.boardV(outA) + outA * request.outOhm

const isBoosting = (request: DriverRequest, d: DriverAt) => outputV(request, d.outA) >= d.inV + request.driver.headroomV

function meetsHeadroom(request: DriverRequest, d: DriverAt): boolean {
  const { kind, headroomV } = request.driver
  return kind === 'boost' || kind === 'buck-boost' || d.inV >= outputV(request, d.outA) + headroomV
}

/** Null where the wires before it can't carry so much power at all. */
function operatingPointAt(request: DriverRequest, busV: number, outA: number): DriverAt | null {
  const boardV = request.boardV(outA)
  const needV = boardV + outA * request.outOhm
  let inA: number
  if (request.driver.kind === 'linear') inA = request.duty * outA
  else {
    // V − R I = P / I, the lesser of both currents.
    const p = (request.duty * needV * outA) / request.driver.efficiency
    const under = busV * busV - 4 * request.inOhm * p
    if (under < 0) return null
    inA = (2 * p) / (busV + Math.sqrt(under))
  }
  const inV = busV - inA * request.inOhm
  const wireW = inA * inA * request.inOhm + request.duty * outA * outA * request.outOhm
  const driverW = inV * inA - request.duty * needV * outA
  return { state: 'holds', inV, inA, outA, duty: request.duty, boardV, driverW, wireW }
}

/** The largest current that leaves the headroom; null where there is none. */
function solveSag(request: DriverRequest, busV: number): DriverAt | null {
  const { headroomV, efficiency, kind } = request.driver
  const room = (outA: number) => {
    const needV = outputV(request, outA)
    let inA = request.duty * outA
    if (kind !== 'linear') {
      const p = (inA * needV) / efficiency
      const under = busV * busV - 4 * request.inOhm * p
      if (under < 0) return -busV
      inA = (2 * p) / (busV + Math.sqrt(under))
    }
    return busV - inA * request.inOhm - needV - headroomV
  }
  const outA = brent(room, 1e-6 * request.outA, request.outA, 1e-9 * request.outA)
  return outA === null ? null : operatingPointAt(request, busV, outA)
}
