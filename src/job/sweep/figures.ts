// Every figure of the sheet that a sweep can show, hot spots among them.
import type { Figure, FigureName, HotSpotName } from '../beam/sheet.ts'
import { FIGURE_NAMES } from '../beam/sheet.ts'

/** The sun is not traced in a sweep. */
export type SweptSpot = Exclude<HotSpotName, 'sunInside'>
export const SWEPT_SPOTS: readonly SweptSpot[] = ['front', 'lens', 'wall', 'face']
export type SweptName = FigureName | `hot.${SweptSpot}`

export const SWEPT_NAMES: readonly SweptName[] = [...FIGURE_NAMES, ...SWEPT_SPOTS.map((name) => `hot.${name}` as const)]

/** Of hazards the upper end of ± decides, on the way to the lowest as well as to the highest. */
export const isHazard = (name: SweptName): boolean => name.startsWith('hot.')

export type SweptFigures = Partial<Record<SweptName, Figure>>
