// Which page of the handbook is open. Nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'

/** File names without their ending, in the order of the contents; those on physics after those for a builder. */
export const HANDBOOK_PAGES = [
  ['01-first-lamp', 'A first lamp'],
  ['02-how-many-boards', 'How many boards'],
  ['03-which-collimator', 'Which collimator'],
  ['04-the-lens', 'What the lens does, and when it doesn’t'],
  ['05-the-tunnel', 'The tunnel'],
  ['06-reading-the-sheet', 'Reading the sheet and its ±'],
  ['07-hot-spots-and-the-sun', 'Hot spots and the sun'],
  ['08-heat-and-minutes', 'Heat and minutes'],
  ['09-battery-fuses-wires', 'Battery, fuses, wires'],
  ['10-cutting', 'Cutting'],
  ['11-first-power-up', 'First power-up'],
  ['12-measuring', 'Measuring'],
  ['13-the-best-of-many', 'The best of many'],
  ['14-tolerances', 'Tolerances: what building does'],
  ['15-comparing', 'Comparing lamps'],
  ['physics-flux', 'Flux and where each lumen goes'],
  ['physics-intensity', 'Axial and peak intensity'],
  ['physics-angles', 'Beam angle, field angle, half-flux angle'],
  ['physics-target', 'Illuminance on the target'],
  ['physics-distance', 'Distances: inverse square and beam distance'],
  ['physics-hot-spots', 'Hot spots and times to harm'],
  ['physics-sun', 'The sun falling in'],
  ['physics-heat', 'Junctions, plate, run time'],
  ['physics-wires', 'Wires and fuses'],
] as const

/** So many are for a builder. */
export const BUILDER_PAGES = 15

export type HandbookPage = (typeof HANDBOOK_PAGES)[number][0]

interface HandbookState {
  open: boolean
  page: HandbookPage
}

export const handbook = createStore<HandbookState>()(() => ({ open: false, page: '01-first-lamp' }))

export const useHandbook = <T>(pick: (s: HandbookState) => T): T => useStore(handbook, pick)

export const openHandbook = (page: HandbookPage): void => handbook.setState({ open: true, page })

export const pageTitle = (page: HandbookPage): string => HANDBOOK_PAGES.find(([name]) => name === page)?.[1] ?? page
