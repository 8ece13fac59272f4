// One reflectance for a table over the wavelength: what words and estimates read.

import { photopic } from '../../../library/photopic.ts'
import { gridNm, spectrumPower } from '../../../library/spectra.ts'
import { linear } from '../../../num/interpolate.ts'

/** White light of the trade's middle class: the mean hardly depends on it (our choice). */
const WHITE = spectrumPower({ kind: 'white', classK: 4000 })

/** Luminous mean of a table's reflectance over white light, rounded to a thousandth. */
export function whiteMean(rows: readonly { nm: number; reflectance: number }[]): number {
  const nms = rows.map((r) => r.nm)
  const values = rows.map((r) => r.reflectance)
  let sum = 0
  let all = 0
  for (const [i, power] of WHITE.entries()) {
    const weight = power * photopic(gridNm(i))
    sum += weight * linear(nms, values, gridNm(i))
    all += weight
  }
  return Math.round((1000 * sum) / all) / 1000
}
