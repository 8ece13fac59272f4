// What light does harm at, material by material, each with its source. A lamp may carry thresholds of its own instead; those are
// marked wherever they are used. Floors for a warning, never proof of safety: see ignition.ts.
import type { DangerChoices, MaterialId } from '../lamp/danger.ts'
import { MATERIAL_IDS } from '../lamp/danger.ts'
import { type IgnitionMaterial, ignitionMaterial, leastKWm2, secondsToReach } from './ignition.ts'
import { painSeconds, SKIN } from './skin.ts'
import { arealHeatOf, discOfSolid, inertiaOf, SOLIDS, type Solid } from './solids.ts'

/** What happens, to end a sentence that begins with the name. */
type Harm = 'hurts' | 'catches fire' | 'chars and glows' | 'gets over 90 °C' | 'softens' | 'melts' | 'is damaged'

interface MaterialRow {
  name: string
  /** Least irradiance, kW/m², that does the harm, given time: over `discMm`, in air of 20 °C. */
  kWm2: number
  harm: Harm
  /** Temperature of the harm; null for skin, which blood cools. */
  toC: number | null
  /** Least irradiance that did the harm in published tests, or that is known to be borne; null: none is known. */
  publishedKWm2: number | null
  /** Temperature whose heat balance counts where it gives less than the published value; null: the published value alone. */
  balanceC: number | null
  warming: Pick<IgnitionMaterial, 'inertia' | 'arealHeatKJm2K'>
  /** Disc, mm, over which the light on it is averaged. */
  discMm: number
  source: string
}

const discWords = (solid: Solid, toC: number): string =>
  `Judged over ${discOfSolid(solid, toC)} mm: about twice the length that heat spreads in it before it is lost (fin equation)`

/** A row that has no published irradiance: the heat balance alone. */
const heated = (name: string, harm: Harm, toC: number, solid: Solid, source: string): MaterialRow => ({
  name,
  kWm2: leastKWm2(null, toC, 20),
  harm,
  toC,
  publishedKWm2: null,
  balanceC: toC,
  warming: { inertia: inertiaOf(solid), arealHeatKJm2K: solid.thicknessMm < THICK_MM ? arealHeatOf(solid) : null },
  discMm: discOfSolid(solid, toC),
  source: `${source}. A black surface in still air of 20 °C gets there from ${leastKWm2(null, toC, 20)} kW/m² on (heat balance: radiation and 5 W/m²K, on the lit side). Warming: ${solid.source}. ${discWords(solid, toC)}`,
})

/** From this thickness on a solid is taken as thick (our choice). */
const THICK_MM = 5

const burning = (id: string, harm: Harm, name: string, solid: Solid): MaterialRow => {
  const m = ignitionMaterial(id)
  return {
    name,
    kWm2: m.criticalKWm2,
    harm,
    toC: m.ignitionC,
    publishedKWm2: m.publishedKWm2,
    balanceC: m.ignitionC,
    warming: m,
    discMm: discOfSolid(solid, m.ignitionC),
    source: `${m.source}. ${discWords(solid, m.ignitionC)}`,
  }
}

export const MATERIALS: Record<MaterialId, MaterialRow> = {
  skin: {
    name: 'Bare skin',
    kWm2: SKIN.kWm2[0],
    harm: 'hurts',
    toC: null,
    publishedKWm2: SKIN.kWm2[0],
    balanceC: null,
    warming: { inertia: 0, arealHeatKJm2K: null },
    discMm: 3.5,
    source: `${SKIN.source}. The table ends at 1 kW/m², about full sun, and no time is published below: the low end. Fire-safety tables have the same 1 kW/m² as the most that skin bears without end (second-hand). Judged over 3.5 mm, the aperture of limits for skin (IEC 60825-1, ICNIRP: memory)`,
  },
  'dry-grass': burning('dry-grass', 'catches fire', 'Dry grass or a dry leaf', SOLIDS.leaf),
  paper: burning('paper', 'catches fire', 'Paper', SOLIDS.paper),
  'dark-cloth': burning('cotton', 'catches fire', 'Dark cloth', SOLIDS.cotton),
  timber: burning('wood-long', 'chars and glows', 'Timber', SOLIDS.softwood),
  'lit-surface': heated(
    'Lit wall that can burn',
    'gets over 90 °C',
    90,
    SOLIDS.softwood,
    'IEC 60598-1: a lit, normally flammable surface stays below 90 °C in normal use (memory; makers’ guides print 90 to 95 °C and 130 °C). Wood held far below its ignition for months dries and chars',
  ),
  'black-plastic': heated(
    'Black plastic',
    'softens',
    76,
    SOLIDS.abs,
    'ABS: deflection from 76 °C at 1.81 MPa (a printed grade). The hot side: parts made for the sun bear 1 kW/m². Vinyl siding warped in 1.8 kW/m² of thrown-back sun (second-hand). It can ignite from 6.53 kW/m² on: see the row of ABS',
  ),
  pvc: heated(
    'PVC wire sleeve',
    'softens',
    70,
    SOLIDS.pvc,
    'Soft PVC sleeves are made for 70 °C (memory); open lists have it distort from 60 °C and melt from 75 °C on',
  ),
  'synthetic-cloth': heated(
    'Synthetic cloth',
    'melts',
    160,
    SOLIDS.synthetic,
    'Polypropylene melts at 160 °C, nylon at 160 to 275 °C, polyester at 220 to 255 °C (memory and open lists); the lowest. It drips, and the drops burn skin',
  ),
  polyethylene: heated(
    'Polyethylene film or bag',
    'melts',
    105,
    SOLIDS.polyethylene,
    'Low-density polyethylene melts at 105 to 115 °C (memory)',
  ),
  'car-paint': {
    name: 'Car paint',
    kWm2: 1,
    harm: 'is damaged',
    toC: 80,
    publishedKWm2: 1,
    balanceC: null,
    warming: { inertia: inertiaOf(SOLIDS.steelSheet), arealHeatKJm2K: arealHeatOf(SOLIDS.steelSheet) },
    discMm: discOfSolid(SOLIDS.steelSheet, 80),
    source: `Full sun, 1 kW/m², is what every car is made to bear; more is proven by nobody: the hot side. Time until 80 °C, the most that paint shops let a whole car get to (memory, weak). Blisters from 8.5 to 9 kW/m² (a fire-safety table, second-hand). Warming: ${SOLIDS.steelSheet.source}. ${discWords(SOLIDS.steelSheet, 80)}`,
  },
}

export interface Threshold {
  id: MaterialId
  name: string
  kWm2: number
  harm: Harm
  /** Disc, mm, over which the light on it is averaged. */
  discMm: number
  source: string
  /** Null where the published value is used; else that value, for the mark. */
  changedFrom: number | null
}

/** Irradiance, kW/m², upper end, of one place over a disc of so many mm. */
export type AtDisc = (discMm: number) => number

/** From the discs that were measured at one place: the value of the disc asked for, or of the next smaller one; where all are larger, or none was measured, the hottest of them and `otherwise`. */
export const atDisc =
  (measured: readonly { discMm: number; kWm2: number }[], otherwise: number): AtDisc =>
  (discMm) => {
    const fits = measured.filter((m) => m.discMm <= discMm + 1e-9)
    if (fits.length === 0) return measured.reduce((most, m) => Math.max(most, m.kWm2), otherwise)
    return fits.reduce((a, b) => (b.discMm > a.discMm ? b : a)).kWm2
  }

/** Share of a limit (kW/m²) that is reached; 1 where the limit is 0, in air that does the harm by itself. */
export const shareOf = (kWm2: number, limitKWm2: number): number => (limitKWm2 > 0 ? kWm2 / limitKWm2 : 1)

/** Threshold of a material as published, kW/m², in air of ambientC °C. */
export function usualKWm2(id: MaterialId, ambientC: number): number {
  const row = MATERIALS[id]
  return row.balanceC === null ? row.kWm2 : leastKWm2(row.publishedKWm2, row.balanceC, ambientC)
}

/** In the order of the table, for air of ambientC °C, with the lamp's own values where it has them. */
export function thresholds(choices: DangerChoices | undefined, ambientC = 20): Threshold[] {
  return MATERIAL_IDS.map((id) => {
    const row = MATERIALS[id]
    const usual = usualKWm2(id, ambientC)
    const own = choices?.thresholdsKWm2?.[id]
    const changed = own !== undefined && own !== usual
    return {
      id,
      name: row.name,
      kWm2: changed ? own : usual,
      harm: row.harm,
      discMm: row.discMm,
      source: changed ? `Set in this lamp’s document. Published: ${usual} kW/m². ${row.source}` : row.source,
      changedFrom: changed ? usual : null,
    }
  })
}

/**
 * Seconds until the harm is done at an irradiance (kW/m², or over each disc), of which the share `absorbs` is taken in;
 * null where it stays below the threshold. The losses while it warms are left out: the sooner, hotter side.
 */
export function secondsToHarm(
  t: Pick<Threshold, 'id' | 'kWm2'>,
  light: number | AtDisc,
  startC: number,
  absorbs = 1,
): number | null {
  const { warming, toC, discMm } = MATERIALS[t.id]
  const taken = (typeof light === 'number' ? light : light(discMm)) * absorbs
  if (!(taken >= t.kWm2)) return null
  if (toC === null) return painSeconds(Math.max(1, taken))
  return secondsToReach(warming, toC, taken, startC)
}

/** Temperature limits of linings and optics. */
export interface HeatLimit {
  id: string
  name: string
  limitC: number
  source: string
}

export const LINING_LIMITS: readonly HeatLimit[] = [
  {
    id: 'rubber-glue',
    name: 'Film held by rubber-based adhesive',
    limitC: 60,
    source: 'Typical upper end of long use, from memory; sheets of single makers say 50 to 80 °C',
  },
  {
    id: 'acrylic-glue',
    name: 'Film held by acrylic adhesive',
    limitC: 80,
    source: 'Typical upper end of long use, from memory; sheets of single makers say 80 to 150 °C',
  },
  {
    id: 'polyester-film',
    name: 'Polyester film itself',
    limitC: 120,
    source: 'It shrinks from about 120 to 150 °C on, from memory',
  },
]

/** Collimators and other small optics are mostly moulded of acrylic or polycarbonate; the weaker is taken. */
export const OPTIC_LIMIT: HeatLimit = {
  id: 'small-optic',
  name: 'Small optic of acrylic',
  limitC: 70,
  source: 'Extruded acrylic: continuous service 70 °C, keep below 80 °C for shape; moulded grades 65 to 95 °C',
}

export const BOARD_PLASTIC_LIMIT: HeatLimit = {
  id: 'board-plastic',
  name: 'Plastic holder or wire’s sleeve at the board',
  limitC: 70,
  source: 'Soft PVC sleeves are made for 70 °C (memory); ABS: deflection 76 to 82 °C at 1.81 MPa (a printed grade)',
}
