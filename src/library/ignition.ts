// What catches fire or burns skin, at which irradiance and after how long. These figures scatter by tens of per cent with sample,
// air and light: floors for a warning, never proof of safety. Where sources differ the hotter (sooner) one is taken, and ignition
// is taken as with a flame or spark near by (piloted), which needs least.
import { linear } from '../num/interpolate.ts'

interface IgnitionBase {
  id: string
  /** In plain words. */
  name: string
  ignitionC: number
  /** Least irradiance that ignites it, given unlimited time. */
  criticalKWm2: number
  source: string
}

/** Thick: heat soaks in, t = (π/4)·kρc·((T − T₀)/q)². Thin: the sheet warms through, t = (ρ·c·d)·(T − T₀)/q. */
export type IgnitionMaterial =
  | (IgnitionBase & { kind: 'thick' /** kρc, (kW/m²K)² s */; inertia: number })
  | (IgnitionBase & { kind: 'thin' /** ρ·c·d, kJ/m²K */; arealHeatKJm2K: number })

const measured = 'Quintiere and Harkleroad, NBSIR 84-2943 (1984) Table 2; NUREG-1805 (2004) Table 6-2'
const thick = (
  id: string,
  name: string,
  ignitionC: number,
  inertia: number,
  criticalKWm2: number,
  source = measured,
): IgnitionMaterial => ({ kind: 'thick', id, name, ignitionC, inertia, criticalKWm2, source })
const thin = (
  id: string,
  name: string,
  ignitionC: number,
  arealHeatKJm2K: number,
  criticalKWm2: number,
  source: string,
): IgnitionMaterial => ({ kind: 'thin', id, name, ignitionC, arealHeatKJm2K, criticalKWm2, source })

export const IGNITION: readonly IgnitionMaterial[] = [
  thin(
    'paper',
    'Newspaper, thin paper',
    230,
    0.08 * 1.34,
    7,
    'Warming: 80 g/m², 1340 J/kgK, 230 °C. Critical 10 to 13 kW/m², known to ±30 %: memory (Tewarson, SFPE Handbook; Babrauskas); 7 is the low end of that',
  ),
  thin(
    'cotton',
    'Cotton cloth',
    250,
    0.12 * 1.3,
    7,
    'Critical 10 to 13 kW/m², known to ±30 %: memory (Babrauskas, Ignition Handbook); 7 is the low end of that; 120 g/m² and 250 °C: memory',
  ),
  thin(
    'dry-grass',
    'Dry grass, leaves, pine litter',
    300,
    0.08 * 1.4,
    10,
    'Critical 10 to 13 kW/m² when dry, more when damp: open wildfire literature (Drysdale, Quintiere, Balbi), second-hand; the low end; 300 °C and 80 g/m²: memory',
  ),
  thick(
    'wood-long',
    'Dry wood, left for a long time (glows first)',
    250,
    0.46,
    4.3,
    'Least flux 4.3 kW/m², surface about 250 °C: Babrauskas, Interflam 2001, 71–88; kρc of plywood',
  ),
  thick(
    'wood',
    'Dry wood, flaming',
    300,
    0.46,
    12.5,
    'Critical 12.5 kW/m²: Lawson and Simms 1952, NFPA 921; surface 300 to 365 °C: Babrauskas, Interflam 2001; kρc of plywood',
  ),
  thick('plywood-6', 'Plywood, 6 mm', 390, 0.46, 16),
  thick('plywood-13', 'Plywood, 13 mm', 390, 0.54, 16),
  thick('particle-board', 'Particle board, 13 mm', 412, 0.93, 18),
  thick('hardboard-6', 'Hardboard, 6 mm', 298, 1.87, 10),
  thick('hardboard-3', 'Hardboard, 3 mm', 365, 0.88, 14),
  thick('fibre-board', 'Fibre insulation board', 355, 0.46, 14),
  thick('pmma-thin', 'Acrylic sheet, 1.6 mm', 278, 0.73, 9),
  thick('pmma', 'Acrylic sheet, 13 mm', 378, 1.02, 15),
  thick('polycarbonate', 'Polycarbonate sheet, 1.5 mm', 528, 1.16, 30),
  thick(
    'abs',
    'ABS and other black plastic parts',
    300,
    0.6,
    9,
    'Weak: critical 9 to 12 kW/m², 300 °C and kρc from memory, the hotter side taken',
  ),
  thick('polystyrene', 'Polystyrene foam, 51 mm', 630, 0.38, 46, `${measured}. It shrinks away and melts long before`),
  thick('polyester-2', 'Glass-reinforced polyester, 2.2 mm', 390, 0.32, 16),
  thick('polyester-1', 'Glass-reinforced polyester, 1.1 mm', 400, 0.72, 17),
  thick('foam-flexible', 'Upholstery foam', 390, 0.32, 16),
  thick('foam-rigid', 'Rigid foam', 435, 0.03, 20),
  thick('insulation-foam', 'Rigid roof-insulation foam (polyisocyanurate)', 445, 0.02, 21),
  thick('carpet-acrylic', 'Carpet, acrylic', 300, 0.42, 10),
  thick('carpet-blend', 'Carpet, nylon and wool', 412, 0.68, 18),
  thick('carpet-wool', 'Carpet, wool', 465, 0.11, 23),
  thick('shingle', 'Asphalt roof shingle', 378, 0.7, 15),
]

export const ignitionMaterial = (id: string): IgnitionMaterial => {
  const found = IGNITION.find((m) => m.id === id)
  if (!found) throw new Error(`library: no ignition material "${id}"`)
  return found
}

/** Seconds until it ignites, or null where it never does: below its critical irradiance. A surface already hot enough: 0. */
export function ignitionSeconds(material: IgnitionMaterial, kWm2: number, startC = 20): number | null {
  if (!(kWm2 >= material.criticalKWm2)) return null
  const rise = Math.max(0, material.ignitionC - startC)
  if (material.kind === 'thin') return (material.arealHeatKJm2K * rise) / kWm2
  return (Math.PI / 4) * material.inertia * (rise / kWm2) ** 2
}

/** Bare skin. FEMA, DOT, EPA, Handbook of Chemical Hazard Analysis Procedures (1989), Table 4.2. */
export const SKIN = {
  kWm2: [1, 2, 3, 4, 5, 6, 8, 10, 12],
  painSeconds: [115, 45, 27, 18, 13, 11, 7, 5, 4],
  burnSeconds: [663, 187, 92, 57, 40, 30, 20, 14, 11],
  source:
    'Handbook of Chemical Hazard Analysis Procedures (1989) Table 4.2; burns also DESR 6055.09, t = 200 q^-1.46 s',
} as const

/** Burn onset of DESR 6055.09. Sooner than the table everywhere, so it is the one that decides. */
const burnOnset = (kWm2: number) => 200 * kWm2 ** -1.46

const alongTable = (seconds: readonly number[], kWm2: number) =>
  Math.exp(linear(SKIN.kWm2.map(Math.log), seconds.map(Math.log), Math.log(kWm2)))

const TOP = SKIN.kWm2.length - 1

/** Above the table the time goes on falling as the burn formula falls: steeper than the table's own end, the hotter side. */
const skinSeconds = (seconds: readonly number[], kWm2: number) =>
  kWm2 <= SKIN.kWm2[TOP]! ? alongTable(seconds, kWm2) : (seconds[TOP]! * burnOnset(kWm2)) / burnOnset(SKIN.kWm2[TOP]!)

/** Seconds until bare skin hurts; null under 1 kW/m², about the strength of full sun, where the table ends. */
export function painSeconds(kWm2: number): number | null {
  return kWm2 >= 1 ? skinSeconds(SKIN.painSeconds, kWm2) : null
}

/** Seconds until bare skin is burnt (second degree): the sooner of both sources. Null under 1 kW/m². */
export function burnSeconds(kWm2: number): number | null {
  return kWm2 >= 1 ? Math.min(skinSeconds(SKIN.burnSeconds, kWm2), burnOnset(kWm2)) : null
}
