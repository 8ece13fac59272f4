// Lens materials: refractive index, absorption and temperature limits, each with its source.
import type { BuiltInMaterial } from '../lamp/material.ts'
import { cauchyIndex, sellmeierIndex } from '../num/dispersion.ts'
import { IGNITION_OF_LENSES, type IgnitionMaterial, ignitionMaterial } from './ignition.ts'

export interface LensMaterialRow {
  label: string
  family: 'plastic' | 'glass'
  /** Bulk absorption near 550 nm, per mm, of the clearer of the measured samples (more light through: the hotter side). */
  absorptionPerMm: number
  /** Measured over the wavelength, nm and per mm, where it varies too much for one value; then that is traced. */
  absorptionByNm?: readonly (readonly [nm: number, perMm: number])[]
  /** The same of the less clear sample: for the warming of the lens itself. */
  absorptionHighPerMm: number
  /** Above this the lens may lose its shape; warn here. Null: no limit that a lamp reaches. */
  keepBelowC: number | null
  /** Deflection under load; above it the lens sags. */
  deflectionC: number | null
  densityKgM3: number
  /** What lights a dirty place of it; null: it doesn't burn. */
  ignites: Pick<IgnitionMaterial, 'publishedKWm2' | 'ignitionC' | 'criticalKWm2' | 'source'> | null
  /** What it does once alight; null: it doesn't burn. */
  burns: { mjKg: number; name: string; drips: boolean; how: string; source: string } | null
  /** A glass cracks where one place is so much hotter than the rest, K; null: not known, or no glass. */
  cracksFromK: number | null
  sources: { index: string; absorption: string; temperature: string; density: string }
}

const ZHANG = 'Zhang et al., Appl. Opt. 59 (2020) 2337'
const DRIPS = 'molten drops burn as they fall'

export const LENS_MATERIALS: Record<BuiltInMaterial, LensMaterialRow> = {
  pmma: {
    label: 'Acrylic (PMMA)',
    family: 'plastic',
    absorptionPerMm: 3.98e-3,
    absorptionHighPerMm: 5.21e-3,
    keepBelowC: 70,
    deflectionC: 95,
    densityKgM3: 1190,
    ignites: ignitionMaterial('pmma-thin'),
    burns: {
      mjKg: 24.9,
      name: 'acrylic',
      drips: true,
      how: DRIPS,
      source: 'acrylic 24.9 MJ/kg (Tewarson, SFPE Handbook: memory)',
    },
    cracksFromK: null,
    sources: {
      density: '1.17 to 1.20 g/cm³ (common handbook value, memory)',
      index: 'Beadie et al., Appl. Opt. 54 (2015) F139, 0.42 to 1.62 µm, ±0.0002; carried on to 0.38 µm',
      absorption:
        'Zhang et al., Appl. Opt. 59 (2020) 2337 (journal and year from memory), extinction at 0.55 µm of two sheets: 3.98 and 5.21 per metre',
      temperature:
        'Extruded sheet: deflection 95 °C (ISO 75), softening 103 °C (ISO 306), continuous service 70 °C, keep below 80 °C for shape; other sheets 65 to 95 °C. Sources differ by 25 K; the cool side is taken.',
    },
  },
  polycarbonate: {
    label: 'Polycarbonate',
    family: 'plastic',
    absorptionPerMm: 9.32e-3,
    absorptionHighPerMm: 9.32e-3,
    keepBelowC: 115,
    deflectionC: 127,
    densityKgM3: 1200,
    ignites: ignitionMaterial('polycarbonate'),
    burns: {
      mjKg: 29.7,
      name: 'polycarbonate',
      drips: true,
      how: DRIPS,
      source: 'polycarbonate 29.7 MJ/kg (Tewarson: memory)',
    },
    cracksFromK: null,
    sources: {
      density: '1.20 g/cm³ (common handbook value, memory)',
      index:
        'Sultanova et al., Acta Phys. Pol. A 116 (2009) 585; a one-term fit, which overstates dispersion (Abbe number 27.9; about 30 is usual, memory)',
      absorption:
        'Zhang et al., Appl. Opt. 59 (2020) 2337 (journal and year from memory), extinction at 0.55 µm: 9.32 per metre',
      temperature:
        'Deflection 127 °C at 1.81 MPa (a printed grade); long-term 115 to 135 °C (115 from memory, the cool side taken)',
    },
  },
  pvc: {
    label: 'Rigid PVC',
    family: 'plastic',
    absorptionPerMm: 0.0496,
    absorptionHighPerMm: 0.0496,
    // 4πk/λ of the source's extinction k, every second value; below 400 nm the first is kept.
    absorptionByNm: [
      [400, 0.0855],
      [420, 0.0646],
      [440, 0.052],
      [460, 0.0448],
      [480, 0.0414],
      [500, 0.042],
      [520, 0.0442],
      [540, 0.0486],
      [560, 0.0494],
      [580, 0.0507],
      [600, 0.045],
      [620, 0.0385],
      [640, 0.033],
      [660, 0.0274],
      [680, 0.0211],
      [700, 0.0161],
      [720, 0.0134],
      [740, 0.012],
      [760, 0.011],
      [780, 0.0104],
    ],
    keepBelowC: 50,
    deflectionC: 57,
    densityKgM3: 1400,
    ignites: ignitionMaterial('pvc'),
    burns: {
      mjKg: 16.4,
      name: 'PVC',
      drips: true,
      how: 'it gives off hydrogen chloride and often goes out by itself, molten drops fall',
      source: 'PVC 16.4 MJ/kg (Tewarson: memory)',
    },
    cracksFromK: null,
    sources: {
      density: '1.35 to 1.45 g/cm³, rigid sheets (common handbook value, memory)',
      index: `${ZHANG}, one sheet, 0.40 to 0.78 µm, read from the open index collection; Cauchy series fitted by us, off by 0.0006 at most; carried on to 0.38 µm. Softened sheets have 0.01 to 0.02 less (memory)`,
      absorption: `${ZHANG}, extinction of one slightly blue sheet from 0.40 µm on, every second value; clearer sheets let more light through`,
      temperature:
        'Deflection 57 to 82 °C at 0.45 MPa (an open table of plastics, second-hand), the cool end; keep below 50 °C: long use of rigid sheet 50 to 60 °C, from memory, the cool side taken. Sheets with softener give way sooner.',
    },
  },
  polystyrene: {
    label: 'Polystyrene',
    family: 'plastic',
    absorptionPerMm: 0.0132,
    absorptionHighPerMm: 0.0132,
    keepBelowC: 60,
    deflectionC: 68,
    densityKgM3: 1050,
    ignites: IGNITION_OF_LENSES.polystyrene,
    burns: {
      mjKg: 39.2,
      name: 'polystyrene',
      drips: true,
      how: `${DRIPS}, with much soot`,
      source: 'polystyrene 39.2 MJ/kg (Tewarson: memory)',
    },
    cracksFromK: null,
    sources: {
      density: '1.04 to 1.05 g/cm³ (an open table of plastics, second-hand)',
      index: `${ZHANG}, one sheet, 0.40 to 0.78 µm, read from the open index collection; Cauchy series fitted by us, off by 0.0003 at most; carried on to 0.38 µm. Sultanova et al., Acta Phys. Pol. A 116 (2009) 585, have 0.0024 more`,
      absorption: `${ZHANG}, extinction at 0.55 µm of one sheet: 13.2 per metre; nearly the same over the visible range`,
      temperature:
        'Deflection 68 to 96 °C at 0.45 MPa (an open table of plastics, second-hand), the cool end; keep below 60 °C: long use 60 to 80 °C, from memory, the cool side taken.',
    },
  },
  silicone: {
    label: 'Silicone',
    family: 'plastic',
    absorptionPerMm: 1e-3,
    absorptionHighPerMm: 0.0324,
    keepBelowC: 150,
    deflectionC: null,
    densityKgM3: 1100,
    ignites: IGNITION_OF_LENSES.silicone,
    burns: {
      mjKg: 21.7,
      name: 'silicone',
      drips: false,
      how: 'it leaves white ash and hardly drips',
      source: 'silicone 21.7 MJ/kg (Tewarson: memory)',
    },
    cracksFromK: null,
    sources: {
      density: '1.03 to 1.10 g/cm³ (memory), the heavier side',
      index:
        'Gupta et al., ACS Appl. Mater. Interfaces 11 (2019) 28189, polydimethylsiloxane mixed 10 to 1, 0.38 to 0.78 µm, read from the open index collection; Cauchy series fitted by us, off by 0.000004 at most. Samples of others: 1.396 (Zhang et al. 2020) to 1.430 (Schneider et al., Sens. Actuators A 151 (2009) 95); phenyl silicones up to 1.54 (memory)',
      absorption: `${ZHANG}, extinction at 0.55 µm of one sample: 32.4 per metre, taken for its warming; 1 per metre for the light, as grades for optics have it: from memory`,
      temperature:
        'Rubber, so it doesn’t sag when warm. Long use up to 150 to 200 °C, from memory, the cool side taken; it yellows before.',
    },
  },
  crown: {
    label: 'Borosilicate crown glass',
    family: 'glass',
    absorptionPerMm: 1.603e-4,
    absorptionHighPerMm: 1.603e-4,
    keepBelowC: null,
    deflectionC: null,
    densityKgM3: 2510,
    ignites: null,
    burns: null,
    cracksFromK: null,
    sources: {
      density: '2.51 g/cm³ (common handbook value, memory)',
      index:
        'Three-term Sellmeier formula of a common borosilicate crown (nd 1.5168, Vd 64.2), data of 2017 in the open index collection',
      absorption: 'Extinction at 0.546 µm from the same data: 0.160 per metre',
      temperature: 'Softens above 500 °C (memory); but glass heated unevenly can crack far below that',
    },
  },
  float: {
    label: 'Plain float glass',
    family: 'glass',
    absorptionPerMm: 4.8e-3,
    absorptionHighPerMm: 0.0123,
    keepBelowC: null,
    deflectionC: null,
    densityKgM3: 2500,
    ignites: null,
    burns: null,
    cracksFromK: 40,
    sources: {
      density: '2.5 g/cm³ (EN 572-1, second-hand)',
      index:
        'Rubin, Sol. Energy Mater. 12 (1985) 275, clear soda-lime glass, 0.31 to 4.6 µm, formula as open code has it. Abbe number 64.0, where tables of soda-lime glass have 58 to 60 (memory): its dispersion may be a tenth more',
      absorption:
        'Clear panes of 4 mm pass 0.90 of the light: inside 0.981, 4.8 per metre; for its warming 12.3 per metre, from the least that EN 572-1 lets a clear pane pass (0.89 at 2 mm, 0.67 at 25 mm): both from memory. Greener at its edges; low-iron glass is clearer',
      temperature:
        'Softens above 500 °C (memory), but it cracks where one place is 40 K hotter than the rest (EN 572-1, resistance against temperature differential: memory), sooner at a chipped edge; toughened glass bears 200 K (EN 12150-1: memory)',
    },
  },
}

const CROWN = [
  { b: 1.03961212, cUm2: 0.00600069867 },
  { b: 0.231792344, cUm2: 0.0200179144 },
  { b: 1.01046945, cUm2: 103.560653 },
]
const POLYCARBONATE = [{ b: 1.4182, cUm2: 0.021304 }]

/** Beadie 2015: a power series in λ², µm. */
function pmmaSquared(um2: number): number {
  const inverse = 1 / um2
  const up = 2.1778 + 6.1209e-3 * um2 - 1.5004e-3 * um2 * um2
  return up + inverse * (2.3678e-2 + inverse * (-4.2137e-3 + inverse * (7.3417e-4 - 4.5042e-5 * inverse)))
}

/** Rubin 1985: a power series with a term in λ², µm. */
const floatIndex = (um2: number): number => 1.513 - 3.169e-3 * um2 + 3.962e-3 / um2

/** Refractive index against air at room temperature. */
export function refractiveIndex(material: BuiltInMaterial, wavelengthNm: number): number {
  const um2 = (wavelengthNm / 1000) ** 2
  switch (material) {
    case 'pmma':
      return Math.sqrt(pmmaSquared(um2))
    case 'polycarbonate':
      return sellmeierIndex(POLYCARBONATE, wavelengthNm)
    case 'pvc':
      return cauchyIndex(1.52612, 5.57503e-3, 7.44067e-6, wavelengthNm)
    case 'polystyrene':
      return cauchyIndex(1.56382, 7.86778e-3, 3.13373e-4, wavelengthNm)
    case 'silicone':
      return cauchyIndex(1.40289, 2.43418e-3, 1.83553e-4, wavelengthNm)
    case 'crown':
      return sellmeierIndex(CROWN, wavelengthNm)
    case 'float':
      return floatIndex(um2)
  }
}

/** Bulk absorption in the visible, exp(−a · path in mm): that at 550 nm. */
export const absorptionPerMm = (material: BuiltInMaterial): number => LENS_MATERIALS[material].absorptionPerMm
