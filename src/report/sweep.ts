// Text for the figures of a sweep: names, units, and which end is usually wanted.
import type { FigureName } from '../job/beam/sheet.ts'
import type { SweptName, SweptSpot } from '../job/sweep/figures.ts'
import { FIGURE_WORDS, type FigureUnit, HOT_SPOT_WORDS } from './figures.ts'

export interface SweptWords {
  name: string
  unit: FigureUnit | 'kW/m²'
  /** The end that is usually wanted; the user may choose the other. */
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
