// Profiles of several lamps on one axis, as paths of a picture.
import type { ColumnLight } from '../../../job/compare/result.ts'
import { niceAbove, niceBelow } from '../../common/niceSteps.ts'
import type { PlotBox } from '../../common/plotBox.ts'

export interface ProfileLines {
  /** One for each lamp; null: it has none, or not yet. */
  paths: (string | null)[]
  xTicks: { px: number; deg: number }[]
  yTicks: { px: number; value: number }[]
}

/**
 * `share`: each of its own peak instead of cd. The axis ends a quarter past the widest field angle; a curve may stand two per
 * cent above the topmost tick. */
export function profileLines(lights: readonly (ColumnLight | null)[], box: PlotBox, share: boolean): ProfileLines {
  const shown = lights.map((light) => light?.profile ?? null)
  const peaks = shown.map((p) => (p ? p.cd.reduce((a, b) => Math.max(a, b), 0) : 0))
  const top = share ? 1 : niceAbove(Math.max(0, ...peaks) / 1.02)
  const lasts = shown.map((p) => p?.thetaDeg.at(-1) ?? 0)
  const fields = lights.map((l, i) => 0.625 * (l?.figures.fieldAngleDeg?.value ?? 2 * (lasts[i] ?? 0)))
  const to = niceAbove(Math.min(90, Math.max(1e-3, ...fields)))
  const [width, height] = [box.widthPx - box.left - box.right, box.heightPx - box.top - box.bottom]
  const x = (deg: number) => box.left + (deg / to) * width
  const y = (value: number) => box.top + (1 - Math.max(0, value / top)) * height
  const steps = (end: number, by: number) => Array.from({ length: Math.floor(end / by + 1e-9) + 1 }, (_, i) => i * by)
  return {
    paths: shown.map((p, i) => {
      const peak = peaks[i] ?? 0
      if (!p || !(peak > 0)) return null
      const points = [...p.thetaDeg].flatMap((deg, k) =>
        deg <= to ? [`${x(deg).toFixed(1)},${y((p.cd[k] ?? 0) / (share ? peak : 1)).toFixed(1)}`] : [],
      )
      return `M${points.join('L')}`
    }),
    xTicks: steps(to, niceBelow(to / 4)).map((deg) => ({ px: x(deg), deg })),
    yTicks: steps(top, niceBelow(top / 3)).map((value) => ({ px: y(value), value })),
  }
}
