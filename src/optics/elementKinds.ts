// Kinds of elements, as their rows have them (elementRow.ts); the first three as params.lensKind.

export const IDEAL = 1
export const SOLID = 2
export const FRESNEL = 3
export const COVER = 4
export const DIFFUSER = 5
