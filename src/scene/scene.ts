// The scene: flat typed arrays that every engine reads. Offsets are in src/optics: params.ts, emitterRow.ts, kindRow.ts, ringRow.ts; the spectral grid is in records.ts.

export interface Scene {
  params: Float32Array
  emitters: Float32Array
  kinds: Float32Array
  profiles: Float32Array
  /** Quantiles (inverse distribution function) of each spectrum, nm. */
  quantiles: Float32Array
  /** Refractive index of the lens, 380 to 780 nm by 5 nm. */
  lensIndex: Float32Array
  /** 683.002 V(λ), same grid. */
  lumPerWatt: Float32Array
  rings: Float32Array
  /** Corners of a polygonal face, x and y of each, mm; empty for other shapes. */
  faceCorners: Float32Array
  /** Emitted by all sources together. */
  emittedLm: number
  emittedW: number
}

/** What the emitters do at the moment that is traced: luminous flux of each, in placeEmitters order. */
export interface OperatingPoint {
  fluxLm: Float64Array
}
