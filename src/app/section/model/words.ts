// Labels of the section's hot spots.

import type { HotSpot } from '../../../run/figure.ts'
import { distanceText, withError } from '../../common/lengthText.ts'
import type { UnitSystem } from '../../common/unitSystem.ts'

const SPOT_NAMES = { lens: 'Lens', wall: 'Wall', face: 'Face', front: 'In front', sunInside: 'Sun inside' } as const
export type SpotName = keyof typeof SPOT_NAMES
export const SPOTS = Object.keys(SPOT_NAMES) as SpotName[]

/** `mapped`: name of what the spot on the lens lies on, where that is another element. */
export const spotText = (name: SpotName, spot: HotSpot, mapped?: string) =>
  `${(name === 'lens' && mapped) || SPOT_NAMES[name]} ${withError(spot.kWm2, spot.se)} kW/m²`

/** Distance in front of the lamp's foremost part, for a spot outside the drawing. */
export const beyondText = (spot: HotSpot, frontZMm: number, system: UnitSystem) =>
  `${distanceText(spot.zMm - frontZMm, system)} from the lamp`
