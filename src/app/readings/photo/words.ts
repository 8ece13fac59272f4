// What is said about a picture of the wall.

import type { Merged } from '../../../readings/photo/merge.ts'
import { maskedCells } from '../../../readings/photo/pictureSet.ts'
import type { Picture } from '../../../readings/photo/pixels.ts'
import type { WallMap } from '../../../readings/photo/wallMap.ts'
import { COVERAGE } from '../../../readings/uncertainty.ts'
import { toDigits } from '../../common/format.ts'

/** "1/250", "2.5": as cameras show it, s. */
export function timeText(timeS: number | null): string {
  if (timeS === null) return ''
  return timeS < 0.3 ? `1/${Number((1 / timeS).toPrecision(3))}` : `${Number(timeS.toPrecision(3))}`
}

/** Of ± in the logarithm: a percentage says little of much. */
export const openWords = (log: number): string =>
  log < 0.4 ? `± ${percent(log)}` : `to a factor of ${toDigits(Math.exp(log), 2)}`

const percent = (share: number): string => `${toDigits(100 * share, 2)} %`

export function maskedWords({ pixels, saturated, black }: Picture): string {
  const parts = [
    ...(saturated > 0 ? [`${percent(saturated / pixels)} burnt out`] : []),
    ...(black > 0 ? [`${percent(black / pixels)} black`] : []),
  ]
  return parts.length > 0 ? parts.join(', ') : 'nothing burnt out or black'
}

/** How far the camera's tones can be trusted. */
export function curveWords({ response }: Merged): string {
  const { exponent, scatter, logExposures } = response
  const open = openWords(COVERAGE * exponent.u * Math.LN10)
  if (scatter === null)
    return `One exposure: nothing tells the camera’s own tones from the standard curve. Light a tenth or ten times of that at the meter is known ${open}. A second picture with a quarter of the time narrows this.`
  const off = Math.abs(exponent.value - 1) > COVERAGE * exponent.u
  const value = `${exponent.value.toFixed(2)} ± ${(COVERAGE * exponent.u).toFixed(2)}`
  return `Camera’s curve by ${logExposures.length} exposures: exponent ${value} against the standard’s 1${off ? ': it differs, and that is taken out' : ''}. Light a tenth or ten times of that at the meter is known ${open}. The exposures agree within ${percent(COVERAGE * scatter)}.`
}

export function cellWords(map: WallMap): string {
  const { saturated, black, outside } = maskedCells(map)
  const out = [
    ...(saturated > 0 ? [`${saturated} burnt out`] : []),
    ...(black > 0 ? [`${black} black`] : []),
    ...(outside > 0 ? [`${outside} outside the picture`] : []),
  ]
  const all = map.cells.length
  const fine = all - saturated - black - outside
  return `${fine} of ${all} places read${out.length > 0 ? `; left out: ${out.join(', ')}` : ''}.`
}
