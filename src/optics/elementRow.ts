// Row of one element: what it is, where its frame stands, and the numbers that no lens has. Its body, index and absorption are in a row
// of parameters beside (params.ts), in the frame's own z. Imported as a namespace (`import * as`): bundlers then put the numbers into the code.

/** One of elementKinds.ts. */
export const kind = 0
/** Origin of the frame in the lamp, mm: the middle of the piece, on the plane of the document's zMm. */
export const x = 1
export const y = 2
export const z = 3
/** Lamp from frame, Rx·Ry·Rz: nine numbers by rows; the last of each row is the normal's. */
export const r00 = 4
export const r02 = 6
export const r12 = 9
export const r22 = 12
/** 0: the rotation is none. */
export const turned = 13
/** z of the body's two planes in the frame: towards the source, towards the target. */
export const front = 14
export const back = 15
/** Offset of the first ring's record. */
export const ringsAt = 16
/** Of a coated cover's surface; below 0: plain, by Fresnel. */
export const surfaceRho = 17
/** Diffuser: standard deviation of each slope, rad; shares passed and reflected. */
export const spread = 18
export const transmits = 19
export const reflects = 20
/** Which map holds the irradiance on it: 0 that of the lens, from 1 on those of the other elements; and half the side of that map. */
export const map = 21
export const mapHalf = 22
/** A multiple of four: the device reads vectors. */
export const size = 24
