// One run of the mode that draws most with its sink covered: left on, from a full pack, the protection failed.
import { makeModel, type PowerModel } from '../../electrothermal/model.ts'
import { leftOn } from '../../electrothermal/protection.ts'
import type { CoveredRun, ModeRun } from '../../electrothermal/result.ts'
import { runMode } from '../../electrothermal/transient.ts'
import { coverC, coverSink } from '../../heat/covered.ts'
import { crossesAt } from '../../heat/limits.ts'

/** Half of the cells each way: a cover is known to some ten per cent at best. */
const COARSE = 1 / 2

/** Null where nothing was run or draws anything, or the sink's envelope is not known. */
export function runCovered({ lamp, retained, power }: PowerModel, runs: readonly ModeRun[]): CoveredRun | null {
  const most = runs.reduce<ModeRun | null>((a, b) => (a && a.mostA >= b.mostA ? a : b), null)
  const mode = power.modes.find((m) => m.id === most?.id)
  if (!most || !mode || !(most.mostA > 0)) return null
  const model = makeModel(lamp, retained, COARSE)
  const sink = coverSink(model.sink, model.ambientC)
  if (!sink) return null
  const { moments, limit } = runMode(leftOn({ ...model, sink, source: { ...model.source, charged: 1 } }), mode)
  const tS = moments.map((m) => m.tS)
  const plateC = Math.max(...moments.map((m) => m.plateMaxC))
  const meanC = Math.max(...moments.map((m) => m.plateMeanC))
  const junctionS = crossesAt(
    tS,
    moments.map((m) => m.overK),
    0,
  )
  return {
    modeId: mode.id,
    mode: mode.name,
    junctionS,
    plateC,
    coverC: coverC(meanC, model.sink.emissivity, model.ambientC),
    limit,
  }
}
