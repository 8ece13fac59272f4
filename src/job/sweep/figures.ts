// Every figure of the sheet that a sweep can show, hot spots among them: names, units, and which end is usually wanted.
import type { Figure, FigureName, HotSpotName } from '../sheet.ts'
import { FIGURE_NAMES } from '../sheet.ts'
import { FIGURE_WORDS, type FigureUnit, HOT_SPOT_WORDS } from '../words.ts'

/** The sun is not traced in a sweep. */
type SweptSpot = Exclude<HotSpotName, 'sunInside'>
export const SWEPT_SPOTS: readonly SweptSpot[] = ['front', 'lens', 'wall', 'face']
export type SweptName = FigureName | `hot.${SweptSpot}`

export const SWEPT_NAMES: readonly SweptName[] = [...FIGURE_NAMES, ...SWEPT_SPOTS.map((name) => `hot.${name}` as const)]

export interface SweptWords {
  name: string
  unit: FigureUnit | 'kW/m²'
  /** The end that most builders look for; they may ask for the other. */
  wanted: 'highest' | 'lowest'
}

const LOWEST: ReadonlySet<SweptName> = new Set<SweptName>([
  'patternContrast',
  'spillOutsideBeam',
  'spillOutsideField',
  'spillOutsideTarget',
  'inverseSquareFromM',
  'lensVariation',
  'faceVariation',
  'beamAngleDeg',
  'fieldAngleDeg',
  'halfFluxAngleDeg',
  'ninetyFluxAngleDeg',
])

export function sweptWords(name: SweptName): SweptWords {
  if (name.startsWith('hot.')) {
    const spot = name.slice(4) as SweptSpot
    return { name: `Hot spot, ${HOT_SPOT_WORDS[spot].name.toLowerCase()}`, unit: 'kW/m²', wanted: 'lowest' }
  }
  const { name: words, unit } = FIGURE_WORDS[name as FigureName]
  return { name: words, unit, wanted: LOWEST.has(name) ? 'lowest' : 'highest' }
}

/** Of hazards the upper end of ± decides, on the way to the lowest as well as to the highest. */
export const isHazard = (name: SweptName): boolean => name.startsWith('hot.')

export type SweptFigures = Partial<Record<SweptName, Figure>>
