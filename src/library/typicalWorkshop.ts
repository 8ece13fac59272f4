// What a workshop is taken to have where the lamp says nothing. Common practice, no source, but for the paper and the bend.
import type { Lamp, Workshop } from '../lamp/schema.ts'

/** Every entry filled, prices and weighed masses empty. */
export type FullWorkshop = { [K in keyof Workshop]-?: NonNullable<Workshop[K]> }

const TYPICAL_WORKSHOP: FullWorkshop = {
  drawnBy: '',
  paper: 'A4',
  kerfMm: 0.15,
  sheetMm: { widthMm: 1000, heightMm: 600 },
  tunnelThicknessMm: 0.5,
  tunnelDensityKgM3: 2700,
  tunnelMaterial: 'Aluminium sheet',
  seam: { kind: 'flap', widthMm: 12 },
  // Common practice for soft sheet in air bending: 0.33 to 0.45 (memory).
  bendK: 0.4,
  lensRing: { widthMm: 16, lipMm: 4, heightMm: 8, screws: 8, screwMm: 4 },
  boardScrewMm: 3,
  // Density of PETG, memory: 1270 kg/m³.
  printer: { bedXMm: 220, bedYMm: 220, bedZMm: 220, wallMm: 2.4, clearanceMm: 0.25, densityKgM3: 1270 },
  currency: '€',
  prices: {},
  massG: {},
}

/** ISO 216 and ANSI/ASME Y14.1 (A), mm. */
export const PAPER_MM: Record<FullWorkshop['paper'], { widthMm: number; heightMm: number }> = {
  A4: { widthMm: 210, heightMm: 297 },
  Letter: { widthMm: 215.9, heightMm: 279.4 },
}

/** The lamp's workshop, typical where it says nothing. */
export function workshopOf(lamp: Lamp): FullWorkshop {
  const stated = Object.entries(lamp.workshop ?? {}).filter(([, value]) => value !== undefined)
  return { ...TYPICAL_WORKSHOP, ...Object.fromEntries(stated) }
}
