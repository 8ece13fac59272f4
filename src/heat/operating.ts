// The working point of each emitter: current and junction temperature give luminous flux; heat gives junction temperature.
// P = V_f I; heat = P − Φ_e; T_j = T_board + heat · R_th (JEDEC JESD51-51, real thermal resistance). Tables are interpolated
// monotonically (Fritsch & Carlson 1980); outside a table its end value holds, and the clamp is reported.
import { placeEmitters } from '../lamp/place.ts'
import type { EmitterType, Heat, Lamp } from '../lamp/schema.ts'
import { emitterEfficacy } from '../library/emitterSpectrum.ts'
import { monotoneCubic } from '../num/interpolate.ts'

export interface WorkingPoint {
  fluxLm: number
  junctionC: number
  volts: number
  inputW: number
  heatW: number
  /** Tables that had to be clamped, in words. */
  clamped: string[]
}

interface Row {
  x: number
  y: number
}

/** y at x, monotone; outside the table its end value, reported in `clamped`. An empty table gives `otherwise`. */
function lookUp(rows: readonly Row[], x: number, otherwise: number, what: string, clamped: string[]): number {
  if (rows.length === 0) return otherwise
  const first = rows[0]!
  const last = rows[rows.length - 1]!
  if (x < first.x || x > last.x) clamped.push(`${what} is outside its table (${first.x} to ${last.x})`)
  return monotoneCubic(
    rows.map((r) => r.x),
    rows.map((r) => r.y),
  )(x)
}

/**
 * Flux (lm), junction (°C), voltage, input and heat (W) of an emitter at a current in A ≥ 0. Junction as rated, or
 * T_j = T_board + P_heat R_th (JEDEC JESD51-51), by thirty fixed-point steps: the loop's gain is a few per cent.
 * Never throws: outside a table its end value holds and `clamped` reports it.
 */
export function solveWorkingPoint(emitter: EmitterType, currentA: number, heat: Heat): WorkingPoint {
  const clamped: string[] = []
  if (currentA === 0) {
    const junctionC = heat.kind === 'board' ? heat.boardC : emitter.ratedJunctionC
    return { fluxLm: 0, junctionC, volts: 0, inputW: 0, heatW: 0, clamped }
  }
  const byCurrent = lookUp(
    emitter.fluxByCurrent.map((r) => ({ x: r.currentA, y: r.factor })),
    currentA,
    currentA / emitter.ratedCurrentA,
    `current of ${currentA} A`,
    clamped,
  )
  const volts = lookUp(
    emitter.forward.map((r) => ({ x: r.currentA, y: r.volts })),
    currentA,
    0,
    `current of ${currentA} A`,
    clamped,
  )
  const softening = (emitter.forwardByJunction ?? []).map((r) => ({ x: r.junctionC, y: r.factor }))
  const voltsAt = (c: number) => volts * lookUp(softening, c, 1, '', [])
  let inputW = voltsAt(emitter.ratedJunctionC) * currentA
  const lmPerW = emitterEfficacy(emitter)
  const coolest = emitter.fluxByJunction.map((r) => ({ x: r.junctionC, y: r.factor }))
  let junctionC = emitter.ratedJunctionC
  let fluxLm = emitter.fluxLm * byCurrent
  let heatW = Math.max(0, inputW - fluxLm / lmPerW)
  if (heat.kind === 'board') {
    // Flux falls with temperature and heat rises as flux falls; the loop's gain is a few per cent, so it converges at once.
    for (let i = 0; i < 30; i++) {
      junctionC = heat.boardC + heatW * emitter.thermalResistanceKW
      const last = i === 29
      fluxLm =
        emitter.fluxLm *
        byCurrent *
        lookUp(coolest, junctionC, 1, `junction at ${Math.round(junctionC)} °C`, last ? clamped : [])
      inputW = voltsAt(junctionC) * currentA
      heatW = Math.max(0, inputW - fluxLm / lmPerW)
    }
  }
  return { fluxLm, junctionC, volts: inputW / currentA, inputW, heatW, clamped: [...new Set(clamped)] }
}

/** Flux of every emitter, lm, and its working point, both in placeEmitters order, at the boards' own currents. */
export function solveOperatingPoint(lamp: Lamp): { fluxLm: Float64Array; points: WorkingPoint[] } {
  const seen = new Map<string, WorkingPoint>()
  const points = placeEmitters(lamp).map(({ emitter, currentA }) => {
    const key = `${emitter.id}\n${currentA}`
    const known = seen.get(key) ?? solveWorkingPoint(emitter, currentA, lamp.heat)
    seen.set(key, known)
    return known
  })
  return { fluxLm: Float64Array.from(points, (p) => p.fluxLm), points }
}
