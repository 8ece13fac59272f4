// A run made by hand, or traced for another target, with its exit rays counted on the target of a lamp, as an engine counts all rays.
import { centreDiscM, readTarget, type TargetReading, targetCells } from '../../src/beam/target.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { rayColumns } from '../../src/run/exits.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { lumensPerWeight, sumTallies } from '../../src/run/scale.ts'
import type { Run } from '../../src/run/types.ts'

/** The same run, its target the lamp's. */
function aimRun(run: Run, lamp: Lamp): Run {
  const centreMm = 1000 * centreDiscM(lamp.target, run.shape.axialConeHalfRad)
  const target = { ...targetCells(lamp), centreMm }
  const shape = { ...run.shape, target }
  const [from, to] = [tallyLayout(run.shape), tallyLayout(shape)]
  const more = to.profileRiserLm - from.profileRiserLm
  const tallies = run.tallies.map((tally) => {
    const aimed = new Float64Array(to.size)
    aimed.set(tally.subarray(0, from.targetLm))
    aimed.set(tally.subarray(from.profileRiserLm), from.profileRiserLm + more)
    aimed[to.targetCentreLm] = 0
    return aimed
  })
  const rays = rayColumns(run, target.zMm)
  const perLm = 1 / lumensPerWeight(run, sumTallies(run))
  for (let i = 0; i < rays.count; i++) {
    const [x, y] = [rays.xMm[i]!, rays.yMm[i]!]
    const column = Math.floor((x / target.halfXMm / 2 + 0.5) * target.n)
    const row = Math.floor((y / target.halfYMm / 2 + 0.5) * target.n)
    const tally = tallies[rays.batch[i]!]!
    const weight = rays.lumens[i]! * perLm
    if (column >= 0 && row >= 0 && column < target.n && row < target.n)
      tally[to.targetLm + row * target.n + column]! += weight
    if (x * x + y * y <= target.centreMm ** 2) tally[to.targetCentreLm]! += weight
  }
  const { halves: _, ...rest } = run
  return { ...rest, shape, tallies }
}

export const readAimed = (run: Run, lamp: Lamp): TargetReading => readTarget(aimRun(run, lamp), lamp)
