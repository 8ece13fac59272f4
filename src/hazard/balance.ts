// Heat balances of what lies on the lens or encloses it, and the share of light that a sheet takes in. The balance of a surface that
// stands free is src/library/heatBalance.ts.
import { DULL_EMISSIVITY, lostKWm2, radiatedWm2, steadyTemperatureC } from '../library/heatBalance.ts'
import { brent } from '../num/roots.ts'

export { lostKWm2, steadyTemperatureC } from '../library/heatBalance.ts'

/** Layers between the lens and the room: 1 a cover or a sheet, 2 cloth or film that lies in folds, as a bag does. */
export type Layers = 1 | 2

const TOP_C = 20_000

/**
 * Steady temperature, °C, of what lies on the lens and takes in all of its light (kW/m²). Heat leaves on the outer side
 * only: the lens gives back what is thrown at it, and the air between insulates. With two layers the inner one, which is
 * lit, loses heat to the outer one by radiation alone, σ (T₁⁴ − T₂⁴)/(2/ε − 1), ε = 0.9: parallel plates, textbook
 * (Incropera and DeWitt; memory). Where it takes in nothing: the ambient's.
 */
export function coveredC(takenKWm2: number, ambientC: number, layers: Layers = 1): number {
  const outerC = steadyTemperatureC({ takenKWm2, ambientC })
  if (layers === 1 || !(takenKWm2 > 0)) return outerC
  const over = (innerC: number) => betweenKWm2(innerC, outerC) - takenKWm2
  return brent(over, outerC, TOP_C, 1e-6) ?? outerC
}

/** kW/m² by radiation between two dull plates that face each other. */
const betweenKWm2 = (aC: number, bC: number): number => radiatedWm2(aC, bC) / (2 / DULL_EMISSIVITY - 1) / 1000

/**
 * Least light, kW/m², that takes what lies on the lens to limitC °C: `coveredC` the other way round. 0 where the air is
 * that hot.
 */
export function coveredLimitKWm2(limitC: number, ambientC: number, layers: Layers): number {
  if (!(limitC > ambientC)) return 0
  if (layers === 1) return lostKWm2(limitC, { ambientC })
  const over = (outerC: number) => betweenKWm2(limitC, outerC) - lostKWm2(outerC, { ambientC })
  const outerC = brent(over, ambientC, limitC, 1e-6)
  return outerC === null ? 0 : lostKWm2(outerC, { ambientC })
}

/**
 * Steady temperature, °C, of a lens under something at coverC °C: it takes in that one's radiation (plastic and glass
 * are black to it) and loses heat into the lamp alone, whose air is taken at ambientC °C. Light that the lens itself takes
 * in is left out. Same plates as in `coveredC`.
 */
export function lensUnderC(coverC: number, ambientC: number): number {
  if (!(coverC > ambientC)) return ambientC
  const over = (lensC: number) => lostKWm2(lensC, { ambientC }) - betweenKWm2(coverC, lensC)
  return brent(over, ambientC, coverC, 1e-6) ?? coverC
}

/** Air at some 80 °C, W/mK: handbook value from memory. */
const AIR_WMK = 0.03

interface LensOverFace {
  /** Light that the lens takes in itself, kW/m². */
  takenKWm2: number
  ambientC: number
  faceC: number
  /** From the face to the lens. */
  gapMm: number
  /** Of the circle about the face. */
  faceRadiusMm: number
}

/**
 * Steady temperature, °C, of a lens over a hot face: on that side it takes in F σ (T₁⁴ − T⁴)/(2/ε − 1), ε = 0.9, with F the share of its view
 * that a disc on the axis fills, a²/(a² + g²), and k (T₁ − T)/g through the air between; it loses heat on the other side alone, the hot side.
 * Textbook (Incropera and DeWitt; memory). Convection and mirrors between the two are left out. Where it takes in nothing: the ambient's.
 */
export function lensOverFaceC({ takenKWm2, ambientC, faceC, gapMm, faceRadiusMm }: LensOverFace): number {
  const seen = faceRadiusMm ** 2 / (faceRadiusMm ** 2 + gapMm ** 2)
  const gainsKWm2 = (lensC: number) =>
    faceC > lensC ? seen * betweenKWm2(faceC, lensC) + (AIR_WMK * (faceC - lensC)) / Math.max(gapMm, 0.1) : 0
  const over = (lensC: number) => lostKWm2(lensC, { ambientC }) - gainsKWm2(lensC) - Math.max(0, takenKWm2)
  return over(ambientC) >= 0 ? ambientC : (brent(over, ambientC, TOP_C, 1e-6) ?? ambientC)
}

/**
 * Fraction of light that a sheet absorbs along the longest way through it, t/√(1 − 1/n²), light that enters at
 * grazing incidence: 1 − exp(−a s), Beer–Lambert and Snell. perMm ≥ 0, index > 1.
 */
export function absorbedBySheet(perMm: number, thicknessMm: number, index: number): number {
  return 1 - Math.exp((-perMm * thicknessMm) / Math.sqrt(1 - 1 / (index * index)))
}
