// Offsets of the flat records that scene writes and the engines read. They live beside the optics because both sides need them.

/** A ray in flight. x, y, z mm; dx, dy, dz unit vector; weight 1 at the start. */
export const X = 0
export const Y = 1
export const Z = 2
export const DX = 3
export const DY = 4
export const DZ = 5
/** Radiant weight. */
export const W = 6
/** Refractive index of the lens for this ray's wavelength. */
export const INDEX = 7
/** 683.002 V(λ), lm/W. */
export const LUM = 8
export const WAVELENGTH = 9
/** 1 once the ray has met a riser or a rounded tip. */
export const RISER = 10
/** Interactions so far. */
export const STEPS = 11
/** Path in the material during one passage of a solid lens, mm. */
export const PATH = 13
/**
 * Arguments of a call, kept in the ray: a number handed to a function that isn't inlined is boxed on the heap by JavaScript
 * engines; a slot of this array isn't. Unit normal or axis; ratio of indices; direction in a frame about the axis; a loss to book.
 */
export const NX = 14
export const NY = 15
export const NZ = 16
export const ETA = 17
export const TX = 18
export const TY = 19
export const TZ = 20
export const LOSS = 21
/** 1 once the lens has sent the ray back; sunlight: 1 once it has come in. */
export const RETURNED = 22
export const ENTERED = 23
export const RAY_SIZE = 24

/** How a ray ends its passage through a lens. */
export const LEAVES_WORKED = 1 // by the grooved or curved side
export const LEAVES_FLAT = 2
export const ENDS_AT_RIM = 3
export const ENDS_AT_LIMIT = 4
export const STEP_LIMIT = 250
/** Surfaces in one passage of a lens: total reflection can hold scattered light between its faces for metres, until it is absorbed. */
export const LENS_STEP_LIMIT = 20_000

/** Scene parameters, one Float32Array. */
export const P = {
  emitters: 0,
  hasTunnel: 1,
  sides: 2,
  zIn: 3,
  zOut: 4,
  /** Inlet radius, or apothem of a polygon. */
  rIn: 5,
  tanFlare: 6,
  wallRho: 7,
  wallSpecular: 8,
  /** Standard deviation of each slope, rad. */
  wallScatter: 9,
  /** 0 round, 1 square, 2 hexagon (flat facing +x). */
  faceShape: 10,
  faceHalf: 11,
  faceRho: 12,
  /** 0 none, 1 ideal, 2 solid, 3 Fresnel. */
  lensKind: 13,
  /** z of the first lens plane that light from the face meets, and of the last. */
  lensFront: 14,
  lensBack: 15,
  /** Half diameter, or half side of a square aperture. */
  lensHalf: 16,
  lensSquare: 17,
  lensFocal: 18,
  lensThickness: 19,
  /** Local frame of grooved and solid lenses: zeta = lensSign * (z - lensZ), out of the body on the worked side. */
  lensSign: 20,
  lensZ: 21,
  lensPitch: 22,
  lensRings: 23,
  lensLayer: 24,
  lensTanDraft: 25,
  lensTipShare: 26,
  /** Bulk absorption, 1/mm. */
  lensAbsorption: 27,
  lensCurvature: 28,
  lensConic: 29,
  /** 0 emitters, 1 sun. */
  source: 30,
  sunSinTilt: 31,
  sunCosTilt: 32,
  sunAzimuth: 33,
  sunHalfAngle: 34,
  /** Radius of the aperture that the sun falls on. */
  sunRadius: 35,
  sunZ: 36,
  sunSquare: 37,
  size: 40,
} as const

/** Emitter record: place, turn, kind, alias table. */
export const E = { x: 0, y: 1, cos: 2, sin: 3, kind: 4, aliasShare: 5, alias: 6, size: 8 } as const

/** Kind record: all that emitters of one type behind one optic share. */
export const KIND = {
  disc: 0,
  halfX: 1,
  halfY: 2,
  z: 3,
  /** 0 none, 1 reflector cup. */
  optic: 4,
  efficiency: 5,
  /** 0 cosine power, 1 table, 2 map. */
  profile: 6,
  /** 1/(m+1) for a power; else the offset of the first table. */
  profileAt: 7,
  /** Rows of a map. */
  profileRows: 8,
  spectrumAt: 9,
  cupFocal: 10,
  cupExit: 11,
  cupRho: 12,
  cupX: 13,
  cupY: 14,
  cupZ: 15,
  size: 16,
} as const

/** Ring record of a Fresnel lens: tangent, sine, cosine, cotangent of the facet slope, height of its tip. */
export const RING = { tan: 0, sin: 1, cos: 2, tip: 3, cot: 4, size: 5 } as const

/** Spectral tables: 380 to 780 nm by 5 nm. */
export const NM_FIRST = 380
export const NM_STEP = 5
export const NM_COUNT = 81
/** Quantiles of a spectrum's inverse distribution. */
export const QUANTILES = 1024
