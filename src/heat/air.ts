// Dry air at 101.325 kPa. Viscosity and conductivity: US Standard Atmosphere 1976, eqs. 51 and 53 (Sutherland's forms; from memory);
// density from the ideal gas.

/** 0 °C in kelvin, by definition. */
export const ZERO_C = 273.15
/** Stefan–Boltzmann constant, W/m²K⁴: CODATA 2018. */
export const STEFAN_BOLTZMANN = 5.670374419e-8
/** Standard gravity, m/s²: ISO 80000-3. */
const GRAVITY = 9.80665

const PRESSURE = 101_325
const GAS = 287.053
const HEAT = 1006

export interface Air {
  conductivityWmK: number
  /** m²/s */
  kinematic: number
  /** m²/s */
  diffusivity: number
  prandtl: number
  densityKgM3: number
  heatJkgK: number
  /** 1/K */
  expansion: number
}

/**
 * Properties of dry air at 101.325 kPa and `celsius` °C (above −273); units in the names. Viscosity and conductivity:
 * US Standard Atmosphere 1976, eqs. 51 and 53; density: ideal gas; heat capacity 1006 J/kgK taken as constant (common
 * practice, no source).
 */
export function airAt(celsius: number): Air {
  const t = celsius + ZERO_C
  const viscosity = (1.458e-6 * t ** 1.5) / (t + 110.4)
  const conductivityWmK = (2.64638e-3 * t ** 1.5) / (t + 245.4 * 10 ** (-12 / t))
  const densityKgM3 = PRESSURE / (GAS * t)
  const kinematic = viscosity / densityKgM3
  const diffusivity = conductivityWmK / (densityKgM3 * HEAT)
  return {
    conductivityWmK,
    kinematic,
    diffusivity,
    prandtl: kinematic / diffusivity,
    densityKgM3,
    heatJkgK: HEAT,
    expansion: 1 / t,
  }
}

/**
 * Rayleigh number g β |ΔT| L³/(ν α) of a length (m) and a difference of temperature (K), air properties at the film
 * temperature. Definition: any textbook (Incropera and DeWitt, ch. 9).
 */
export const rayleigh = (air: Air, lengthM: number, kelvin: number): number =>
  (GRAVITY * air.expansion * Math.abs(kelvin) * lengthM ** 3) / (air.kinematic * air.diffusivity)
