// Spectra on the 5 nm grid, 380 to 780 nm. Between grid points a spectrum is a straight line.
import type { Spectrum } from '../lamp/schema.ts'
import { FROM_NM, LM_PER_W, PHOTOPIC_5NM, photopic, SAMPLES, STEP_NM } from './photopic.ts'

export type WhiteClassK = Extract<Spectrum, { kind: 'white' }>['classK']

interface Blend {
  bluePeakNm: number
  /** Peak of the blue line relative to the phosphor band's. */
  blue: number
  phosphorPeakNm: number
}

/**
 * Full widths at half maximum: a blue die's line, and a phosphor band built of two half bells, the wider one towards red
 * (typical, from memory; on the wide side, so that a lumen carries rather too many watts than too few).
 */
const BLUE_FWHM_NM = 22
const PHOSPHOR_FWHM_NM = { below: 110, above: 165 }

/**
 * Invented blends, no maker's data, tuned so that each lies on the black-body locus at its class (within 150 K and 0.003 in u, v:
 * tested).
 */
const BLENDS: Record<WhiteClassK, Blend> = {
  3000: { bluePeakNm: 450, blue: 0.64, phosphorPeakNm: 584.5 },
  4000: { bluePeakNm: 450, blue: 1.14, phosphorPeakNm: 570 },
  5000: { bluePeakNm: 450, blue: 1.58, phosphorPeakNm: 561 },
  6500: { bluePeakNm: 450, blue: 2.07, phosphorPeakNm: 552 },
}

export const gridNm = (i: number): number => FROM_NM + i * STEP_NM
const onGrid = (of: (nm: number) => number) => Float64Array.from({ length: SAMPLES }, (_, i) => of(gridNm(i)))
const bell = (offNm: number, fwhmNm: number) => Math.exp(-4 * Math.LN2 * (offNm / fwhmNm) ** 2)

function blendPower({ bluePeakNm, blue, phosphorPeakNm }: Blend): Float64Array {
  return onGrid((nm) => {
    const off = nm - phosphorPeakNm
    return (
      blue * bell(nm - bluePeakNm, BLUE_FWHM_NM) + bell(off, off < 0 ? PHOSPHOR_FWHM_NM.below : PHOSPHOR_FWHM_NM.above)
    )
  })
}

/** A single line, shared between its two grid neighbours so that the mean wavelength is right. */
function linePower(wavelengthNm: number): Float64Array {
  const power = new Float64Array(SAMPLES)
  const at = (wavelengthNm - FROM_NM) / STEP_NM
  const i = Math.min(Math.max(Math.floor(at), 0), SAMPLES - 2)
  power[i] = 1 - (at - i)
  power[i + 1] = at - i
  return power
}

/** Relative radiant power per 5 nm, 81 values from 380 to 780 nm. Not normalised. A fresh array each time. */
export function spectrumPower(spectrum: Spectrum): Float64Array {
  switch (spectrum.kind) {
    case 'white':
      return blendPower(BLENDS[spectrum.classK])
    case 'equalEnergy':
      return new Float64Array(SAMPLES).fill(1)
    case 'mono':
      return linePower(spectrum.wavelengthNm)
    case 'table':
      return Float64Array.from(spectrum.power)
  }
}

/** Planck's law on the grid, relative to its own greatest value. */
export function blackBodyPower(kelvin: number): Float64Array {
  const c2 = 1.438776877e7 // second radiation constant, nm K (CODATA 2018)
  const power = onGrid((nm) => 1 / (nm ** 5 * Math.expm1(c2 / (nm * kelvin))))
  const top = power.reduce((a, b) => Math.max(a, b))
  return power.map((p) => p / top)
}

/** The sun's visible light: a black body of 5772 K (IAU 2015 nominal effective temperature), 380 to 780 nm only. */
export const sunPower = (): Float64Array => blackBodyPower(5772)

/** Lumens per watt (of the light in 380 to 780 nm) by the trapezoid rule on the 5 nm grid. 0 for a spectrum without power. */
export function luminousEfficacy(power: ArrayLike<number>): number {
  let luminous = 0
  let radiant = 0
  for (let i = 0; i < SAMPLES; i++) {
    const weight = i === 0 || i === SAMPLES - 1 ? 0.5 : 1
    luminous += weight * power[i]! * PHOTOPIC_5NM[i]!
    radiant += weight * power[i]!
  }
  return radiant > 0 ? (LM_PER_W * luminous) / radiant : 0
}

/** The same for a document's spectrum; a single line is exact: 683.002 V(λ). */
export function spectrumEfficacy(spectrum: Spectrum): number {
  if (spectrum.kind === 'mono') return LM_PER_W * photopic(spectrum.wavelengthNm)
  return luminousEfficacy(spectrumPower(spectrum))
}
