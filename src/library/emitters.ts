// Typical classes of white emitters. Invented numbers, typical of their class, no maker's data: replace them with the data
// sheet of your part. Flux over junction temperature: about -0.25 %/K (typical of white emitters, from memory).
import type { EmitterType } from '../lamp/schema.ts'

const cooling = [
  { junctionC: -20, factor: 1.2625 },
  { junctionC: 25, factor: 1.15 },
  { junctionC: 55, factor: 1.075 },
  { junctionC: 85, factor: 1 },
  { junctionC: 115, factor: 0.925 },
  { junctionC: 140, factor: 0.86 },
]
/** About −2 mV/K for a die of 3 V (typical, from memory). */
const softening = [
  { junctionC: -20, factor: 1.07 },
  { junctionC: 25, factor: 1.04 },
  { junctionC: 85, factor: 1 },
  { junctionC: 140, factor: 0.965 },
]
const droop = (ratedA: number) =>
  [
    [0, 0],
    [0.1, 0.118],
    [0.25, 0.285],
    [0.5, 0.545],
    [0.75, 0.783],
    [1, 1],
    [1.5, 1.37],
    [2, 1.66],
  ].map(([x, factor]) => ({ currentA: Math.round(x! * ratedA * 1000) / 1000, factor: factor! }))

const typical = 'Typical of its class; invented numbers, no maker’s data.'

const TYPICAL: readonly EmitterType[] = [
  {
    id: 'one-die-3.5',
    name: '3.5 mm, one die',
    note: typical,
    fluxLm: 300,
    ratedCurrentA: 1,
    ratedJunctionC: 85,
    source: { shape: 'rectangle', widthMm: 1.4, heightMm: 1.4 },
    heightMm: 2.2,
    bodyMm: 3.5,
    profile: { kind: 'cosine', fwhmDeg: 120 },
    spectrum: { kind: 'white', classK: 5000 },
    forward: [
      { currentA: 0.1, volts: 2.6 },
      { currentA: 0.35, volts: 2.75 },
      { currentA: 0.7, volts: 2.88 },
      { currentA: 1, volts: 2.96 },
      { currentA: 2, volts: 3.18 },
    ],
    fluxByCurrent: droop(1),
    fluxByJunction: cooling,
    forwardByJunction: softening,
    thermalResistanceKW: 4,
    maxCurrentA: 2,
    maxJunctionC: 140,
  },
  {
    id: 'one-die-5',
    name: '5 mm, one die',
    note: typical,
    fluxLm: 600,
    ratedCurrentA: 2,
    ratedJunctionC: 85,
    source: { shape: 'rectangle', widthMm: 2, heightMm: 2 },
    heightMm: 2.5,
    bodyMm: 5,
    profile: { kind: 'cosine', fwhmDeg: 120 },
    spectrum: { kind: 'white', classK: 5000 },
    forward: [
      { currentA: 0.2, volts: 2.6 },
      { currentA: 0.7, volts: 2.76 },
      { currentA: 1.5, volts: 2.91 },
      { currentA: 2, volts: 2.99 },
      { currentA: 4, volts: 3.22 },
    ],
    fluxByCurrent: droop(2),
    fluxByJunction: cooling,
    forwardByJunction: softening,
    thermalResistanceKW: 2.2,
    maxCurrentA: 4,
    maxJunctionC: 140,
  },
  {
    id: 'four-die-7',
    name: '7 mm, four dies',
    note: typical,
    fluxLm: 1500,
    ratedCurrentA: 1.4,
    ratedJunctionC: 85,
    source: { shape: 'rectangle', widthMm: 3.6, heightMm: 3.6 },
    heightMm: 2.8,
    bodyMm: 7,
    profile: { kind: 'cosine', fwhmDeg: 120 },
    spectrum: { kind: 'white', classK: 5000 },
    forward: [
      { currentA: 0.1, volts: 10.3 },
      { currentA: 0.35, volts: 10.9 },
      { currentA: 0.7, volts: 11.4 },
      { currentA: 1.4, volts: 12.1 },
      { currentA: 2.5, volts: 12.9 },
    ],
    fluxByCurrent: droop(1.4),
    fluxByJunction: cooling,
    forwardByJunction: softening,
    thermalResistanceKW: 1.1,
    maxCurrentA: 2.5,
    maxJunctionC: 140,
  },
]

const oneDie5 = TYPICAL[1]!

export const EMITTERS: readonly EmitterType[] = [
  ...TYPICAL,
  {
    ...oneDie5,
    id: 'small-die-5',
    name: '5 mm, one small die',
    note: 'High luminance class: 600 lm from 0.9 mm square, about the brightest there is. Invented numbers, no maker’s data.',
    source: { shape: 'rectangle', widthMm: 0.9, heightMm: 0.9 },
  },
]

export const emitterById = (id: string): EmitterType => {
  const found = EMITTERS.find((e) => e.id === id)
  if (!found) throw new Error(`library: no emitter "${id}"`)
  return found
}
