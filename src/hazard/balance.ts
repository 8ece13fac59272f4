// The steady temperature of a lit surface: what it takes in against what it radiates and loses to still air.
import { brent } from '../num/roots.ts'

/** CODATA 2018. */
const STEFAN_BOLTZMANN = 5.670374419e-8
const ZERO_C = 273.15

/**
 * The least film coefficient of still air at a warm surface, W/m²K: 5 to 25 is common practice for free convection in
 * air, no source. The hot side: small spots and vertical faces lose more.
 */
const STILL_AIR_FILM = 5
/** Emissivity of paint, plastic, cloth, wood, skin and glass: 0.85 to 0.97 (common practice, no source). */
export const DULL_EMISSIVITY = 0.9

export interface Plate {
  /** kW/m² taken in, on one side. */
  takenKWm2: number
  ambientC: number
  /** Sides that lose heat; 1 where the other lies on something warm or soft. */
  sides?: 1 | 2
  emissivity?: number
  filmWm2K?: number
}

/**
 * kW/m² lost by a surface at surfaceC °C: sides · (ε σ (T⁴ − T₀⁴) + h (T − T₀)). Stefan–Boltzmann law and Newton's
 * law of cooling.
 */
export function lostKWm2(surfaceC: number, plate: Omit<Plate, 'takenKWm2'>): number {
  const { ambientC, sides = 1, emissivity = DULL_EMISSIVITY, filmWm2K = STILL_AIR_FILM } = plate
  const radiated = emissivity * STEFAN_BOLTZMANN * ((surfaceC + ZERO_C) ** 4 - (ambientC + ZERO_C) ** 4)
  return (sides * (radiated + filmWm2K * (surfaceC - ambientC))) / 1000
}

/**
 * Steady temperature, °C, of a surface that takes in `takenKWm2` (up to 20,000 °C); the ambient's where it takes in
 * nothing. Heat flow along the surface is left out: the hot side.
 */
export function steadyTemperatureC(plate: Plate): number {
  if (!(plate.takenKWm2 > 0)) return plate.ambientC
  const over = (t: number) => lostKWm2(t, plate) - plate.takenKWm2
  return brent(over, plate.ambientC, 20_000, 1e-6) ?? plate.ambientC
}

/**
 * Fraction of light that a sheet absorbs along the longest way through it, t/√(1 − 1/n²), light that enters at
 * grazing incidence: 1 − exp(−a s), Beer–Lambert and Snell. perMm ≥ 0, index > 1.
 */
export function absorbedBySheet(perMm: number, thicknessMm: number, index: number): number {
  return 1 - Math.exp((-perMm * thicknessMm) / Math.sqrt(1 - 1 / (index * index)))
}
