// Where a ray is within a Fresnel lens, and what it meets next: states of the walk in grooves.ts, with the ways to end it.
export { ENDS_AT_LIMIT, ENDS_AT_RIM, LEAVES_FLAT, LEAVES_WORKED, LENS_STEP_LIMIT } from './records.ts'

export const BEFORE_FLAT = 10
export const BODY = 11
export const MATERIAL = 12
export const AIR = 13
/** In air, having just left its own facet: such a ray can't meet it again, a cone is convex. */
export const AIR_OFF_FACET = 14
/** In air beyond the last whole ring, where the aperture's flat rest lies. */
export const BESIDE_RINGS = 15

export const FACET = 1
export const OWN_RISER = 2
export const OUTER = 3
export const INNER = 4
export const TOP = 5
export const FLOOR = 6

/**
 * A surface counts as so many steps of a passage, a border as one. A ray may cross thousands of grooves in the air, but total reflection
 * must not trap it between the lens's faces without end (a graphics device would wait for it).
 */
export const INTERFACE_STEPS = 50
