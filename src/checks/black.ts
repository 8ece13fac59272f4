// Temperature of a patch that absorbs all light: the balance of absorption, radiation and convection to still air.
import { brent } from '../num/roots.ts'

/** CODATA 2018. */
const STEFAN_BOLTZMANN = 5.670374419e-8
/** Film coefficient to still air, W/m²K: common practice for warm surfaces, no source; check-values 4.29 takes the same. */
const FILM = 15
const ZERO_C = 273.15

/** Irradiance, kW/m², that holds a black patch at a temperature: σ(T⁴ − T₀⁴) + 15 (T − T₀), with losses on one side. */
export const fluxHolding = (surfaceC: number, ambientC: number): number =>
  (STEFAN_BOLTZMANN * ((surfaceC + ZERO_C) ** 4 - (ambientC + ZERO_C) ** 4) + FILM * (surfaceC - ambientC)) / 1000

/** Steady-state temperature of a black patch. */
export const blackPatchC = (kWm2: number, ambientC: number): number =>
  brent((t) => fluxHolding(t, ambientC) - kWm2, ambientC - 1, 5000, 1e-6) ?? ambientC
