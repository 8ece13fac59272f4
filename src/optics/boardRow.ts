// Record of a board that stops light: its frame (as frameRow.ts), then its outline. Imported as a namespace (`import * as`): bundlers then
// put the numbers into the code.

/** 0 rectangle, 1 hexagon with a flat facing its +x, 2 disc. */
export const shape = 12
/** Half sizes along x and y; of a hexagon half across flats and half across corners, of a disc the radius twice. */
export const halfX = 13
export const halfY = 14
export const size = 16
