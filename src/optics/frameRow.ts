// Frame record of a tilted emitter: nine numbers of the rotation from its own frame to the lamp's, row by row, then where it stands.
// Imported as a namespace (`import * as`): bundlers then put the numbers into the code.

export const rotation = 0
export const x = 9
export const y = 10
export const z = 11
export const size = 12
