// Lumens and the brightest place from lux on a grid over a wall.
import type { GridSet, Meter } from '../lamp/readings.ts'
import { WALL_MM, wallCd } from './line.ts'
import { meterDoubt, readingDoubt } from './meter.ts'
import { ownDoubt, pictureTerms } from './photo/terms.ts'
import { combined, type Measured, rectangular } from './uncertainty.ts'

export interface GridReading {
  /** Null: nothing was read, or the brightest places of a picture are burnt out. */
  peakCd: Measured | null
  peakAtMm: [number, number] | null
  /** On the wall between the outermost readings; null: a place of the grid is missing. */
  lumensLm: Measured | null
}

/**
 * Lumens on the part of a wall that a whole rectangular grid of readings covers: the trapezoid rule in both directions, Φ = ∫∫ E dx dy, whatever the
 * beam's shape; every second row and column instead tells how coarse the grid is. Intensities, cd, by `wallCd`. Stray light is subtracted. What the places of
 * a picture share is summed before it is squared.
 */
export function readGrid(set: GridSet, ofAll?: Meter): GridReading {
  const meter = set.meter ?? ofAll
  const scale = combined([meterDoubt(meter).scale, (2 * (set.distanceDoubtMm ?? WALL_MM)) / (1000 * set.distanceM)])
  const terms = pictureTerms(set)
  let peak: { cd: number; u: number; at: [number, number] } | null = null
  const onWall: OnWall = new Map()
  for (const [i, row] of set.rows.entries()) {
    const lx = Math.max(0, row.lx - (set.strayLx ?? 0))
    const thetaRad = Math.atan2(Math.hypot(row.xMm, row.yMm), 1000 * set.distanceM)
    const u = ownDoubt(row) ?? readingDoubt(lx, meter, set.faces === 'wall' ? thetaRad : 0)
    const shared = terms.map((term) => term[i] ?? 0)
    const cd = wallCd(lx, set.distanceM, thetaRad, set.faces)
    if (!peak || cd > peak.cd) peak = { cd, u: lx > 0 ? cd * combined([u / lx, ...shared]) : 0, at: [row.xMm, row.yMm] }
    const turned = set.faces === 'wall' ? 1 : Math.cos(thetaRad)
    onWall.set(`${row.xMm} ${row.yMm}`, { lx: lx * turned, u: u * turned, shared })
  }
  const xs = rising(set.rows.map((row) => row.xMm))
  const ys = rising(set.rows.map((row) => row.yMm))
  // The brightest that was read is then not the brightest.
  const isBurntOut = set.picture?.burntOut !== undefined
  const isWhole = xs.length > 1 && ys.length > 1 && onWall.size === xs.length * ys.length
  return {
    peakCd: isBurntOut ? null : peak && { value: peak.cd, u: combined([peak.u, peak.cd * scale]) },
    peakAtMm: isBurntOut ? null : (peak?.at ?? null),
    lumensLm: isWhole ? sumGrid(xs, ys, onWall, scale) : null,
  }
}

/** By place: lux on the wall, what is open in it alone, and what it shares with all, as shares. */
type OnWall = Map<string, { lx: number; u: number; shared: readonly number[] }>

const rising = (values: readonly number[]): number[] => [...new Set(values)].sort((a, b) => a - b)

function sumGrid(xs: readonly number[], ys: readonly number[], onWall: OnWall, scale: number): Measured {
  const sum = (ofX: readonly number[], ofY: readonly number[]) => {
    let [lm, square] = [0, 0]
    const together: number[] = []
    const [wx, wy] = [trapezoidWeights(ofX), trapezoidWeights(ofY)]
    for (const [i, x] of ofX.entries())
      for (const [j, y] of ofY.entries()) {
        const at = onWall.get(`${x} ${y}`)
        const weight = ((wx[i] ?? 0) * (wy[j] ?? 0)) / 1e6
        lm += weight * (at?.lx ?? 0)
        square += (weight * (at?.u ?? 0)) ** 2
        for (const [k, share] of (at?.shared ?? []).entries())
          together[k] = (together[k] ?? 0) + weight * (at?.lx ?? 0) * share
      }
    return { lm, u: combined([Math.sqrt(square), ...together]) }
  }
  const all = sum(xs, ys)
  const coarse = xs.length > 2 && ys.length > 2 ? sum(everySecond(xs), everySecond(ys)).lm : 0
  // Half the steps leave a quarter of the trapezoid rule's error.
  return { value: all.lm, u: combined([all.u, all.lm * scale, rectangular(Math.abs(all.lm - coarse) / 3)]) }
}

/** Ends included, so that both sums are over the same rectangle. */
const everySecond = (values: readonly number[]): number[] =>
  values.filter((_, i) => i % 2 === 0 || i === values.length - 1)

const trapezoidWeights = (xs: readonly number[]): number[] =>
  xs.map((x, i) => ((xs[i + 1] ?? x) - (xs[i - 1] ?? x)) / 2)
