// Refractive index over wavelength from few numbers. Own code: three formulas of one line each, with units in nm.
// References: [1] ISO 7944 (lines F, d, C and the Abbe number ν_d = (n_d − 1)/(n_F − n_C)); [2] W. Sellmeier, Ann. Phys. 219 (1871) 272, in
// the form of glass catalogues; [3] A.-L. Cauchy's series, M. Born, E. Wolf, Principles of Optics, 7th ed., 2.3.4.

/** Wavelengths of the Fraunhofer lines, nm [1]. */
export const LINE_F_NM = 486.1327
export const LINE_D_NM = 587.5618
export const LINE_C_NM = 656.2725

const perUm2 = (nm: number) => 1e6 / (nm * nm)

/** n = A + B/λ² + C/λ⁴, λ in µm [3]; the argument in nm. */
export function cauchyIndex(a: number, bUm2: number, cUm4: number, nm: number): number {
  const inverse = perUm2(nm)
  return a + inverse * (bUm2 + cUm4 * inverse)
}

/** A and B (µm²) of Cauchy's series with two terms through n_d and n_F − n_C = (n_d − 1)/ν_d [1, 3]. ν_d > 0. */
export function cauchyFromAbbe(nd: number, abbe: number): { a: number; bUm2: number } {
  const bUm2 = (nd - 1) / abbe / (perUm2(LINE_F_NM) - perUm2(LINE_C_NM))
  return { a: nd - bUm2 * perUm2(LINE_D_NM), bUm2 }
}

/**
 * n² = 1 + Σ B λ²/(λ² − C), λ in µm, C in µm² [2]; the argument in nm. NaN where n² is below 0, infinite at a pole.
 */
export function sellmeierIndex(terms: readonly { b: number; cUm2: number }[], nm: number): number {
  const um2 = (nm / 1000) ** 2
  return Math.sqrt(terms.reduce((sum, { b, cUm2 }) => sum + (b * um2) / (um2 - cUm2), 1))
}

/** Abbe number ν_d = (n_d − 1)/(n_F − n_C) of an index over wavelength in nm [1]. */
export const abbeNumber = (index: (nm: number) => number): number =>
  (index(LINE_D_NM) - 1) / (index(LINE_F_NM) - index(LINE_C_NM))
