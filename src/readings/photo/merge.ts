// Exposures of one scene as one map of relative light.
import { byteDoubt, MASK, type Picture } from './pixels.ts'
import { type Exposed, fitResponse, type Response } from './response.ts'

/** Relative light over the picture, in the places of its `Picture`s. */
interface LightMap {
  columns: number
  rows: number
  light: Float32Array
  /** One of `MASK`: what no exposure shows. */
  mask: Uint8Array
  /** Where on the camera's curve it was read: luminance by the standard curve in the exposure that counts most, and which that is. */
  luminance: Float32Array
  exposure: Uint8Array
}

export interface Merged extends LightMap {
  response: Response
}

export type Merging = { ok: true; merged: Merged } | { ok: false; why: string }

/**
 * Light of each place, exp(g(D))/exposure, weighted by what one byte means there (1/u², `byteDoubt`): Debevec & Malik 1997 weigh by a hat, with the same
 * end: neither dark nor burnt-out pixels count. A place is masked where it is in every exposure. Unlike sizes are refused.
 */
export function mergeExposures(exposures: readonly Exposed[]): Merging {
  const [first] = exposures
  if (!first) return { ok: false, why: 'There is no picture yet.' }
  const { columns, rows } = first.picture
  if (exposures.some(({ picture: p }) => p.columns !== columns || p.rows !== rows))
    return { ok: false, why: 'The pictures differ in size: exposures of one scene come from one camera, uncropped.' }
  const response = fitResponse(exposures)
  const tables = exposures.map((e, k) => tableOf(response, response.logExposures[k] ?? e.logExposure))
  const count = columns * rows
  const light = new Float32Array(count)
  const luminance = new Float32Array(count)
  const mask = new Uint8Array(count)
  const exposure = new Uint8Array(count)
  const weights = new Float32Array(count)
  const most = new Float32Array(count)
  for (const [k, { picture }] of exposures.entries()) {
    const table = tables[k]
    if (!table) continue
    for (let i = 0; i < count; i++) {
      const masked = picture.mask[i] ?? MASK.black
      if (masked !== MASK.fine) {
        // Black where any exposure is: it lies under what they show.
        if (mask[i] !== MASK.black) mask[i] = masked
        continue
      }
      const linear = picture.luminance[i] ?? 0
      const at = Math.min(TABLE, Math.round(Math.sqrt(linear) * TABLE))
      const weight = table.weight[at] ?? 0
      // Between the table's steps light goes with luminance.
      light[i] = (light[i] ?? 0) + weight * (table.perLuminance[at] ?? 0) * linear
      weights[i] = (weights[i] ?? 0) + weight
      if (weight <= (most[i] ?? 0)) continue
      most[i] = weight
      luminance[i] = linear
      exposure[i] = k
    }
  }
  for (let i = 0; i < count; i++) {
    const weight = weights[i] ?? 0
    if (weight <= 0) continue
    light[i] = (light[i] ?? 0) / weight
    mask[i] = MASK.fine
  }
  return { ok: true, merged: { columns, rows, light, mask, luminance, exposure, response } }
}

/** Steps over the root of the luminance: fine where it is dark. */
const TABLE = 4096

/** Light over luminance, and the weight, for a luminance of (i/TABLE)². */
function tableOf({ logLight }: Response, logExposure: number) {
  const perLuminance = new Float64Array(TABLE + 1)
  const weight = new Float64Array(TABLE + 1)
  for (let i = 1; i <= TABLE; i++) {
    const linear = (i / TABLE) ** 2
    perLuminance[i] = Math.exp(logLight(linear) - logExposure) / linear
    weight[i] = 1 / byteDoubt(linear) ** 2
  }
  return { perLuminance, weight }
}

/** Places that are burnt out and black, in shares of all. */
export function maskedShares({ mask }: Pick<Picture, 'mask'>): { saturated: number; black: number } {
  let [saturated, black] = [0, 0]
  for (const m of mask) {
    if (m === MASK.saturated) saturated++
    else if (m === MASK.black) black++
  }
  return { saturated: saturated / mask.length, black: black / mask.length }
}
