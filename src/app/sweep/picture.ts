// Props of the curve and the map.
import type { SweptName } from '../../job/sweep/figures.ts'
import { type Parameter, parametersOf } from '../../job/sweep/parameters.ts'
import type { SweepAxes } from '../../job/sweep/plan.ts'
import type { SweepCell } from '../../job/sweep/run.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import type { SweepRun } from '../store/sweep.ts'
import { axisValue } from './model/axes.ts'

export interface PictureProps {
  run: SweepRun
  system: UnitSystem
  /** The current lamp. */
  lamp: Lamp
  figure: SweptName
  bestIndex: number | null
  /** The selected cell, or the best. */
  shownIndex: number | null
  widthPx: number
  heightPx: number
  onLook(index: number): void
  onTake(index: number): void
}

export function parametersAlong(lamp: Lamp, axes: SweepAxes): (Parameter | null)[] {
  const known = parametersOf(lamp)
  return axes.map(({ path }) => known.find((p) => p.path === path) ?? null)
}

/** "1050 mm", "12°": the values of a cell, by axis. */
export const placesOf = (run: SweepRun, cell: Pick<SweepCell, 'values'>, system: UnitSystem): string[] => {
  const of = parametersAlong(run.lamp, run.axes)
  return cell.values.map((v, i) => axisValue(v, of[i]?.unit ?? '', system))
}
