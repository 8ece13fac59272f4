import type { Place } from '../../checks/finding.ts'
import { view } from '../store/stores.ts'
import { viewOf } from './words.ts'

/** Shows a place on the lamp in the view that suits it best. */
export function showPlace(place: Place) {
  view.setState({ focusedPlace: place, view: viewOf(place) })
}
