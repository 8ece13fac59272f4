// Sizes of copper wire by gauge. ASTM B258: d = 0.127 mm · 92^((36 − n)/39).
import type { Gauge } from '../lamp/schema.ts'
import { inEither } from '../num/quantity.ts'

/** Diameter of a gauge number (0 is 1/0, −3 is 4/0), mm: ASTM B258. */
export const awgDiameterMm = (n: number): number => 0.127 * 92 ** ((36 - n) / 39)

/** Cross-section of the copper, mm². */
export const gaugeAreaMm2 = (g: Gauge): number =>
  g.system === 'mm2' ? g.mm2 : (Math.PI / 4) * awgDiameterMm(g.number) ** 2

/** The gauge as it is written: "1.5 mm²", "AWG 12", "AWG 2/0". */
export const gaugeWords = (g: Gauge): string => (g.system === 'mm2' ? `${g.mm2} mm²` : awgWords(g.number))

const awgWords = (n: number): string => (n > 0 ? `AWG ${n}` : `AWG ${1 - n}/0`)

/** Gauge numbers that are sold: the even ones, and from 1 on every one to 4/0 (common practice, no source). */
const SOLD = [...Array.from({ length: 20 }, (_, i) => 40 - 2 * i), 1, 0, -1, -2, -3]

/** Wires are drawn to some 2 % of their area, so that much less still counts as the same size (common practice, no source). */
const SAME = 0.98

/** The thinnest gauge number that is sold and isn't thinner than an area, mm²; null above 4/0. */
export const awgFor = (mm2: number): number | null =>
  SOLD.find((n) => (Math.PI / 4) * awgDiameterMm(n) ** 2 >= SAME * mm2) ?? null

/** A gauge, as `gaugeWords` writes it, in both systems of units: 1.5 mm², or AWG 14 (1.5 mm²). Never a thinner wire, for it would get hotter. */
export function gaugeInEither(words: string): string {
  const area = /^([\d.]+) mm²$/.exec(words)?.[1]
  const number = area === undefined ? null : awgFor(Number(area))
  return number === null ? words : inEither(words, `${awgWords(number)} (${words})`)
}
