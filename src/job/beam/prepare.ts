// A lamp made ready to be traced: its scene, its bins, and what every sheet of it says. Depends on the lamp and the options alone.
import { tracePaths } from '../../engine/paths.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { TallyShape } from '../../run/types.ts'
import { compile } from '../../scene/compile.ts'
import type { Scene } from '../../scene/scene.ts'
import { lampOperatingPoint } from '../power/light.ts'
import { chooseShape } from './pilot.ts'
import { type SheetHeader, sheetHeader } from './read.ts'
import type { JobOptions, Paths } from './sheet.ts'

const PATHS = 360

export interface PreparedTrace {
  lamp: Lamp
  scene: Scene
  /** Bins of every tally, chosen by a pilot run. */
  shape: TallyShape
  header: SheetHeader
  /** A few hundred paths for the views; traced at the first call. */
  paths(): Paths
}

/** Compile and pilot. `threads`: of the pool, for the sheet's header. */
export function prepareTrace(lamp: Lamp, { seed }: Pick<JobOptions, 'seed'>, threads: number): PreparedTrace {
  const point = lampOperatingPoint(lamp)
  const scene = compile(lamp, point)
  const shape = chooseShape(scene, lamp)
  let traced: Paths | null = null
  return {
    lamp,
    scene,
    shape,
    header: sheetHeader(lamp, point.fluxLm, seed, threads),
    paths() {
      traced ??= tracePaths(scene, shape, seed, PATHS)
      return traced
    },
  }
}
