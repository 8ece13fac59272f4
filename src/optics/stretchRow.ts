// Row of one stretch of a tunnel, and what its wall does with light. Offsets 2 to 9 are those of params.ts, so that the functions of
// wall.ts read a row as they read the parameters. Imported as a namespace (`import * as`): bundlers then put the numbers into the code.

/** 0 round, RECTANGLE, or the sides of a regular polygon: the same in every row of a tunnel. */
export const sides = 2
export const zIn = 3
export const zOut = 4
/** Inlet radius, apothem of a polygon, or half width of a rectangle. */
export const rIn = 5
export const tanFlare = 6
/** Where it varies with the wavelength, its mean; the table counts. */
export const wallRho = 7
export const wallSpecular = 8
/** Standard deviation of each slope, rad. */
export const wallScatter = 9
/** Of a rectangle, along y. */
export const halfYIn = 10
export const tanFlareY = 11
/** 1: the reflectance is in the table, one value for each wavelength of the spectral grid (NM_COUNT). */
export const rhoVaries = 12
/** In the unrolled map, as shares of its length: where the wall begins, its length; where the step at its upper end begins, its length. */
export const mapAt = 13
export const mapShare = 14
export const stepMapAt = 15
export const stepMapShare = 16
export const rhoTable = 17
/** A multiple of four: the device reads vectors. */
export const size = 100
