// One colour of the maps' ramp as three bytes.
import { RAMP, RAMP_SIZE } from './ramp.ts'

export type Rgb = [number, number, number]

/** Share 0..1 to 8-bit sRGB. */
export function lightRamp(share: number): Rgb {
  const i = 3 * Math.round(Math.min(1, Math.max(0, share)) * (RAMP_SIZE - 1))
  return [RAMP[i]!, RAMP[i + 1]!, RAMP[i + 2]!]
}
