// Text for the light that a sheet's lumens refer to.

import type { LightTraced } from '../job/power/lightTraced.ts'
import { inSystem, temperatureText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { timeWords } from './power.ts'

export function lightWords(light: LightTraced, system: UnitSystem = 'metric'): string {
  if (light.kind === 'rated')
    return 'Light as rated: every board at its own current, junctions at their rated temperature'
  if (light.kind === 'board')
    return inSystem(
      `Light with boards at ${temperatureText(String(Math.round(light.boardC)), light.boardC)}, each at its own current`,
      system,
    )
  const { mode, seconds, endS, junctionMaxC } = light
  const when =
    seconds > 1.001 * endS
      ? `after its end at ${timeWords(endS)}`
      : seconds === 0
        ? 'at switch-on'
        : `${timeWords(seconds)} after switch-on`
  const failed = light.protectionFailed ? ', cut-out and fold-back taken as failed' : ''
  return inSystem(
    `Light of ${mode}, ${when}: hottest junction ${temperatureText(String(Math.round(junctionMaxC)), junctionMaxC)}${failed}`,
    system,
  )
}
