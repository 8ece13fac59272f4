// Permanent cautions, whatever the results: true of every lamp, but for the sun, which follows what can gather it. Shown where the danger is,
// never hidden by a filter.
import type { Lamp } from '../lamp/schema.ts'
import { sunGatherer } from '../library/lensSystem.ts'

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

/** By what gathers the sun; of a lamp with a lens as in CAUTIONS. */
const DAYLIGHT = {
  tunnel:
    'Cover the front with an opaque cap whenever the lamp is stored or carried in daylight: its mirrored tunnel gathers the sun, which burns it from inside.',
  optics:
    'Cover the front with an opaque cap whenever the lamp is stored or carried in daylight. Its small optics gather the sun on the emitters. That heat isn’t computed.',
} as const

/** Those of a lamp: the one about daylight by what gathers the sun, and left out where nothing does. */
export function cautionsFor(lamp: Lamp): Caution[] {
  const by = sunGatherer(lamp)
  return CAUTIONS.flatMap((c) => {
    if (c.id !== 'daylight' || by === 'lens') return [c]
    return by ? [{ ...c, text: DAYLIGHT[by] }] : []
  })
}

/** The most important in a line. */
export function firstCaution(lamp: Lamp): string {
  const by = sunGatherer(lamp)
  const sun = by
    ? ` Cover the ${by === 'lens' ? 'lens' : 'front'} in daylight: sun falling in can set the lamp alight.`
    : ' Keep what burns out of the beam.'
  return `Never look into the beam.${sun}`
}
