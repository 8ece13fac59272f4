// Names and order of the numbers that the backward kernel in WebAssembly reads, and where they lie: memory.as has the same addresses.

/** Doubles of an aim, its opening and the spectra. */
export const NUMBERS = [
  ...(['fromC', 'widthC', 'cosTheta', 'sinTheta', 'cosPhi', 'sinPhi'] as const),
  ...(['discX', 'discY', 'discZ', 'discHalfMm'] as const),
  ...(['areaMm2', 'half', 'sideTan', 'reach', 'edgeAreaMm2', 'edgeShare'] as const),
  ...(['topMm', 'spectralTotal', 'perScore'] as const),
]

/** 32-bit integers. */
export const COUNTS = ['aimKind', 'planes', 'open', 'cells', 'spectra'] as const

export const AIM_KINDS = ['cone', 'ring', 'band', 'disc'] as const

export const NUMBERS_AT = 1920
export const SUMS_AT = 2304
export const COUNTS_AT = 2368
