// The greatest radiance of any emitter, weighted for the retina: a lens shows the source larger, never brighter
// (conservation of étendue).
import { placeEmitters } from '../lamp/place.ts'
import type { EmitterType, Lamp, Profile } from '../lamp/schema.ts'
import { emitterPower } from '../library/emitterSpectrum.ts'
import { blueLightWeight, retinalThermalWeight, weightedShare } from '../library/eyeWeights.ts'
import { LM_PER_W, photopic } from '../library/photopic.ts'
import { linear } from '../num/interpolate.ts'
import type { SourceRadiance } from './eyeLimits.ts'
import type { PerWatt } from './eyeRays.ts'
import { densestPerWatt } from './rayRadiance.ts'

const RAD = Math.PI / 180

/**
 * Greatest weighted radiance of any emitter, W/m²sr. `emitterW`: radiant watts, in placeEmitters order. The small
 * optics are taken to show the bare emitter somewhere: the hot side. Of single rays the densest part of them, upper end. Weights: IEC 62471:2006.
 */
export function sourceRadiance(lamp: Lamp, emitterW: ArrayLike<number>): SourceRadiance {
  let [blueWm2sr, thermalWm2sr] = [0, 0]
  for (const [i, { emitter }] of placeEmitters(lamp).entries()) {
    const power = emitterPower(emitter)
    const perWatt = emitter.rays ? densestPerWatt(emitter.rays) : peakPerWatt(emitter.profile) / sourceAreaM2(emitter)
    const radiance = emitterW[i]! * perWatt
    blueWm2sr = Math.max(blueWm2sr, radiance * weightedShare(power, blueLightWeight))
    thermalWm2sr = Math.max(thermalWm2sr, radiance * weightedShare(power, retinalThermalWeight))
  }
  return { blueWm2sr, thermalWm2sr }
}

/** What one watt of the emitter weighs whose light weighs most: by B(λ) and R(λ) of IEC 62471:2006, and in lm; each by itself. Zeros without emitters. */
export function greatestPerWatt(lamp: Lamp): PerWatt {
  const powers = [...new Set(placeEmitters(lamp).map(({ emitter }) => emitter))].map(emitterPower)
  const greatest = (of: (nm: number) => number) => Math.max(0, ...powers.map((power) => weightedShare(power, of)))
  return {
    blue: greatest(blueLightWeight),
    thermal: greatest(retinalThermalWeight),
    lumens: greatest((nm) => LM_PER_W * photopic(nm)),
  }
}

const sourceAreaM2 = ({ source }: EmitterType): number =>
  1e-6 * (source.shape === 'disc' ? (Math.PI / 4) * source.diameterMm ** 2 : source.widthMm * source.heightMm)

const STEPS = 900
/** Nearer the horizon a profile over cos θ says more of its table than of the emitter. */
const STEEPEST_DEG = 80

/**
 * Greatest radiance over direction, I/cos θ, of one watt from one square metre, 1/sr; directions beyond 80° are left
 * out (our choice). 0 for a profile without light. A Lambertian source gives 1/π. Tables as the tracer reads them: flat
 * before the first angle, nothing past the last; rows of a map count by the azimuth between their neighbours.
 */
export function peakPerWatt(profile: Profile): number {
  const of = intensityOf(profile)
  const end = endDeg(profile)
  const step = (end / STEPS) * RAD
  let total = 0
  let most = of(0).greatest
  for (let k = 0; k < STEPS; k++) {
    const middle = (k + 0.5) * step
    total += 2 * Math.PI * of(middle).mean * Math.sin(middle) * step
    const edge = (k + 1) * step
    if (edge <= STEEPEST_DEG * RAD) most = Math.max(most, of(edge).greatest / Math.cos(edge))
  }
  return total > 0 ? most / total : 0
}

/** Where a profile ends: a table whose only angle is 0 is flat. */
function endDeg(profile: Profile): number {
  const last = profile.kind === 'table' || profile.kind === 'map' ? (profile.thetaDeg.at(-1) ?? 90) : 90
  return last > 0 ? last : 90
}

function intensityOf(profile: Profile): (theta: number) => { mean: number; greatest: number } {
  const same = (value: number) => ({ mean: value, greatest: value })
  switch (profile.kind) {
    case 'cosine': {
      const m = Math.log(0.5) / Math.log(Math.cos((profile.fwhmDeg / 2) * RAD))
      return (theta) => same(Math.cos(theta) ** m)
    }
    case 'gaussian':
      return (theta) => same(Math.exp(-4 * Math.LN2 * (theta / (profile.fwhmDeg * RAD)) ** 2))
    case 'table':
      return (theta) => same(linear(profile.thetaDeg, profile.intensity, theta / RAD))
    case 'map': {
      const shares = azimuthShares(profile.phiDeg)
      return (theta) => {
        const row = profile.intensity.map((at) => linear(profile.thetaDeg, at, theta / RAD))
        return { mean: row.reduce((sum, value, i) => sum + value * shares[i]!, 0), greatest: Math.max(...row) }
      }
    }
  }
}

/** Share of the turn that belongs to each azimuth: half the gaps to its neighbours. */
function azimuthShares(phiDeg: readonly number[]): number[] {
  const n = phiDeg.length
  const gap = (from: number, to: number) => ((to - from) % 360 <= 0 ? ((to - from) % 360) + 360 : (to - from) % 360)
  return phiDeg.map((phi, i) => (gap(phiDeg[(i + n - 1) % n]!, phi) + gap(phi, phiDeg[(i + 1) % n]!)) / 720)
}
