// What a trace leaves. Frame: lamp frame, mm; angles in radians; weights as in README.md.

/** Where a path's weight ends. The order is the order in the tally buffer, on CPU and GPU. */
export const FATES = [
  'opticLoss', // not passed by an emitter's optic
  'blocked', // emitted outside the tunnel's wall
  'wall', // absorbed by the tunnel's wall
  'face', // absorbed by the face
  'behindFace', // came back past the face's edge
  'leakedFaceGap', // left through the gap between face and tunnel (without a tunnel: sideways, before the lens)
  'leakedLensGap', // left through the gap between tunnel and lens
  'outsideLens', // reached the lens's front plane outside its aperture
  'lensRim', // reached the lens's rim from inside
  'lensAbsorbed', // absorbed in the lens's material
  'lensReturnedLost', // lost anywhere after the lens had sent it back
  'delivered', // left the lamp towards the target
  'deliveredViaRiser', // left the lamp, having met a riser or a rounded tip
  'roulette', // removed less added by Russian roulette: zero on average
  'limit', // stopped by the bounce limit
  'lost', // lost to rounding
] as const
export type Fate = (typeof FATES)[number]

/** Independent batches of a run, each with a scramble of its own: enough for a standard error (our choice). */
export const BATCHES = 16

/** Of an assembled lamp: how many stretches its tunnel has, and how many elements stand in front of it. */
export interface PartShape {
  stretches: number
  elements: number
}

/** Where the square map of a lens lies that is moved or tilted: its middle, and the rotation of its frame by rows. Absent: on the axis at zMm. */
export interface MapFrame {
  originMm: readonly [number, number, number]
  rotation: readonly number[]
}

/** The tunnel unrolled: walls and the steps between them from the face on, each between two shares of the whole length. */
export interface WallProfile {
  rectangle: boolean
  /** Length of all parts together, mm. */
  lengthMm: number
  parts: readonly WallPart[]
}

/** Sizes at its lower and upper end, mm; of a step, at one z, those of the two stretches that meet there. */
export interface WallPart {
  fromShare: number
  toShare: number
  zInMm: number
  zOutMm: number
  inMm: number
  outMm: number
  inHeightMm: number
  outHeightMm: number
}

/** The bins of a run, fixed before it starts. */
export interface TallyShape {
  /** Half angle of the fine part: the profile's fine bins and the square window map reach this far. */
  fineHalfRad: number
  /** Equal θ bins in [0, fineHalfRad]. */
  fineBins: number
  /** Equal θ bins in [fineHalfRad, π]. */
  coarseBins: number
  /** Window map: n × n bins of (θ cos φ, θ sin φ) over ± fineHalfRad; row = y, rows from -y up. */
  windowN: number
  /** Whole sphere: γ (polar, 0..π) × C (azimuth, 0..2π) bins of equal angle, of light beyond fineHalfRad only: the window has the rest. */
  sphereGamma: number
  sphereC: number
  axialConeHalfRad: number
  /**
   * Luminous weight on the target, the plane z = zMm: n × n cells over ± halfXMm by ± halfYMm (row = y, rows from -y up), and the disc of radius
   * centreMm about its middle.
   */
  target: { n: number; zMm: number; halfXMm: number; halfYMm: number; centreMm: number }
  /** Irradiance arriving on the lens's front plane: n × n over the square ± halfMm; row = y. Null without a lens. */
  lens: { n: number; halfMm: number; zMm: number; frame?: MapFrame } | null
  /**
   * Of a lamp of several elements: irradiance on each but that of `lens`, in their order from the face: n × n over the square ± halfMm, row = y. These
   * maps, and that of `lens` where there are others, hold the light that arrives on either face. Absent: one element at most.
   */
  elements?: { n: number; maps: readonly { halfMm: number; zMm: number; frame: MapFrame }[] }
  /** Wall unrolled: along (z, or the way along `profile`) × round (azimuth 0..2π, or `shareRound` of a rectangle). Null without a tunnel. */
  wall: {
    nAlong: number
    nRound: number
    zInMm: number
    zOutMm: number
    inMm: number
    outMm: number
    sides: number
    /** Of an assembled tunnel. */
    profile?: WallProfile
  } | null
  /** Returned light on z = 0: n × n over ± halfMm. */
  face: { n: number; halfMm: number }
  /** Absent: a plain lamp, whose ledger has no parts. */
  parts?: PartShape
}

/** Exit rays per record: x y z dx dy dz radiantWeight luminousWeight wavelengthNm. Positions in mm on the plane they left from. */
export const EXIT_STRIDE = 9

/** All rays with an index below `fromRays` that left the lamp: a uniform sample, the same however the work was cut. */
export interface ExitRays {
  count: number
  /** How many rays were started for this sample. */
  fromRays: number
  data: Float32Array
  /** Batch of each ray. */
  batch: Uint8Array
}

export interface Run {
  seed: number
  /** Rays traced, a multiple of BATCHES. */
  rays: number
  shape: TallyShape
  /** What the emitters give, from the scene, exact. */
  emittedLm: number
  emittedW: number
  /** One buffer a batch, cut by tallyLayout(shape). */
  tallies: Float64Array[]
  /** Sums of the even and of the odd batches, where the engine summed them along the way; otherwise readers add them up. */
  halves?: [Float64Array, Float64Array]
  exits: ExitRays
}
