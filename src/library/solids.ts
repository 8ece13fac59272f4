// Handbook properties of what stands in the light: they decide how fast it warms, and over which disc the light on it counts.
import { lostKWm2 } from './heatBalance.ts'

export interface Solid {
  conductivityWmK: number
  densityKgM3: number
  heatKJkgK: number
  thicknessMm: number
  source: string
}

const OPEN_LIST = 'conductivity: open lists of building materials'

/** The lower end of each range: it warms sooner. */
export const SOLIDS = {
  paper: {
    conductivityWmK: 0.05,
    densityKgM3: 800,
    heatKJkgK: 1.34,
    thicknessMm: 0.1,
    source: '80 g/m², 1340 J/kgK; conductivity 0.05 to 0.18 W/mK: memory',
  },
  cotton: {
    conductivityWmK: 0.04,
    densityKgM3: 400,
    heatKJkgK: 1.3,
    thicknessMm: 0.3,
    source: `120 g/m², 0.3 mm, 1300 J/kgK: memory; ${OPEN_LIST} (cotton fibre 0.04 W/mK)`,
  },
  leaf: {
    conductivityWmK: 0.05,
    densityKgM3: 400,
    heatKJkgK: 1.4,
    thicknessMm: 0.2,
    source: '80 g/m², 0.2 mm, 1400 J/kgK, 0.05 W/mK: memory',
  },
  softwood: {
    conductivityWmK: 0.11,
    densityKgM3: 380,
    heatKJkgK: 1.4,
    thicknessMm: 10,
    source: `${OPEN_LIST} (softwoods 0.11 W/mK); 380 kg/m³ and 1400 J/kgK, dry spruce: memory`,
  },
  abs: {
    conductivityWmK: 0.17,
    densityKgM3: 1050,
    heatKJkgK: 1.3,
    thicknessMm: 1,
    source: '0.17 W/mK, 1050 kg/m³, 1300 J/kgK: memory; 1 mm, a thin holder or housing (our choice)',
  },
  pvc: {
    conductivityWmK: 0.16,
    densityKgM3: 1300,
    heatKJkgK: 0.9,
    thicknessMm: 0.5,
    source: '0.16 W/mK, 1300 kg/m³, 900 J/kgK: memory; 0.5 mm, the sleeve of a thin wire (our choice)',
  },
  polyethylene: {
    conductivityWmK: 0.33,
    densityKgM3: 920,
    heatKJkgK: 1.9,
    thicknessMm: 0.05,
    source: '0.33 W/mK, 920 kg/m³, 1900 J/kgK: memory; 0.05 mm, a bag (our choice)',
  },
  synthetic: {
    conductivityWmK: 0.04,
    densityKgM3: 400,
    heatKJkgK: 1.2,
    thicknessMm: 0.3,
    source: '120 g/m², 0.3 mm, 1200 J/kgK, 0.04 W/mK: memory',
  },
  steelSheet: {
    conductivityWmK: 45,
    densityKgM3: 7850,
    heatKJkgK: 0.46,
    thicknessMm: 0.8,
    source: '0.8 mm of steel, 45 W/mK, 7850 kg/m³, 460 J/kgK: common handbook values, memory',
  },
} as const satisfies Record<string, Solid>

/** Thermal inertia kρc, (kW/m²K)² s. */
export const inertiaOf = (s: Solid): number => (s.conductivityWmK / 1000) * s.densityKgM3 * s.heatKJkgK

/** Heat capacity of the sheet by area, ρcd, kJ/m²K. */
export const arealHeatOf = (s: Solid): number => (s.densityKgM3 * s.heatKJkgK * s.thicknessMm) / 1000

/** The discs that an irradiance is averaged over, mm. */
export const DISCS_MM = [1, 3.5, 7, 10] as const

/**
 * Length, mm, over which heat spreads in the lit sheet before it is lost: √(k d/h), and no more than k/h, with h the
 * loss per kelvin at surfaceC °C in still air of 20 °C. Fin equation, textbook (Incropera and DeWitt; memory).
 */
export function spreadMm(s: Solid, surfaceC: number): number {
  const film = (1000 * lostKWm2(surfaceC, { ambientC: 20 })) / (surfaceC - 20)
  const metres = Math.min(Math.sqrt((s.conductivityWmK * s.thicknessMm) / 1000 / film), s.conductivityWmK / film)
  return 1000 * metres
}

/**
 * Disc, mm, over which the light on a solid counts: the largest of `DISCS_MM` no wider than twice the spreading length.
 * The mean over that disc, taken as if it lay on a wide sheet, heats no less than the real spot does (within 3 %), for spots
 * of a radius from a quarter of that length on (derived; tests/library/solids.test.ts). Samples of ignition tests are
 * wider: 65 mm square, with no change of ignition temperature down to 20 mm (Thomson and Drysdale, Fire and Materials
 * 11 (1987) 163, abstract).
 */
export function discOfSolid(s: Solid, surfaceC: number): number {
  const widest = 2 * spreadMm(s, surfaceC)
  return DISCS_MM.reduce<number>((most, d) => (d <= widest ? d : most), DISCS_MM[0])
}
