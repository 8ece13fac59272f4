// An emitter type prepared for thousands of look-ups: forward voltage and flux over current and junction temperature,
// monotone tables (Fritsch and Carlson 1980). Outside a table its end value holds, but for the voltage over the last current, which goes
// on rising as it did between the last two rows: else too little heat would be counted. `outside` reports both.
import type { EmitterType } from '../lamp/schema.ts'
import { emitterEfficacy } from '../library/emitterSpectrum.ts'
import { monotoneCubic } from '../num/interpolate.ts'

export interface EmitterTables {
  type: EmitterType
  lmPerW: number
  volts(currentA: number, junctionC: number): number
  fluxLm(currentA: number, junctionC: number): number
  /** The largest current that needs no more than so many volts. */
  currentA(volts: number, junctionC: number): number
  /** Tables that a working point lies outside of, in words. */
  outside(currentA: number, junctionC: number): string[]
}

type Curve = (x: number) => number

const curve = (x: readonly number[], y: readonly number[], otherwise: Curve): Curve =>
  x.length === 0 ? otherwise : monotoneCubic(x, y)

/**
 * The look-ups of one emitter type; A, V, lm, °C, Ω. No current gives no voltage and no flux. A missing table: flux
 * in proportion to current, voltage and flux constant over temperature. Tables as `readLamp` accepts them (rising).
 */
export function makeEmitterTables(type: EmitterType): EmitterTables {
  const forward = risingOn(
    type,
    curve(
      type.forward.map((r) => r.currentA),
      type.forward.map((r) => r.volts),
      () => 0,
    ),
  )
  const voltsRows = type.forwardByJunction ?? []
  const voltsBy = curve(
    voltsRows.map((r) => r.junctionC),
    voltsRows.map((r) => r.factor),
    () => 1,
  )
  const byCurrent = curve(
    type.fluxByCurrent.map((r) => r.currentA),
    type.fluxByCurrent.map((r) => r.factor),
    (a) => a / type.ratedCurrentA,
  )
  const byJunction = curve(
    type.fluxByJunction.map((r) => r.junctionC),
    type.fluxByJunction.map((r) => r.factor),
    () => 1,
  )
  const volts = (a: number, c: number) => (a > 0 ? forward(a) * voltsBy(c) : 0)
  return {
    type,
    lmPerW: emitterEfficacy(type),
    volts,
    fluxLm: (a, c) => (a > 0 ? type.fluxLm * byCurrent(a) * byJunction(c) : 0),
    currentA: (v, c) => findLargestCurrentA(v, c, volts, type),
    outside: (a, c) => {
      const warnings: string[] = []
      const check = (rows: readonly number[], x: number, what: string) => {
        // Half a kelvin, or a thousandth of an ampere, beyond the end is not reported.
        const slack = what.startsWith('junction') ? 0.5 : 1e-3
        if (rows.length > 0 && (x < rows[0]! - slack || x > rows[rows.length - 1]! + slack))
          warnings.push(`${what} is outside its table (${rows[0]} to ${rows[rows.length - 1]})`)
      }
      if (a > 0) {
        check(
          type.forward.map((r) => r.currentA),
          a,
          `current of ${Math.round(a * 1000) / 1000} A`,
        )
        check(
          type.fluxByJunction.map((r) => r.junctionC),
          c,
          `junction at ${Math.round(c)} °C`,
        )
      }
      return warnings
    },
  }
}

/** Over the last row by the straight line through the last two; a table of one row has no slope. */
function risingOn({ forward }: EmitterType, within: Curve): Curve {
  const last = forward[forward.length - 1]
  const before = forward[forward.length - 2]
  if (!last || !before) return within
  const slope = Math.max(0, (last.volts - before.volts) / (last.currentA - before.currentA))
  return (a) => (a <= last.currentA ? within(a) : last.volts + slope * (a - last.currentA))
}

function findLargestCurrentA(v: number, c: number, volts: (a: number, c: number) => number, type: EmitterType): number {
  let [low, high] = [0, type.maxCurrentA]
  if (volts(high, c) <= v) return high
  // Below the table's first current its voltage stays: there the current is taken to fall to zero in proportion.
  const first = type.forward[0]!.currentA
  const least = volts(first, c)
  if (v < least) return v < 0.9 * least ? 0 : first * ((v / least - 0.9) / 0.1)
  low = first
  for (let i = 0; i < 50; i++) {
    const mid = (low + high) / 2
    if (volts(mid, c) <= v) low = mid
    else high = mid
  }
  return low
}
