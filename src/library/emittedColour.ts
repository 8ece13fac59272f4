// Colour of what a lamp's emitters give together.
import { placeEmitters } from '../lamp/place.ts'
import type { Lamp } from '../lamp/schema.ts'
import { type Chromaticity, tristimulus } from './colour.ts'
import { emitterPower } from './emitterSpectrum.ts'

/** `fluxLm`: of every emitter, in placeEmitters order. Null when none gives light. Luminous flux weights X : Y : Z of each spectrum by Y (CIE 15). */
export function emittedColour(lamp: Lamp, fluxLm: ArrayLike<number>): Chromaticity | null {
  const lmOf = new Map<string, number>()
  for (const [i, { emitter }] of placeEmitters(lamp).entries()) {
    lmOf.set(emitter.id, (lmOf.get(emitter.id) ?? 0) + fluxLm[i]!)
  }
  const sum: [number, number, number] = [0, 0, 0]
  for (const type of lamp.emitterTypes) {
    const lm = lmOf.get(type.id) ?? 0
    if (!(lm > 0)) continue
    const xyz = tristimulus(emitterPower(type))
    for (let k = 0; k < 3; k++) sum[k]! += (lm * xyz[k]!) / xyz[1]
  }
  const all = sum[0] + sum[1] + sum[2]
  return all > 0 ? { x: sum[0] / all, y: sum[1] / all } : null
}
