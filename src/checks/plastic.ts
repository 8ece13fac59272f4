// What light does to black plastic: one pair of limits for every rule, so that the same material has the same limit everywhere.
import { criticalAt, ignitionMaterial } from '../library/ignition.ts'
import { usualKWm2 } from '../library/thresholds.ts'
import { kWm2Plain } from './words.ts'

export interface PlasticLimits {
  softensKWm2: number
  ignitesKWm2: number
  /** Both, with their source. */
  words: string
}

/** Limits of black plastic (ABS, taken for all) in air of ambientC °C; as published, whatever the document sets. */
export function plasticLimits(ambientC: number): PlasticLimits {
  const abs = ignitionMaterial('abs')
  const softensKWm2 = usualKWm2('black-plastic', ambientC)
  const ignitesKWm2 = criticalAt(abs, ambientC)
  return {
    softensKWm2,
    ignitesKWm2,
    words: `Black plastic, wires and boards soften from ${kWm2Plain(softensKWm2)} and can ignite from ${kWm2Plain(ignitesKWm2)} on (${abs.source}).`,
  }
}
