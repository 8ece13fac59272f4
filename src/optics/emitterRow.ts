// Emitter record: place, turn, kind, alias table. Imported as a namespace (`import * as`): bundlers then put the numbers into the code.

export const x = 0
export const y = 1
export const cos = 2
export const sin = 3
export const kind = 4
export const aliasShare = 5
export const alias = 6
export const size = 8
