// What catches fire or burns skin, at which irradiance and after how long. These figures scatter by tens of per cent with sample,
// air and light: floors for a warning, never proof of safety. Where sources differ the hotter (sooner) one is taken, and ignition
// is taken as with a flame or spark near by (piloted), which needs least.
import { lostKWm2 } from './heatBalance.ts'
import { arealHeatOf, inertiaOf, SOLIDS, type Solid } from './solids.ts'

/**
 * Thick: heat soaks in, t = (π/4)·kρc·((T − T₀)/q)². Thin: the sheet warms through, t = (ρ·c·d)·(T − T₀)/q. Where both
 * are known the sooner one counts.
 */
export interface IgnitionMaterial {
  id: string
  /** In plain words. */
  name: string
  ignitionC: number
  /** Least irradiance that ignited it in tests. */
  publishedKWm2: number
  /** Least irradiance that ignites it, given unlimited time: at 20 °C; see `criticalAt`. */
  criticalKWm2: number
  /** kρc, (kW/m²K)² s */
  inertia: number
  /** ρ·c·d, kJ/m²K; null where it is thick. */
  arealHeatKJm2K: number | null
  source: string
}

/** Three digits, rounded down. */
export function downThree(x: number): number {
  const unit = 10 ** (Math.floor(Math.log10(x)) - 2)
  return Number((Math.floor(x / unit + 1e-9) * unit).toPrecision(3))
}

/**
 * Least irradiance, kW/m², that takes a black surface in still air of ambientC °C to toC °C, or does the harm in published
 * tests (null: none): the lower of the two. Above toC: 0. Heat balance: heatBalance.ts, losing heat on the lit side.
 */
export const leastKWm2 = (publishedKWm2: number | null, toC: number, ambientC: number): number => {
  const held = ambientC < toC ? downThree(lostKWm2(toC, { ambientC })) : 0
  return Math.min(publishedKWm2 ?? Number.POSITIVE_INFINITY, held)
}

/** Least irradiance, kW/m², that ignites it in air of ambientC °C: see `leastKWm2`. */
export const criticalAt = (m: Pick<IgnitionMaterial, 'publishedKWm2' | 'ignitionC'>, ambientC: number): number =>
  leastKWm2(m.publishedKWm2, m.ignitionC, ambientC)

const row = (
  id: string,
  name: string,
  ignitionC: number,
  publishedKWm2: number,
  warms: Pick<IgnitionMaterial, 'inertia' | 'arealHeatKJm2K'>,
  source: string,
): IgnitionMaterial => {
  const criticalKWm2 = criticalAt({ publishedKWm2, ignitionC }, 20)
  const held =
    criticalKWm2 < publishedKWm2
      ? `. Below that, a black surface in still air of 20 °C reaches ${ignitionC} °C from ${criticalKWm2} kW/m² on (heat balance): the lower decides`
      : ''
  return { id, name, ignitionC, publishedKWm2, criticalKWm2, ...warms, source: `${source}${held}` }
}

const measured = 'Quintiere and Harkleroad, NBSIR 84-2943 (1984) Table 2; NUREG-1805 (2004) Table 6-2'
const thick = (
  id: string,
  name: string,
  ignitionC: number,
  inertia: number,
  publishedKWm2: number,
  source = measured,
): IgnitionMaterial => row(id, name, ignitionC, publishedKWm2, { inertia, arealHeatKJm2K: null }, source)

const sheet = (id: string, name: string, ignitionC: number, publishedKWm2: number, solid: Solid, source: string) =>
  row(
    id,
    name,
    ignitionC,
    publishedKWm2,
    { inertia: inertiaOf(solid), arealHeatKJm2K: arealHeatOf(solid) },
    `${source}. Warming: ${solid.source}`,
  )

export const IGNITION: readonly IgnitionMaterial[] = [
  sheet(
    'paper',
    'Newspaper, thin paper',
    230,
    7,
    SOLIDS.paper,
    '230 °C. Critical 10 to 13 kW/m², known to ±30 %: memory (Tewarson, SFPE Handbook; Babrauskas); 7 is the low end of that',
  ),
  sheet(
    'cotton',
    'Cotton cloth',
    250,
    7,
    SOLIDS.cotton,
    '250 °C: memory. Critical 10 to 13 kW/m², known to ±30 %: memory (Babrauskas, Ignition Handbook); 7 is the low end of that',
  ),
  sheet(
    'dry-grass',
    'Dry grass, leaves, pine litter',
    300,
    10,
    SOLIDS.leaf,
    'Critical 10 to 13 kW/m² when dry, more when damp: open wildfire literature (Drysdale, Quintiere, Balbi), second-hand; the low end; 300 °C: memory',
  ),
  thick(
    'wood-long',
    'Dry wood, left for a long time (glows first)',
    250,
    inertiaOf(SOLIDS.softwood),
    4.3,
    `Least flux 4.3 kW/m², surface about 250 °C: Babrauskas, Interflam 2001, 71–88. Warming: ${SOLIDS.softwood.source}`,
  ),
  thick(
    'wood',
    'Dry wood, flaming',
    300,
    inertiaOf(SOLIDS.softwood),
    12.5,
    `Critical 12.5 kW/m²: Lawson and Simms 1952, NFPA 921; surface 300 to 365 °C: Babrauskas, Interflam 2001. Warming: ${SOLIDS.softwood.source}`,
  ),
  sheet(
    'synthetic-cloth',
    'Synthetic cloth (polyester, nylon, acrylic, polypropylene)',
    334,
    10,
    SOLIDS.synthetic,
    'The easiest lit, polypropylene: 334 °C (Thomson and Drysdale, Fire and Materials 11 (1987) 163: values from memory); critical 10 to 20 kW/m² (Tewarson, SFPE Handbook: memory), the low end',
  ),
  sheet(
    'polyethylene',
    'Polyethylene film or bag',
    340,
    15,
    SOLIDS.polyethylene,
    '340 to 380 °C, critical 15 kW/m²: Thomson and Drysdale 1987; Tewarson, SFPE Handbook; both values from memory, the low end',
  ),
  sheet(
    'pvc',
    'PVC wire sleeve',
    318,
    10,
    SOLIDS.pvc,
    'Soft PVC 318 °C, critical 10 to 28 kW/m²: SFPE Handbook, memory, the low end; open lists give 435 °C and more for hard PVC',
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
  sheet(
    'abs',
    'ABS and other black plastic parts',
    300,
    9,
    SOLIDS.abs,
    'Weak: critical 9 to 12 kW/m² and 300 °C from memory, the hotter side taken',
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

/** Lens sheets that nobody puts in the way of light: they have no row in tables of things that catch fire. Inertia: common handbook values, memory. */
export const IGNITION_OF_LENSES = {
  polystyrene: thick(
    'polystyrene-sheet',
    'Polystyrene, clear sheet',
    356,
    0.19,
    13,
    '356 °C (Thomson and Drysdale 1987), critical 13 kW/m² (Tewarson, SFPE Handbook): both from memory',
  ),
  silicone: thick(
    'silicone',
    'Silicone rubber',
    400,
    0.3,
    15,
    'Weak: 400 °C and 15 kW/m² from memory, silicones are hard to light; the low end',
  ),
} as const

export const ignitionMaterial = (id: string): IgnitionMaterial => {
  const found = IGNITION.find((m) => m.id === id)
  if (!found) throw new Error(`library: no ignition material "${id}"`)
  return found
}

/**
 * Seconds until a lit solid is toC °C warm, from startC °C on, at `takenKWm2` (> 0): the sooner of the thick and the thin
 * formula. Losses meanwhile are left out: the sooner, hotter side. 0 where it starts that hot.
 */
export function secondsToReach(
  solid: Pick<IgnitionMaterial, 'inertia' | 'arealHeatKJm2K'>,
  toC: number,
  takenKWm2: number,
  startC: number,
): number {
  const rise = toC - startC
  if (!(rise > 0)) return 0
  const asThick = (Math.PI / 4) * solid.inertia * (rise / takenKWm2) ** 2
  if (solid.arealHeatKJm2K === null) return asThick
  return Math.min(asThick, (solid.arealHeatKJm2K * rise) / takenKWm2)
}

/** Seconds until it ignites, or null where it never does: below its critical irradiance. A surface already hot enough: 0. */
export function ignitionSeconds(material: IgnitionMaterial, kWm2: number, startC = 20): number | null {
  return kWm2 >= criticalAt(material, startC) ? secondsToReach(material, material.ignitionC, kWm2, startC) : null
}
