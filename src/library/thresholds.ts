// What light does harm at, material by material, each with its source. A lamp may carry thresholds of its own instead; those are
// marked wherever they are used. Floors for a warning, never proof of safety: see ignition.ts.
import type { DangerChoices, MaterialId } from '../lamp/danger.ts'
import { MATERIAL_IDS } from '../lamp/danger.ts'
import { ignitionMaterial, painSeconds, SKIN } from './ignition.ts'

/** How a surface warms that takes in all light: see ignition.ts. */
type Warming =
  | { kind: 'skin' }
  | { kind: 'thick'; toC: number /** kρc, (kW/m²K)² s */; inertia: number }
  | { kind: 'thin'; toC: number; arealHeatKJm2K: number }

interface MaterialRow {
  name: string
  /** Least irradiance, kW/m², that does the harm, given time. */
  kWm2: number
  /** What happens, to end a sentence that begins with the name. */
  harm: 'hurts' | 'catches fire' | 'chars and glows' | 'softens' | 'is damaged'
  warming: Warming
  source: string
}

const burning = (id: string, harm: MaterialRow['harm'], name: string): MaterialRow => {
  const m = ignitionMaterial(id)
  const warming: Warming =
    m.kind === 'thin'
      ? { kind: 'thin', toC: m.ignitionC, arealHeatKJm2K: m.arealHeatKJm2K }
      : { kind: 'thick', toC: m.ignitionC, inertia: m.inertia }
  return { name, kWm2: m.criticalKWm2, harm, warming, source: m.source }
}

export const MATERIALS: Record<MaterialId, MaterialRow> = {
  skin: {
    name: 'Bare skin',
    kWm2: SKIN.kWm2[0],
    harm: 'hurts',
    warming: { kind: 'skin' },
    source: `${SKIN.source}. The table ends at 1 kW/m², about full sun, and no time is published below: the low end. Fire-safety tables have the same 1 kW/m² as the most that skin bears without end (second-hand)`,
  },
  'dry-grass': burning('dry-grass', 'catches fire', 'Dry leaves, dry grass'),
  paper: burning('paper', 'catches fire', 'Paper'),
  'dark-cloth': burning('cotton', 'catches fire', 'Dark cloth'),
  timber: burning('wood-long', 'chars and glows', 'Timber'),
  'black-plastic': {
    name: 'Black plastic',
    // What a black surface at 76 °C loses in still air of 20 °C: 0.9 σ (349.15⁴ − 293.15⁴) + 5 · 56 = 0.6615 kW/m².
    kWm2: 0.66,
    harm: 'softens',
    warming: { kind: 'thick', toC: 76, inertia: 0.6 },
    source:
      'ABS: deflection from 76 °C at 1.81 MPa (a printed grade), where a black one settles at 0.66 kW/m² in still air of 20 °C (radiation and 5 W/m²K; at 15 W/m²K 1.22). The hot side: parts made for the sun bear 1 kW/m². Vinyl siding warped in 1.8 kW/m² of thrown-back sun (second-hand); kρc from memory. It can ignite from 9 kW/m² (memory, weak)',
  },
  'car-paint': {
    name: 'Car paint',
    kWm2: 1,
    harm: 'is damaged',
    // 0.8 mm of steel: 7850 kg/m³ · 0.46 kJ/kgK · 0.0008 m.
    warming: { kind: 'thin', toC: 80, arealHeatKJm2K: 2.89 },
    source:
      'Full sun, 1 kW/m², is what every car is made to bear; more is proven by nobody: the hot side. Time until 80 °C, the most that paint shops let a whole car get to (memory, weak), on 0.8 mm of steel. Blisters from 8.5 to 9 kW/m² (a fire-safety table, second-hand)',
  },
}

export interface Threshold {
  id: MaterialId
  name: string
  kWm2: number
  harm: MaterialRow['harm']
  source: string
  /** Null where the published value is used; else that value, for the mark. */
  changedFrom: number | null
}

/** In the order of the table, with the lamp's own values where it has them. */
export function thresholds(choices: DangerChoices | undefined): Threshold[] {
  return MATERIAL_IDS.map((id) => {
    const row = MATERIALS[id]
    const own = choices?.thresholdsKWm2?.[id]
    const changed = own !== undefined && own !== row.kWm2
    return {
      id,
      name: row.name,
      kWm2: changed ? own : row.kWm2,
      harm: row.harm,
      source: changed ? `Set in this lamp’s document. Published: ${row.kWm2} kW/m². ${row.source}` : row.source,
      changedFrom: changed ? row.kWm2 : null,
    }
  })
}

/**
 * Seconds until the harm is done at an irradiance, of which the share `absorbs` is taken in; null where it stays below the threshold.
 * The losses while it warms are left out: the sooner, hotter side.
 */
export function secondsToHarm(
  t: Pick<Threshold, 'id' | 'kWm2'>,
  kWm2: number,
  startC: number,
  absorbs = 1,
): number | null {
  const taken = kWm2 * absorbs
  if (!(taken >= t.kWm2)) return null
  const { warming } = MATERIALS[t.id]
  if (warming.kind === 'skin') return painSeconds(Math.max(1, taken))
  const rise = Math.max(0, warming.toC - startC)
  if (warming.kind === 'thin') return (warming.arealHeatKJm2K * rise) / taken
  return (Math.PI / 4) * warming.inertia * (rise / taken) ** 2
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
  limitC: 76,
  source: 'ABS: deflection 76 to 82 °C at 1.81 MPa (a printed grade); soft PVC sleeves are made for 70 °C (memory)',
}
