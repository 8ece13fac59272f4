// Metals of face plates and sinks, and how well their surfaces radiate.
import type { Cooling } from '../lamp/schema.ts'

export interface MetalRow {
  label: string
  conductivityWmK: number
  densityKgM3: number
  heatJkgK: number
  source: string
  densitySource: string
}

export const METALS: Record<Cooling['plate']['metal'], MetalRow> = {
  'aluminium-6061': {
    label: 'Aluminium 6061-T6',
    // 167 is the printed value; the fit at 293 K gives 154. The hotter side is taken between them.
    conductivityWmK: 160,
    densityKgM3: 2700,
    heatJkgK: 896,
    source: 'Producers’ tables print 167 W/mK; the NIST cryogenic fit gives 154 at 293 K',
    densitySource: '2.70 g/cm³ (ASM Handbook, vol. 2: memory)',
  },
  'aluminium-6063': {
    label: 'Aluminium 6063-T6',
    conductivityWmK: 200,
    densityKgM3: 2700,
    heatJkgK: 900,
    source: 'Producers’ tables, T6 200 W/mK (T5 209)',
    densitySource: '2.70 g/cm³ (ASM Handbook, vol. 2, has 2.69: memory)',
  },
  'aluminium-1050': {
    label: 'Aluminium 1050, nearly pure',
    conductivityWmK: 222,
    densityKgM3: 2710,
    heatJkgK: 900,
    source: 'Memory, 222 to 230 W/mK',
    densitySource: '2.71 g/cm³ (EN 573: memory)',
  },
  copper: {
    label: 'Copper',
    conductivityWmK: 388,
    densityKgM3: 8940,
    heatJkgK: 385,
    source: 'Memory, C110 388 to 401 W/mK',
    densitySource: '8.89 to 8.94 g/cm³ (CDA tables: memory), the heavier',
  },
}

export const EMISSIVITY: Record<Cooling['finish'], { value: number; label: string; source: string }> = {
  bare: { value: 0.09, label: 'bare sheet', source: 'Commercial aluminium sheet 0.09, open tables' },
  anodised: { value: 0.77, label: 'anodised', source: 'Anodised aluminium 0.77 to 0.85, memory; the lower taken' },
  painted: { value: 0.9, label: 'painted', source: 'Paints 0.9 to 0.96, open tables; the lower taken' },
}
