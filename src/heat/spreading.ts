// Heat that spreads from a small disc into a larger one. [1] Lee, Song, Au and Moran, Constriction/spreading resistance model for
// electronics packaging, ASME/JSME Thermal Engineering Conf. 4 (1995) 199–206. [2] Carslaw and Jaeger, Conduction of Heat in Solids,
// § 8.2; Yovanovich: a disc on a half space.

export interface Spread {
  /** Radius of the source. */
  sourceM: number
  /** Radius of the plate. */
  plateM: number
  thicknessM: number
  conductivityWmK: number
  /** Film on the far side, W/m²K. */
  film: number
}

/**
 * Spreading resistance of a disc on a round plate, at its middle and mean over the source, K/W, beyond t/(kA) +
 * 1/(hA) of the plate. 0 where the source covers the plate. [1]
 */
export function spreadingResistance(s: Spread): { maxKW: number; meanKW: number } {
  const ratio = s.sourceM / s.plateM
  if (ratio >= 1) return { maxKW: 0, meanKW: 0 }
  const lambda = Math.PI + 1 / (Math.sqrt(Math.PI) * ratio)
  const biot = (s.film * s.plateM) / s.conductivityWmK
  const tanh = Math.tanh((lambda * s.thicknessM) / s.plateM)
  const phi = (tanh + lambda / biot) / (1 + (lambda / biot) * tanh)
  const unit = Math.PI * s.conductivityWmK * s.sourceM
  return {
    maxKW: ((1 - ratio) * phi) / unit,
    meanKW: ((1 - ratio) ** 1.5 * phi) / (2 * Math.sqrt(Math.PI) * s.conductivityWmK * s.sourceM),
  }
}

/**
 * Resistance of a disc on a half space, K/W: held at one temperature 1/(4ka); with even flux 8/(3π²ka) in the mean
 * and 1/(πka) in the middle. W/mK and m, both > 0. [2]
 */
export const discOnHalfSpace = (conductivityWmK: number, radiusM: number) => ({
  isothermalKW: 1 / (4 * conductivityWmK * radiusM),
  meanKW: 8 / (3 * Math.PI ** 2 * conductivityWmK * radiusM),
  maxKW: 1 / (Math.PI * conductivityWmK * radiusM),
})
