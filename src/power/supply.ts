// The supply as the harness sees it: open-circuit voltage over charge, resistance, limits.
import type { Pack, Supply } from '../lamp/schema.ts'
import { CELL_HEAT_JKGK, CHEMISTRIES } from '../library/cells.ts'
import { monotoneCubic } from '../num/interpolate.ts'

export interface Source {
  /** At a charge from 0 to 1. */
  openV(charge: number): number
  ohm: number
  maxA: number
  /** Into a short circuit where the supply limits it itself, A; null: its resistance alone, or not known. */
  shortA: number | null
  /** Ends the run under load; null: never. */
  cutOffV: number | null
  /** Null: endless. */
  capacityC: number | null
  charged: number
  /** Warming of the cells by their own losses, nothing given off, J/K. Null without cells. */
  heatJK: number | null
  maxCellC: number | null
}

/**
 * The supply's open-circuit voltage over charge (0 to 1), resistance (Ω), limits, and capacity (C). A fixed supply
 * has no end and no cells. Packs: cells in series and parallel, curves of src/library/cells.ts, monotone (Fritsch and
 * Carlson 1980).
 */
export function makeSource(supply: Supply): Source {
  if (supply.kind === 'fixed') {
    const { volts, milliohm, maxA, shortA } = supply
    return {
      openV: () => volts,
      ohm: milliohm / 1000,
      maxA,
      shortA: shortA ?? null,
      cutOffV: null,
      capacityC: null,
      charged: 1,
      heatJK: null,
      maxCellC: null,
    }
  }
  return makePackSource(supply)
}

function makePackSource(p: Pack): Source {
  const { charge, volts } = CHEMISTRIES[p.chemistry]
  const cell = monotoneCubic(charge, volts)
  return {
    openV: (q) => p.series * cell(q),
    ohm: (p.series * p.cellMilliohm) / 1000 / p.parallel,
    maxA: p.parallel * p.maxCellA,
    shortA: null,
    cutOffV: p.series * p.cutOffCellV,
    capacityC: 3600 * p.cellAh * p.parallel,
    charged: p.charged,
    heatJK: ((p.series * p.parallel * p.cellGram) / 1000) * CELL_HEAT_JKGK,
    maxCellC: p.maxCellC,
  }
}
