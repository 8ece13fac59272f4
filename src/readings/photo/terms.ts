// What all places of a picture share, as shares of each: the same for its figures and for a fit.
import type { GridSet } from '../../lamp/readings.ts'

/**
 * Change of each row of a set, as a share of it, for one standard uncertainty: of the scale (beside the meter's own), of the camera's curve, of its
 * lens's shading, of glare. The last three are nothing at the place of the lux reading. Empty: the set is no picture.
 */
export function pictureTerms({ rows, picture, strayLx = 0 }: GridSet): number[][] {
  if (!picture) return []
  const { readLx, readPct, curve, glareLx } = picture
  // Shares are of what is left without stray light.
  const terms = rows.map(({ lx, shadePct = 0 }) => {
    const left = Math.max(lx - strayLx, 1e-9)
    const shown = Math.max(lx, 1e-9)
    return [
      readPct / 100,
      curve * Math.log(shown / readLx) * (shown / left),
      (shadePct / 100) * (shown / left),
      (glareLx - (glareLx * shown) / readLx) / left,
    ]
  })
  return [0, 1, 2, 3].map((k) => terms.map((row) => row[k] ?? 0))
}

/** Standard uncertainty of a row by itself, lx, where the set says it; null: it is read off a meter. */
export function ownDoubt(row: GridSet['rows'][number]): number | null {
  return row.doubtPct === undefined ? null : (row.doubtPct / 100) * row.lx
}
