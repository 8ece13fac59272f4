// Spectrum of what an emitter sends out: the document's, or that of its rays where each has a wavelength.
import { eachRay, onceForRays, raysOf } from '../lamp/rays.ts'
import type { EmitterType } from '../lamp/schema.ts'
import { FROM_NM, LM_PER_W, photopic, SAMPLES, STEP_NM } from './photopic.ts'
import { spectrumEfficacy, spectrumPower } from './spectra.ts'

interface RaySpectrum {
  power: Float64Array
  lmPerW: number
}

const spectrumOfRays = onceForRays((rays): RaySpectrum => {
  const bins = makeSpectrumBins()
  let [watts, lumens] = [0, 0]
  for (const { nm, weight } of eachRay(raysOf(rays))) {
    bins.add(nm, weight)
    watts += weight
    lumens += weight * LM_PER_W * photopic(nm)
  }
  return { power: bins.power(), lmPerW: watts > 0 ? lumens / watts : 0 }
})

/** Relative radiant power per 5 nm, 81 values from 380 to 780 nm. Not normalised. A fresh array each time. */
export function emitterPower(type: Pick<EmitterType, 'spectrum' | 'rays'>): Float64Array {
  return type.rays?.ownWavelengths ? spectrumOfRays(type.rays).power.slice() : spectrumPower(type.spectrum)
}

/** Lumens per watt of its light, 683.002 V(λ); of rays with wavelengths the mean over them by their weights. */
export function emitterEfficacy(type: Pick<EmitterType, 'spectrum' | 'rays'>): number {
  return type.rays?.ownWavelengths ? spectrumOfRays(type.rays).lmPerW : spectrumEfficacy(type.spectrum)
}

/**
 * Power at single wavelengths (380 to 780 nm) into the 81 values of a spectrum, each shared between its two neighbours so that sum and mean stay; the
 * outermost two count for half a step.
 */
export function makeSpectrumBins(): { add(nm: number, watts: number): void; power(): Float64Array } {
  const sums = new Float64Array(SAMPLES)
  return {
    add(nm, watts) {
      const at = Math.min(Math.max((nm - FROM_NM) / STEP_NM, 0), SAMPLES - 1)
      const i = Math.min(Math.floor(at), SAMPLES - 2)
      sums[i]! += watts * (1 - (at - i))
      sums[i + 1]! += watts * (at - i)
    },
    power: () => sums.map((sum, i) => (i === 0 || i === SAMPLES - 1 ? 2 * sum : sum)),
  }
}
