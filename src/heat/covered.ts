// A sink with no exchange of air: in a bag, under a cloth, in a closed case. Heat passes a layer of still air to the cover, by radiation and
// by what air does there, and leaves the cover to still air outside.
// References: [1] two grey plates that face each other, Incropera and DeWitt, § 13.3 (memory). [2] ISO 6946, annex D of 2017: an air layer
// without ventilation, heat flowing level, 1.25 W/m²K beside radiation (memory).
import { DULL_EMISSIVITY, lostKWm2, radiatedWm2 } from '../library/heatBalance.ts'
import { brent } from '../num/roots.ts'
import type { SinkModel } from './sink.ts'

/** [2] */
const LAYER_WM2K = 1.25

/** °C of the cover about a sink of sinkC °C and its emissivity, in air of ambientC °C outside; no cooler than that. Balance of the layer [1, 2] and of a dull surface in still air. */
export function coverC(sinkC: number, emissivity: number, ambientC: number): number {
  if (!(sinkC > ambientC)) return ambientC
  const over = (c: number) => lostKWm2(c, { ambientC }) - throughKWm2(sinkC, c, emissivity)
  return brent(over, ambientC, sinkC, 1e-6) ?? sinkC
}

/** kW/m² from sink to cover. */
const throughKWm2 = (sinkC: number, cover: number, emissivity: number): number =>
  (radiatedWm2(sinkC, cover) / (1 / emissivity + 1 / DULL_EMISSIVITY - 1) + LAYER_WM2K * (sinkC - cover)) / 1000

/** From so far over the air on a difference of temperature means something, K. */
const LEAST_K = 0.5
const STEP_K = 10
/** Up to 450 K over the air; beyond, the last row holds. */
const ROWS = 46

/**
 * The same sink covered: its envelope (m², fins and back) loses, W/K, what the balance says at the plate's mean temperature (°C), fins as warm as
 * before for what flows into them. Null for a sink by its data sheet, whose envelope nobody knows.
 */
export function coverSink(inner: SinkModel, ambientC: number): SinkModel | null {
  const { envelopeM2, emissivity } = inner
  if (envelopeM2 === null) return null
  const exact = (sinkC: number) => {
    const c = Math.max(sinkC, ambientC + LEAST_K)
    return (1000 * envelopeM2 * throughKWm2(c, coverC(c, emissivity, ambientC), emissivity)) / (c - ambientC)
  }
  const rows: number[] = []
  const row = (i: number): number => {
    rows[i] ??= exact(ambientC + STEP_K * i)
    return rows[i]
  }
  const lossWK = (plateC: number): number => {
    const x = Math.min(ROWS - 1, Math.max(0, (plateC - ambientC) / STEP_K))
    const i = Math.min(ROWS - 2, Math.floor(x))
    return row(i) + (x - i) * (row(i + 1) - row(i))
  }
  const at: SinkModel['at'] = (plateC) => {
    const { link } = inner.at(plateC)
    const loss = lossWK(plateC)
    return link > 0 ? { base: 0, link, fin: loss } : { base: loss, link: 0, fin: 0 }
  }
  return {
    ...inner,
    speedMS: null,
    at,
    totalWK: (plateC) => {
      const { base, link, fin } = at(plateC)
      return base + (link > 0 ? (link * fin) / (link + fin) : 0)
    },
  }
}
