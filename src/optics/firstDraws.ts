// Draw numbers of the first, low-discrepancy dimensions; the hash stream of a path starts after them.

export const whichEmitter = 0
export const pointU = 1
export const pointV = 2
export const polar = 3
export const azimuth = 4
export const wavelength = 5
export const firstBounce = 8
