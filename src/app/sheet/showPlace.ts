import type { Place } from '../../checks/finding.ts'
import { view } from '../store/stores.ts'
import { viewOf } from './words.ts'

/** DeviceQueue the page to a place on the lamp. */
export function showPlace(place: Place) {
  view.setState({ pointed: place, view: viewOf(place) })
}
