// Text for the light that a sheet's lumens refer to.
import type { LightTraced } from '../job/power/lightTraced.ts'
import { timeWords } from './power.ts'

export function lightWords(light: LightTraced): string {
  if (light.kind === 'rated')
    return 'Light as rated: every board at its own current, junctions at their rated temperature'
  if (light.kind === 'board') return `Light with boards at ${Math.round(light.boardC)} °C, each at its own current`
  const { mode, seconds, endS, junctionMaxC } = light
  const when =
    seconds > 1.001 * endS
      ? `after its end at ${timeWords(endS)}`
      : seconds === 0
        ? 'at switch-on'
        : `${timeWords(seconds)} after switch-on`
  const failed = light.protectionFailed ? ', cut-out and fold-back taken as failed' : ''
  return `Light of ${mode}, ${when}: hottest junction ${Math.round(junctionMaxC)} °C${failed}`
}
