// The one heat balance of a lit surface: what it takes in against what it radiates and loses to still air. Every output that names the
// temperature of a lit place takes it from here, so that the same place has the same temperature everywhere.
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
 * law of cooling. Also the irradiance that holds a black surface at that temperature.
 */
export function lostKWm2(surfaceC: number, plate: Omit<Plate, 'takenKWm2'>): number {
  const { ambientC, sides = 1, emissivity = DULL_EMISSIVITY, filmWm2K = STILL_AIR_FILM } = plate
  const radiated = emissivity * radiatedWm2(surfaceC, ambientC)
  return (sides * (radiated + filmWm2K * (surfaceC - ambientC))) / 1000
}

/** W/m² from a black surface at one temperature (°C) to a black one at the other: σ (T⁴ − T₀⁴), Stefan–Boltzmann law. */
export const radiatedWm2 = (fromC: number, toC: number): number =>
  STEFAN_BOLTZMANN * ((fromC + ZERO_C) ** 4 - (toC + ZERO_C) ** 4)

/**
 * Steady temperature, °C, of a surface that takes in `takenKWm2` (up to 20,000 °C); the ambient's where it takes in
 * nothing. Heat flow along the surface is left out: the hot side.
 */
export function steadyTemperatureC(plate: Plate): number {
  if (!(plate.takenKWm2 > 0)) return plate.ambientC
  const over = (t: number) => lostKWm2(t, plate) - plate.takenKWm2
  return brent(over, plate.ambientC, 20_000, 1e-6) ?? plate.ambientC
}

/** Steady temperature, °C, of soot, dirt or a scratch on a part in `kWm2`: it takes in all of the light. */
export const dirtTemperatureC = (kWm2: number, ambientC: number): number =>
  steadyTemperatureC({ takenKWm2: kWm2, ambientC })
