// The scene: flat typed arrays that every engine reads. Offsets are in src/optics: boardRow.ts, params.ts, emitterRow.ts, frameRow.ts, kindRow.ts, ringRow.ts,
// rayTable.ts; the spectral grid is in records.ts.

/**
 * A lamp that is more than a straight tunnel and one lens about the axis. Its `params` still hold emitters, face, the tunnel's ends and the
 * sun; what is in here counts in place of the rest.
 */
export interface Assembly {
  /** Rows of src/optics/stretchRow.ts from the face on; empty without a tunnel. */
  stretches: Float32Array
  /** Rows of src/optics/elementRow.ts by their z; empty without elements. */
  elements: Float32Array
  /** A row of P.size for each element: outline, body, absorption. */
  elementParams: Float32Array
  /** Refractive index, NM_COUNT values for each element. */
  elementIndex: Float32Array
  /** Ring records of all Fresnel lenses; an element's row says where its own begin. */
  rings: Float32Array
}

export interface Scene {
  params: Float32Array
  emitters: Float32Array
  /**
   * Where each emitter's own frame stands (src/optics/frameRow.ts), when one of them is tilted, aimed or off the face: the rows of `emitters`
   * and `kinds` are then in that frame. Empty when all stand on the face and look along the axis.
   */
  frames: Float32Array
  /** Boards that stop light themselves (src/optics/boardRow.ts): those tilted by more than 10°. */
  boards: Float32Array
  kinds: Float32Array
  profiles: Float32Array
  /** Quantiles (inverse distribution function) of each spectrum, nm. */
  quantiles: Float32Array
  /** Refractive index of the lens, 380 to 780 nm by 5 nm. */
  lensIndex: Float32Array
  /** 683.002 V(λ), same grid. */
  lumPerWatt: Float32Array
  rings: Float32Array
  /** Null: the plain lamp, by `params` alone. */
  assembly: Assembly | null
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
