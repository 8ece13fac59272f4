// How single flexible copper wires are made, for their mass: density of copper, thickness and density of the insulation.

/** IEC 60028 has 8.89 g/cm³ for annealed wire, less by 0.8 %: the heavier is taken. */
export const COPPER_WIRE = {
  densityKgM3: 8960,
  source: 'copper 8.96 g/cm³ at 20 °C (CRC Handbook of Chemistry and Physics: memory)',
} as const

/** Diameter of the strands together over that of a solid conductor of the same section: 1.12 to 1.17, memory of class 5 of IEC 60228. */
export const STRANDED = 1.15

/** Up to so much copper, mm², the insulation is so thick, mm: EN 50525-2-31 (memory); below 0.5 mm² common practice, no source. */
const THICKNESS: readonly [upToMm2: number, mm: number][] = [
  [0.49, 0.4],
  [1, 0.6],
  [1.5, 0.7],
  [6, 0.8],
  [16, 1],
  [35, 1.2],
  [70, 1.4],
  [120, 1.6],
  [150, 1.8],
  [185, 2],
]
const THICKEST_MM = 2.2

/** Thickness of the insulation of a wire of so much copper (mm²), mm. Source: THICKNESS. */
export const insulationMm = (mm2: number): number => THICKNESS.find(([upTo]) => mm2 <= upTo)?.[1] ?? THICKEST_MM

/** PVC is made for up to 105 °C (memory). */
const PVC_UP_TO_C = 105

/** What a wire of this temperature limit is usually insulated with: flexible PVC 1.35 to 1.5 g/cm³, silicone rubber 1.1 to 1.3 (memory). */
export const insulationOf = (limitC: number): { label: string; densityKgM3: number } =>
  limitC <= PVC_UP_TO_C ? { label: 'PVC', densityKgM3: 1400 } : { label: 'Silicone rubber', densityKgM3: 1200 }
