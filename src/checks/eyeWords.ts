// Words for what eyes meet, the same in findings, on screen, on the terminal and in print. Screening: never a certificate.
import type { RiskGroup, RiskHazard, RiskRow, RiskScreening } from '../hazard/eyeRisk.ts'
import type { EyeLead } from '../hazard/eyeSheet.ts'
import type { Flicker } from '../hazard/flicker.ts'
import { distanceText } from '../num/quantity.ts'
import { downThree, plain, standardMm, upThree } from './words.ts'

const GROUPS: Record<RiskGroup, string> = {
  exempt: 'the exempt group',
  RG1: 'risk group 1 (low)',
  RG2: 'risk group 2 (moderate)',
  RG3: 'risk group 3 (high)',
}

export const groupWords = (group: RiskGroup): string => GROUPS[group]

export const HAZARDS: Record<RiskHazard, string> = {
  blueLight: 'Blue light',
  blueSmallSource: 'Blue light, small source',
  retinalThermal: 'Retinal heat',
  actinicUltraviolet: 'Actinic ultraviolet',
  nearUltraviolet: 'Near ultraviolet',
  infrared: 'Infrared',
}

/** What a distance is for: “no limit beyond”, “for a look of 10 s”. */
export function leadTime({ seconds }: EyeLead): string {
  if (seconds === null) return 'no limit is reached beyond'
  return seconds < 1 ? 'for a blink of 0.25 s' : `for a look of ${seconds} s`
}

/** One row of the screening; what isn't computed is said. */
export function riskWords({ hazard, emission, unit, group, fromNm }: RiskRow): string {
  if (!emission) return 'not computed: the spectrum ends at 780 nm'
  const most = Math.max(...emission)
  const value = `up to ${upThree(most)} ${hazard === 'retinalThermal' ? 'W/m²sr·rad' : unit}`
  const range = fromNm === undefined ? '' : `; from ${fromNm} nm on, not computed below`
  return `${value}${range}${group === null ? '' : `: ${groupWords(group)}`}`
}

/** The group at 200 mm and where the beam gives 500 lx, in one sentence. */
export function groupSentence({ at200, at500lx }: { at200: RiskScreening; at500lx: RiskScreening }): string {
  const far = plain(Number((at500lx.distanceMm / 1000).toPrecision(2)))
  return `By screening: ${groupWords(at200.group)} at ${standardMm(200)}; ${groupWords(at500lx.group)} at ${distanceText(`${far} m`, at500lx.distanceMm)}, where the beam gives 500 lx`
}

/** Flicker of one driver in words, with its limits. */
export function flickerWords(f: Flicker): string {
  const modes = f.modes.join(', ')
  if (f.hz === null || f.lowRiskPercent === null || f.noEffectPercent === null)
    return `${f.driver} (${modes}): dims by pulse width, and its frequency isn’t stated, so flicker is not computed`
  const depth = `${upThree(f.modulationPercent)} % deep at ${plain(f.hz)} Hz`
  return `${f.driver} (${modes}): ${depth}, ${f.verdict}; low risk to ${downThree(f.lowRiskPercent)} %, no effect to ${downThree(f.noEffectPercent)} % (IEEE 1789-2015, from memory)`
}
