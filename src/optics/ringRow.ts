// Ring record of a Fresnel lens. Imported as a namespace (`import * as`): bundlers then put the numbers into the code.

export const tan = 0
export const sin = 1
export const cos = 2
export const tip = 3
export const cot = 4
export const size = 5
