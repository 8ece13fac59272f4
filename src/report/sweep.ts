// Text for the figures of a sweep: names, units, and which end is usually wanted.

import type { FigureName } from '../job/beam/sheet.ts'
import type { SweptName, SweptSpot } from '../job/sweep/figures.ts'
import { fahrenheit, M_PER_FOOT, MM_PER_INCH, type UnitSystem } from '../num/unitSystem.ts'
import { FIGURE_WORDS, type FigureUnit, HOT_SPOT_WORDS } from './figures.ts'

/** How values of a unit are shown: its word, and the value in it. */
export function shownIn(unit: string, system: UnitSystem): { word: string; toShown: (value: number) => number } {
  if (system === 'inch') {
    if (unit === 'mm') return { word: 'in', toShown: (mm) => mm / MM_PER_INCH }
    if (unit === 'm') return { word: 'ft', toShown: (m) => m / M_PER_FOOT }
    if (unit === '°C') return { word: '°F', toShown: fahrenheit }
  }
  return { word: unit, toShown: (value) => value }
}

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
