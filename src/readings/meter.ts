// What a lux meter leaves open: what its class or its certificate says, and how a reading's own uncertainty is made of it.
import type { Meter } from '../lamp/readings.ts'
import { combined, rectangular } from './uncertainty.ts'

type MeterClass = NonNullable<Meter['class']>

/**
 * Limits of DIN 5032-7, %: spectral mismatch f1′ and directional error f2 (check values 7.10). CIE 231:2019 has classes of its own over the same
 * quality indices (ISO/CIE 19476:2014). The calibration of a class is our choice, expanded (k = 2): a certificate says better.
 */
const CLASSES: Record<MeterClass, { spectralPct: number; cosinePct: number; calibrationPct: number }> = {
  A: { spectralPct: 3, cosinePct: 1.5, calibrationPct: 3 },
  B: { spectralPct: 6, cosinePct: 3, calibrationPct: 5 },
  C: { spectralPct: 9, cosinePct: 6, calibrationPct: 10 },
}

/** A class for a meter of which none is stated: the lowest. Our choice. */
export const CLASS_ASSUMED: MeterClass = 'C'

/** How well a reading repeats beside its last digit, as a share: a steady hand and a steady lamp. Our choice. */
const REPEATS = 0.01

/** Standard uncertainties as shares. */
export interface MeterDoubt {
  /** The same in every reading of the meter: calibration and colour together. */
  scale: number
  calibration: number
  spectral: number
  /** Of light from the side: times the sine of its angle. */
  cosine: number
  /** Which class the limits are of; null: all were stated. */
  classUsed: MeterClass | null
}

/**
 * Standard uncertainties of a meter, as shares of the reading: half of an expanded calibration (k = 2), limits as rectangular (GUM 4.3.7). White LEDs
 * are no calibration lamp: all of f1′ counts.
 */
export function meterDoubt(meter: Meter = {}): MeterDoubt {
  const ofClass = CLASSES[meter.class ?? CLASS_ASSUMED]
  const calibration = (meter.calibrationPct ?? ofClass.calibrationPct) / 200
  const spectral = rectangular((meter.spectralPct ?? ofClass.spectralPct) / 100)
  const cosine = rectangular((meter.cosinePct ?? ofClass.cosinePct) / 100)
  const stated = [meter.calibrationPct, meter.spectralPct, meter.cosinePct].every((v) => v !== undefined)
  return {
    scale: combined([calibration, spectral]),
    calibration,
    spectral,
    cosine,
    classUsed: stated ? null : (meter.class ?? CLASS_ASSUMED),
  }
}

/**
 * Standard uncertainty of one reading by itself, lx, beside what all readings of the meter share: its last digit (rectangular over ± half a digit, GUM
 * F.2.2.1), how it repeats, and the directional error of light at `thetaRad` to the meter's axis (our model: f2 times the sine).
 */
export function readingDoubt(lx: number, meter: Meter = {}, thetaRad = 0): number {
  const digit = rectangular((meter.resolutionLx ?? lastDigitOf(lx)) / 2)
  return combined([digit, REPEATS * lx, meterDoubt(meter).cosine * Math.sin(Math.abs(thetaRad)) * lx])
}

/** Meters show three and a half digits: the last one of a reading, where nothing is stated. Common practice, no source. */
const lastDigitOf = (lx: number): number => (lx > 0 ? 10 ** (Math.floor(Math.log10(lx)) - 2) : 0.01)
