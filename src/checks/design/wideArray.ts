// An array that is wide against the focal length: the lens makes a beam of 2·atan(D/2f) out of it, however narrow the collimators are.
import type { Lamp } from '../../lamp/schema.ts'
import { lensSystem } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'
import { arrayDiameterMm, emissionPoints, fwhmDeg } from '../optics.ts'
import { deg, mm, mmAtLeast } from '../words.ts'

const NO_GAIN = 0.9
const LITTLE_GAIN = 0.6

export function wideArray(lamp: Lamp): Finding[] {
  const all = emissionPoints(lamp)
  const system = lensSystem(lamp)
  if (!system || all.length === 0) return []
  const widths = all.map((s) => fwhmDeg(s.emitter, s.optic))
  const narrow = widths.reduce<number>((least, w) => Math.min(least, w ?? 180), 180)
  const f = system.focalMm
  const wide = arrayDiameterMm(all)
  const spread = (2 * Math.atan(wide / (2 * f)) * 180) / Math.PI
  if (spread < LITTLE_GAIN * narrow) return []
  const none = spread >= NO_GAIN * narrow
  return [
    {
      rule: 'array-too-wide-for-lens',
      severity: none ? 'warning' : 'note',
      title: none
        ? `The array of ${mm(wide)} spreads over ${deg(spread)} behind a lens of ${mm(f)} focal length: no narrower than its collimators, ${deg(narrow)}.`
        : `The array of ${mm(wide)} spreads over ${deg(spread)} behind a lens of ${mm(f)} focal length: the lens narrows ${deg(narrow)} by little.`,
      why: 'A lens turns the width of the array into angle: 2 × atan(width / (2 × focal length)), 53° for an array as wide as the focal length and 28° for one half as wide (geometry of one lens). Narrow collimators in front of it change nothing about that.',
      cure: `Pack the emitters closer, or take a longer focal length: ${mmAtLeast(wide / (2 * Math.tan((narrow * Math.PI) / 720)))} would halve the collimators’ width. Look at “without lens” before you buy it.`,
      place: { kind: 'part', part: 'lens' },
    },
  ]
}
