// Intensity over the whole sphere, for what lies beyond the direction map near the axis.
import type { Folded } from '../run/batches.ts'
import type { GridMap } from '../run/figure.ts'
import { zoneSr } from './profile.ts'

/**
 * Intensity, cd, of the light beyond the direction map: columns are azimuth, 0 to 360° from +x, rows θ, 0 to 180° from the axis. Cells within
 * the map are 0; of a row that its edge cuts, the part beyond it.
 */
export function readSphereMap({ run: { shape }, all, layout }: Folded): GridMap {
  const { sphereGamma: rows, sphereC: columns, fineHalfRad } = shape
  const values = new Float32Array(rows * columns)
  for (let row = 0; row < rows; row++) {
    const from = Math.max(fineHalfRad, (row * Math.PI) / rows)
    const to = ((row + 1) * Math.PI) / rows
    if (to <= from) continue
    const perLm = (all.lmPerWeight * columns) / zoneSr(from, to)
    for (let i = row * columns; i < (row + 1) * columns; i++) values[i] = all.data[layout.sphereLm + i]! * perLm
  }
  return { columns, rows, fromX: 0, toX: 360, fromY: 0, toY: 180, unit: 'deg', values, of: 'cd' }
}
