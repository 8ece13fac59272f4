// What readers make of a run: figures with their error, grids, spots.

/** A value with its standard error; ± at 95 % on screens is T95 = 2.131 se (num/stats.ts). */
export interface Figure {
  value: number
  se: number
}

/** A grid of values, row-major, rows from low y (or low z) up. */
export interface GridMap {
  columns: number
  rows: number
  /** Extent of the grid along columns and rows, in `unit`. */
  fromX: number
  toX: number
  fromY: number
  toY: number
  unit: 'mm' | 'deg' | 'm'
  values: Float32Array
  /** What the values are. */
  of: 'kW/m2' | 'cd' | 'lx'
}

export interface HotSpot {
  kWm2: number
  se: number
  xMm: number
  yMm: number
  zMm: number
  discMm: number
}
