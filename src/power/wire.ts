// Copper wire: size by gauge, resistance by temperature, and what it may carry.
// Annealed copper: 1.7241e-8 Ωm at 20 °C (IEC 60028, 100 % IACS), 0.00393/K.
import type { Gauge } from '../lamp/schema.ts'
import { awgDiameterMm, gaugeAreaMm2, gaugeWords } from '../library/wireGauge.ts'

export { awgDiameterMm, gaugeAreaMm2, gaugeWords }

/** Resistivity of annealed copper at 20 °C, Ωm: IEC 60028, 100 % IACS. */
const RHO_20 = 1.7241e-8
/** Temperature coefficient of copper's resistance at 20 °C, 1/K: IEC 60028. */
const ALPHA = 0.00393

/** Resistance of one conductor, Ω/m, at a temperature in °C: ρ₂₀/A · (1 + α (T − 20)), IEC 60028. */
export const ohmPerM = (g: Gauge, celsius = 20): number =>
  (RHO_20 / (gaugeAreaMm2(g) * 1e-6)) * (1 + ALPHA * (celsius - 20))

/**
 * Copper, at most three conductors together, air of 30 °C; insulation of 60, 75, 90 °C. AWG 14 and thicker: NFPA 70 (NEC) 2023, table
 * 310.16 (second-hand). Thinner: NFPA 79, table 12.5.1 (memory), which has one value for 60 and 75 °C; it is taken for 90 °C too.
 */
const TABLE: readonly [awg: number, c60: number, c75: number, c90: number][] = [
  [30, 0.5, 0.5, 0.5],
  [28, 0.8, 0.8, 0.8],
  [26, 1, 1, 1],
  [24, 2, 2, 2],
  [22, 3, 3, 3],
  [20, 5, 5, 5],
  [18, 7, 7, 7],
  [16, 10, 10, 10],
  [14, 15, 20, 25],
  [12, 20, 25, 30],
  [10, 30, 35, 40],
  [8, 40, 50, 55],
  [6, 55, 65, 75],
  [4, 70, 85, 95],
  [2, 95, 115, 130],
  [0, 125, 150, 170],
]
/** Thinner than the table: in proportion to its area. Thicker: by its end and area^0.6 (no source; the safer side). */
const AREA_EXPONENT = 0.6

/** NEC 2023, table 310.15(C)(1) (second-hand): conductors that carry current in one bundle, and what is left. */
const BUNDLE: readonly [conductors: number, share: number][] = [
  [4, 0.8],
  [7, 0.7],
  [10, 0.5],
  [21, 0.45],
  [31, 0.4],
  [41, 0.35],
]

/** Share of a wire's ampacity left in a bundle of so many conductors that carry current: NEC 310.15(C)(1) (second-hand). */
export const bundleShare = (conductors: number): number => BUNDLE.findLast(([from]) => conductors >= from)?.[1] ?? 1

/**
 * Lasting current that a wire may carry, A, in air of airC °C and with so many conductors in its bundle: NEC table 310.16
 * (second-hand), below AWG 14 NFPA 79 table 12.5.1 (memory), with the corrections for warmer air and for bundles; colder air
 * brings no more. 0 in air as warm as the insulation's limit. Insulation over 90 °C: the column of 90 °C, corrected
 * with its own limit.
 */
export const ampacityA = (g: Gauge, insulationC: number, airC = TABLE_AIR_C, bundled = 2): number =>
  tableA(g, insulationC) * airCorrection(insulationC, airC) * bundleShare(bundled)

/** How a wire lies: what its ampacity hangs on. */
interface LaidWire {
  gauge: Gauge
  insulationC: number
  airC: number
  bundled: number
}

/**
 * Temperature of a wire's insulation, °C, at a lasting current of so many A: losses, and so the rise over the air, go with the square of the
 * current, and at the table's own current (a bundle counted) the rise is that of its column over 30 °C. AWG 14 and thicker, at `ampacityA` in air
 * of 30 °C and more: the insulation's limit. Thinner: NFPA 79 is stricter than heat asks; AWG 14's current by area^0.6 is taken, which meets
 * the 14 and 18 A that NEC 310.16 has for AWG 18 and 16 at 90 °C within 6 % (memory).
 */
export const insulationAtC = ({ gauge, insulationC, airC, bundled }: LaidWire, amps: number): number =>
  airC + (columnC(insulationC) - TABLE_AIR_C) * (amps / (thermalA(gauge, insulationC) * bundleShare(bundled))) ** 2

function thermalA(gauge: Gauge, insulationC: number): number {
  const share = gaugeAreaMm2(gauge) / gaugeAreaMm2(AWG_14)
  return share >= 0.999 ? tableA(gauge, insulationC) : tableA(AWG_14, insulationC) * share ** AREA_EXPONENT
}

const AWG_14: Gauge = { system: 'awg', number: 14 }
const TABLE_AIR_C = 30
const columnC = (insulationC: number): 60 | 75 | 90 => (insulationC < 75 ? 60 : insulationC < 90 ? 75 : 90)

/** The table's own correction, √((T_c − T_a)/(T_c − 30)) (NEC 310.15(B), second-hand); colder air brings no more. */
const airCorrection = (insulationC: number, airC: number): number =>
  Math.min(1, Math.sqrt(Math.max(0, insulationC - airC) / (columnC(insulationC) - TABLE_AIR_C)))

function tableA(g: Gauge, insulationC: number): number {
  const column = { 60: 1, 75: 2, 90: 3 } as const
  const rows = TABLE.map((r) => ({
    mm2: gaugeAreaMm2({ system: 'awg', number: r[0] }),
    amps: r[column[columnC(insulationC)]],
  }))
  const mm2 = gaugeAreaMm2(g)
  const [low, high] = [rows[0]!, rows[rows.length - 1]!]
  if (mm2 < low.mm2 * 0.999) return low.amps * (mm2 / low.mm2)
  if (mm2 > high.mm2) return high.amps * (mm2 / high.mm2) ** AREA_EXPONENT
  // Between two gauges the thinner one's.
  let amps = low.amps
  for (const row of rows) if (mm2 >= row.mm2 * 0.999) amps = row.amps
  return amps
}

/** Resistance out and back, with as many pairs of contacts each way, Ω. */
export function loopOhm(
  run: { gauge: Gauge; lengthMm: number; connectors: number },
  connectorMilliohm: number,
  celsius: number,
): number {
  return (2 * run.lengthMm * ohmPerM(run.gauge, celsius)) / 1000 + (2 * run.connectors * connectorMilliohm) / 1000
}
