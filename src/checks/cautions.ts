// Permanent cautions: true of every lamp, whatever the results. Shown where the danger is, never hidden by a filter.

export type CautionId =
  | 'eyes'
  | 'daylight'
  | 'clear-distance'
  | 'fuses'
  | 'packs'
  | 'rules'
  | 'estimates'
  | 'laboratory'
  | 'heat'

export interface Caution {
  id: CautionId
  text: string
}

export const CAUTIONS: readonly Caution[] = [
  {
    id: 'eyes',
    text: 'Never look into the beam, not even for a moment and not from far away. Warn others before you switch on.',
  },
  {
    id: 'daylight',
    text: 'Cover the lens with an opaque cap whenever the lamp is stored or carried in daylight: the sun burns it from inside.',
  },
  {
    id: 'clear-distance',
    text: 'Keep the stated clear distance to everything that burns, and never lay a lit lamp face down.',
  },
  { id: 'heat', text: 'Run it only with its cooling in place, and stay with it: it can burn itself down.' },
  { id: 'fuses', text: 'Fuse every channel, and the battery at its own terminals.' },
  { id: 'packs', text: 'Use, charge and store lithium packs as their maker says.' },
  { id: 'rules', text: 'Local codes and licensed practice come first.' },
  {
    id: 'estimates',
    text: 'All figures are estimates for planning. Ignition and burn figures scatter by tens of per cent: floors for a warning, never proof of safety.',
  },
  {
    id: 'laboratory',
    text: 'This is a screening, not a photobiological classification: that belongs to a laboratory.',
  },
]
