// Props of every pane of the danger panel, and how a pane shows a place.
import type { Place } from '../../checks/finding.ts'
import type { DangerReading } from '../../job/danger/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { view } from '../store/stores.ts'

export interface PaneProps {
  reading: DangerReading
  /** The lamp that was read. */
  lamp: Lamp
}

export const showPlace = (place: Place) => view.setState({ view: 'section', focusedPlace: place })
