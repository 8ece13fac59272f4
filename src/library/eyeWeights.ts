// How strongly each wavelength works on the retina: B(λ) for the photochemical (blue-light) hazard, R(λ) for the thermal one.
// IEC 62471:2006 = CIE S 009:2002, table 4.2 (R second-hand; B from memory, the same table: R/10 up to 495 nm).
import { linear } from '../num/interpolate.ts'
import { gridNm } from './spectra.ts'

// biome-ignore format: a table, 380 to 500 nm in steps of 5 nm
const R_380_TO_500 = [
  0.1, 0.13, 0.25, 0.5, // 380
  1, 2, 4, 8, // 400
  9, 9.5, 9.8, 10, // 420
  10, 9.7, 9.4, 9, // 440
  8, 7, 6.2, 5.5, // 460
  4.5, 4, 2.2, 1.6, // 480
  1, // 500
] as const
const STEPS = R_380_TO_500.map((_, i) => 380 + 5 * i)

/** R(λ) from 380 to 1400 nm, 0 outside; linear between the steps of the table. */
export function retinalThermalWeight(nm: number): number {
  if (!(nm >= 380 && nm <= 1400)) return 0
  if (nm <= 500) return linear(STEPS, R_380_TO_500, nm)
  if (nm <= 700) return 1
  if (nm <= 1050) return 10 ** ((700 - nm) / 500)
  if (nm <= 1150) return 0.2
  if (nm <= 1200) return 0.2 * 10 ** (0.02 * (1150 - nm))
  return 0.02
}

/** B(λ) from 300 to 700 nm, 0 outside: 0.01 up to 380 nm (memory, the same table). */
export function blueLightWeight(nm: number): number {
  if (!(nm >= 300 && nm <= 700)) return 0
  if (nm <= 380) return 0.01
  if (nm <= 495) return linear(STEPS, R_380_TO_500, nm) / 10
  if (nm < 500) return 0.16 + ((nm - 495) / 5) * (0.1 - 0.16)
  if (nm <= 600) return 10 ** ((450 - nm) / 50)
  return 0.001
}

// biome-ignore format: a table, nm and S
const S_OF_NM = [
  [300, 0.3], [303, 0.12], [305, 0.06], [308, 0.026], [310, 0.015], [313, 0.006], [315, 0.003], [316, 0.0024], [317, 0.002],
  [318, 0.0016], [319, 0.0012], [320, 0.001], [322, 0.00067], [323, 0.00054], [325, 0.0005], [328, 0.00044], [330, 0.00041],
  [333, 0.00037], [335, 0.00034], [340, 0.00028], [345, 0.00024], [350, 0.0002], [355, 0.00016], [360, 0.00013],
  [365, 0.00011], [370, 0.000093], [375, 0.000077], [380, 0.000064], [385, 0.000053], [390, 0.000044], [395, 0.000036],
  [400, 0.00003],
] as const
const S_NM = S_OF_NM.map(([nm]) => nm)
const LOG_S = S_OF_NM.map(([, s]) => Math.log(s))

/**
 * Actinic weight S(λ) of ultraviolet on skin and cornea, 300 to 400 nm, 0 outside; between the points of the table straight in
 * log S. IEC 62471:2006, table 4.1 (ICNIRP 2004): from memory, held to the fit that ICNIRP gives.
 */
export function actinicWeight(nm: number): number {
  if (!(nm >= 300 && nm <= 400)) return 0
  return Math.exp(linear(S_NM, LOG_S, nm))
}

/** Near ultraviolet counts in full from 315 to 400 nm: IEC 62471:2006, section 4.3.2 (directive 2006/25/EC, row b). */
export const nearUltravioletWeight = (nm: number): number => (nm >= 315 && nm <= 400 ? 1 : 0)

/** Weighted watts for each watt of a spectrum given on the 5 nm grid (src/library/spectra.ts), trapezoid rule. */
export function weightedShare(power: ArrayLike<number>, weight: (nm: number) => number): number {
  let all = 0
  let sum = 0
  for (let i = 0; i < power.length; i++) {
    const w = power[i]! * (i === 0 || i === power.length - 1 ? 0.5 : 1)
    all += w
    sum += w * weight(gridNm(i))
  }
  return all > 0 ? sum / all : 0
}
