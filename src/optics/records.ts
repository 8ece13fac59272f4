// Offsets of the flat records that scene writes and the engines read. They live beside the optics because both sides need them.
// Plain constants, and namespaces of them in params, emitterRow, kindRow and ringRow: bundlers put their numbers into the code, and an
// offset looked up in an object costs the tracer a fifth of its speed.

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
 * Arguments of a call, stored in the ray: a number passed to a function that isn't inlined is boxed on the heap by JavaScript
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
/** Distance to the wall, mm, and the polygon's side that is met there. */
export const REACH = 24
export const SIDE = 25
export const RAY_SIZE = 26

/** How a ray ends its passage through a lens. */
export const LEAVES_WORKED = 1 // by the grooved or curved side
export const LEAVES_FLAT = 2
export const ENDS_AT_RIM = 3
export const ENDS_AT_LIMIT = 4
export const STEP_LIMIT = 400
/** Surfaces in one passage of a lens: total reflection can hold scattered light between its faces for metres, until it is absorbed. */
export const LENS_STEP_LIMIT = 20_000

/** Spectral tables: 380 to 780 nm by 5 nm. */
export const NM_FIRST = 380
export const NM_STEP = 5
export const NM_COUNT = 81
/** Quantiles of a spectrum's inverse distribution. */
export const QUANTILES = 1024
