// A sink's conductances put together by hand from films and areas, for a plate of 200 mm in air of 20 °C at 80 °C.
import { airAt, STEFAN_BOLTZMANN } from '../../src/heat/air.ts'
import { faceAreaM2 } from '../../src/heat/face.ts'
import { makeSink } from '../../src/heat/sink.ts'
import type { Cooling } from '../../src/lamp/schema.ts'
import { expectWithin } from './expect.ts'

export const AMBIENT_C = 20
const PLATE_C = 80
export const KELVIN = 60
/** At the film's temperature. */
export const filmAir = () => airAt(50)
/** 6 mm of 6061, 160 W/mK, on 0.04 m²: half of it lies before the back. */
const BACK_KW = 0.003 / (160 * 0.04)
export const square = { shape: 'square' as const, sizeMm: 200 }

export const coolingOf = (sink: Cooling['sink'], over: Partial<Cooling> = {}): Cooling => ({
  plate: { thicknessMm: 6, metal: 'aluminium-6061' },
  ...{ sink, air: { kind: 'still' }, finish: 'painted', aim: 'level' },
  ...over,
})

/** Painted, 0.9: an envelope of E m² about surfaces of A m² looks like E · 1/(1 + (E/A)(1/0.9 − 1)), between 353.15 and 293.15 K. */
export function radiatedWK(envelopeM2: number, surfaceM2: number): number {
  const apparent = 1 / (1 + (envelopeM2 / surfaceM2) * (1 / 0.9 - 1))
  return (apparent * envelopeM2 * STEFAN_BOLTZMANN * (353.15 ** 4 - 293.15 ** 4)) / 60
}

interface ByHand {
  /** W/K from the bare back, and from the fins were they all as warm as their roots. */
  base: number
  fin: number
  /** Share of the fins' area that counts. */
  eta: number
}

/**
 * Holds a sink at 80 °C to base, fins and efficiency: behind half of the plate both take 1/(1 + (base + η fin) R) of it, and the
 * link is what makes link and fin in series take η fin of that.
 */
export function expectSink(
  cooling: Cooling,
  { base, fin, eta }: ByHand,
  face: Parameters<typeof makeSink>[1] = square,
) {
  const sink = makeSink(cooling, face, AMBIENT_C)
  const backKW = (BACK_KW * 0.04) / faceAreaM2(face)
  const share = 1 / (1 + (base + eta * fin) * backKW)
  const at = sink.at(PLATE_C)
  const tolerance = { rel: 1e-9, because: 'the same formulas at a row of the table' }
  expectWithin(at.base, share * base, tolerance)
  expectWithin(at.fin, fin, tolerance)
  const series = fin > 0 ? (at.link * at.fin) / (at.link + at.fin) : at.link
  expectWithin(series, share * eta * fin, tolerance)
  expectWithin(sink.totalWK(PLATE_C), share * (base + eta * fin), tolerance)
}
