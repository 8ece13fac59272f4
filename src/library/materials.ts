// Lens materials: refractive index, absorption and temperature limits, each with its source.
import type { LensMaterial } from '../lamp/schema.ts'

export interface LensMaterialRow {
  label: string
  /** Bulk absorption near 550 nm, per mm, of the clearer of the measured samples (more light through: the hotter side). */
  absorptionPerMm: number
  /** The same of the less clear sample: for the warming of the lens itself. */
  absorptionHighPerMm: number
  /** Above this the lens may lose its shape; warn here. Null: no limit that a lamp reaches. */
  keepBelowC: number | null
  /** Deflection under load; above it the lens sags. */
  deflectionC: number | null
  densityKgM3: number
  sources: { index: string; absorption: string; temperature: string }
}

export const LENS_MATERIALS: Record<LensMaterial, LensMaterialRow> = {
  pmma: {
    label: 'Acrylic (PMMA)',
    absorptionPerMm: 3.98e-3,
    absorptionHighPerMm: 5.21e-3,
    keepBelowC: 70,
    deflectionC: 95,
    // Common handbook value, memory.
    densityKgM3: 1190,
    sources: {
      index: 'Beadie et al., Appl. Opt. 54 (2015) F139, 0.42 to 1.62 µm, ±0.0002; carried on to 0.38 µm',
      absorption:
        'Zhang et al., Appl. Opt. 59 (2020) 2337 (journal and year from memory), extinction at 0.55 µm of two sheets: 3.98 and 5.21 per metre',
      temperature:
        'Extruded sheet: deflection 95 °C (ISO 75), softening 103 °C (ISO 306), continuous service 70 °C, keep below 80 °C for shape; other sheets 65 to 95 °C. Sources differ by 25 K; the cool side is taken.',
    },
  },
  polycarbonate: {
    label: 'Polycarbonate',
    absorptionPerMm: 9.32e-3,
    absorptionHighPerMm: 9.32e-3,
    keepBelowC: 115,
    deflectionC: 127,
    // Common handbook value, memory.
    densityKgM3: 1200,
    sources: {
      index:
        'Sultanova et al., Acta Phys. Pol. A 116 (2009) 585; a one-term fit, which overstates dispersion (Abbe number 27.9; about 30 is usual, memory)',
      absorption:
        'Zhang et al., Appl. Opt. 59 (2020) 2337 (journal and year from memory), extinction at 0.55 µm: 9.32 per metre',
      temperature:
        'Deflection 127 °C at 1.81 MPa (a printed grade); long-term 115 to 135 °C (115 from memory, the cool side taken)',
    },
  },
  crown: {
    label: 'Borosilicate crown glass',
    absorptionPerMm: 1.603e-4,
    absorptionHighPerMm: 1.603e-4,
    keepBelowC: null,
    deflectionC: null,
    // Common handbook value, memory.
    densityKgM3: 2510,
    sources: {
      index:
        'Three-term Sellmeier formula of a common borosilicate crown (nd 1.5168, Vd 64.2), data of 2017 in the open index collection',
      absorption: 'Extinction at 0.546 µm from the same data: 0.160 per metre',
      temperature: 'Softens above 500 °C (memory); but glass heated unevenly can crack far below that',
    },
  },
}

/** n² = 1 + Σ B λ²/(λ² − C), λ in µm. */
const sellmeier = (um2: number, terms: readonly (readonly [number, number])[]) =>
  terms.reduce((sum, [b, c]) => sum + (b * um2) / (um2 - c), 1)

const CROWN = [
  [1.03961212, 0.00600069867],
  [0.231792344, 0.0200179144],
  [1.01046945, 103.560653],
] as const
const POLYCARBONATE = [[1.4182, 0.021304]] as const

/** Beadie 2015: a power series in λ², µm. */
function pmmaSquared(um2: number): number {
  const inverse = 1 / um2
  const up = 2.1778 + 6.1209e-3 * um2 - 1.5004e-3 * um2 * um2
  return up + inverse * (2.3678e-2 + inverse * (-4.2137e-3 + inverse * (7.3417e-4 - 4.5042e-5 * inverse)))
}

/** Refractive index against air at room temperature. */
export function refractiveIndex(material: LensMaterial, wavelengthNm: number): number {
  const um2 = (wavelengthNm / 1000) ** 2
  switch (material) {
    case 'pmma':
      return Math.sqrt(pmmaSquared(um2))
    case 'polycarbonate':
      return Math.sqrt(sellmeier(um2, POLYCARBONATE))
    case 'crown':
      return Math.sqrt(sellmeier(um2, CROWN))
  }
}

/** Bulk absorption in the visible, exp(−a · path in mm). One value for all wavelengths: that at 550 nm. */
export const absorptionPerMm = (material: LensMaterial): number => LENS_MATERIALS[material].absorptionPerMm
