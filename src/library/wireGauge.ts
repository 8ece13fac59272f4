// Sizes of copper wire by gauge. ASTM B258: d = 0.127 mm · 92^((36 − n)/39).
import type { Gauge } from '../lamp/schema.ts'

/** Diameter of a gauge number (0 is 1/0, −3 is 4/0), mm: ASTM B258. */
export const awgDiameterMm = (n: number): number => 0.127 * 92 ** ((36 - n) / 39)

/** Cross-section of the copper, mm². */
export const gaugeAreaMm2 = (g: Gauge): number =>
  g.system === 'mm2' ? g.mm2 : (Math.PI / 4) * awgDiameterMm(g.number) ** 2

/** The gauge as it is written: "1.5 mm²", "AWG 12", "AWG 2/0". */
export const gaugeWords = (g: Gauge): string =>
  g.system === 'mm2' ? `${g.mm2} mm²` : g.number > 0 ? `AWG ${g.number}` : `AWG ${1 - g.number}/0`
