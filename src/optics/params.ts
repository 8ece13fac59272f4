// Scene parameters, one Float32Array. Imported as a namespace (`import * as`): bundlers then put the numbers into the code.

export const emitters = 0
export const hasTunnel = 1
export const sides = 2
export const zIn = 3
export const zOut = 4
/** Inlet radius, or apothem of a polygon. */
export const rIn = 5
export const tanFlare = 6
export const wallRho = 7
export const wallSpecular = 8
/** Standard deviation of each slope, rad. */
export const wallScatter = 9
/** 0 round, 1 square, 2 hexagon, 3 rectangle (flat facing +x), 4 polygon. */
export const faceShape = 10
export const faceHalf = 11
export const faceRho = 12
/** 0 none, 1 ideal, 2 solid, 3 Fresnel. */
export const lensKind = 13
/** z of the first lens plane that light from the face meets, and of the last. */
export const lensFront = 14
export const lensBack = 15
/** Half diameter, half side of a square aperture, or half a rectangle's width. */
export const lensHalf = 16
/** The piece that is cut out: 0 a circle, 1 a square about the optical axis; 2 a rectangle, 3 a circle with its middle anywhere. */
export const lensSquare = 17
export const lensFocal = 18
export const lensThickness = 19
/** Local frame of grooved and solid lenses: zeta = lensSign * (z - lensZ), out of the body on the worked side. */
export const lensSign = 20
export const lensZ = 21
export const lensPitch = 22
export const lensRings = 23
export const lensLayer = 24
export const lensTanDraft = 25
export const lensTipShare = 26
/** Bulk absorption, 1/mm; where it varies with the wavelength, that at 550 nm, and the table counts. */
export const lensAbsorption = 27
export const lensCurvature = 28
export const lensConic = 29
/** 0 emitters, 1 sun. */
export const source = 30
export const sunSinTilt = 31
export const sunCosTilt = 32
export const sunAzimuth = 33
export const sunHalfAngle = 34
/** Radius of the aperture that the sun falls on. */
export const sunRadius = 35
export const sunZ = 36
/** 0 a circle, 1 a square, 2 a rectangle. */
export const sunSquare = 37
/** u of the limb darkening 1 − u(1 − cos); 0: an even disc. */
export const sunLimb = 38
/** 1: the absorption is in the table, one value for each wavelength of the spectral grid (NM_COUNT), 1/mm. */
export const lensAbsorptionVaries = 39
export const lensAbsorptionTable = 40
/** Half a rectangle's height; middle of a piece from the optical axis. Of pieces 2 and 3. */
export const lensHalfY = 121
export const lensMidX = 122
export const lensMidY = 123
/** Half height of the rectangle that the sun falls on (sunSquare 2). */
export const sunHalfY = 124
/** Half a rectangular face's size along y; of a polygon the radius about the axis that lies on it. */
export const faceHalfY = 125
/** Number of a polygon's corners, which are in a table of their own. */
export const faceCorners = 126
/** 1: some emitter's light is drawn from single rays (rayTable.ts), which may start downwards. */
export const byRays = 127
/** A multiple of four: the device reads vectors. */
export const size = 128
