// Open-circuit voltage of one cell over its charge, typical of each chemistry (from memory; replace by the cell's own data where it
// matters). A cell at rest and at room temperature.
import type { Pack } from '../lamp/schema.ts'

export interface ChemistryRow {
  label: string
  charge: readonly number[]
  volts: readonly number[]
  /** Usual lower end, for a warning when a cut-off lies below it. */
  emptyV: number
  /** Coldest cell that may give current, and be charged, °C: usual limits (memory). */
  dischargeFromC: number
  chargeFromC: number
}

export const CHEMISTRIES: Record<Pack['chemistry'], ChemistryRow> = {
  'li-ion': {
    label: 'lithium ion',
    charge: [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
    volts: [3.0, 3.35, 3.48, 3.58, 3.63, 3.67, 3.73, 3.82, 3.91, 4.0, 4.08, 4.2],
    emptyV: 2.5,
    dischargeFromC: -20,
    chargeFromC: 0,
  },
  lifepo4: {
    label: 'lithium iron phosphate',
    charge: [0, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.9, 0.97, 1],
    volts: [2.5, 3.0, 3.2, 3.25, 3.28, 3.3, 3.33, 3.35, 3.4, 3.6],
    emptyV: 2.5,
    dischargeFromC: -20,
    chargeFromC: 0,
  },
  nimh: {
    label: 'nickel–metal hydride',
    charge: [0, 0.05, 0.1, 0.2, 0.5, 0.8, 0.95, 1],
    volts: [1.0, 1.15, 1.2, 1.24, 1.29, 1.33, 1.37, 1.42],
    emptyV: 1,
    dischargeFromC: -20,
    chargeFromC: -20,
  },
  'lead-acid': {
    label: 'lead–acid',
    charge: [0, 0.2, 0.5, 0.8, 1],
    volts: [1.9, 1.97, 2.03, 2.09, 2.13],
    emptyV: 1.75,
    dischargeFromC: -20,
    chargeFromC: -20,
  },
}

/** J/kgK of a cell, typical (memory: lithium cells 900 to 1100). */
export const CELL_HEAT_JKGK = 950
