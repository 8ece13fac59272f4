// Colour of a spectrum on the library's 5 nm grid: CIE 1931 chromaticity and correlated colour temperature.
import { FROM_NM, SAMPLES, STEP_NM } from './photopic.ts'

/** A lobe whose width differs on its two sides. */
const lobe = (nm: number, peakNm: number, perNmBelow: number, perNmAbove: number) => {
  const t = (nm - peakNm) * (nm < peakNm ? perNmBelow : perNmAbove)
  return Math.exp(-0.5 * t * t)
}

/** CIE 1931 colour matching functions, the sums of lobes of Wyman, Sloan and Shirley, JCGT 2(2) 2013, section 2.2. */
export function matching1931(nm: number): [number, number, number] {
  return [
    0.362 * lobe(nm, 442, 0.0624, 0.0374) +
      1.056 * lobe(nm, 599.8, 0.0264, 0.0323) -
      0.065 * lobe(nm, 501.1, 0.049, 0.0382),
    0.821 * lobe(nm, 568.8, 0.0213, 0.0247) + 0.286 * lobe(nm, 530.9, 0.0613, 0.0322),
    1.217 * lobe(nm, 437, 0.0845, 0.0278) + 0.681 * lobe(nm, 459, 0.0385, 0.0725),
  ]
}

/** CIE 1931 x, y. */
export interface Chromaticity {
  x: number
  y: number
}

/** X, Y, Z of relative power on the 5 nm grid, in its own unit. */
export function tristimulus(power: ArrayLike<number>): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0]
  for (let i = 0; i < SAMPLES; i++) {
    const cmf = matching1931(FROM_NM + i * STEP_NM)
    for (let k = 0; k < 3; k++) sum[k]! += power[i]! * cmf[k]!
  }
  return sum
}

export function chromaticity(power: ArrayLike<number>): Chromaticity {
  const [X, Y, Z] = tristimulus(power)
  return { x: X / (X + Y + Z), y: Y / (X + Y + Z) }
}

/** Correlated colour temperature from x, y: McCamy, Color Res. Appl. 17 (1992) 142–144. Good near the black-body locus, 2856 to 6500 K. */
export function correlatedColourK({ x, y }: Chromaticity): number {
  const n = (x - 0.332) / (0.1858 - y)
  return ((449 * n + 3525) * n + 6823.3) * n + 5520.33
}
