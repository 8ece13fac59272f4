// Kind record: all that emitters of one type behind one optic share. Imported as a namespace (`import * as`): bundlers then put the numbers into the code.

export const disc = 0
export const halfX = 1
export const halfY = 2
export const z = 3
/** 0 none, 1 reflector cup. */
export const optic = 4
export const efficiency = 5
/** 0 cosine power, 1 table, 2 map, 3 single rays (rayTable.ts). */
export const profile = 6
/** 1/(m+1) for a power; else the offset of the first table. */
export const profileAt = 7
/** Rows of a map. */
export const profileRows = 8
export const spectrumAt = 9
export const cupFocal = 10
export const cupExit = 11
export const cupRho = 12
export const cupX = 13
export const cupY = 14
export const cupZ = 15
export const size = 16
