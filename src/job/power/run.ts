// Heat and power of a lamp, coupled: every mode from switch-on to what ends it, the wiring, the power-up list. What the beam takes of it
// is in light.ts.
import { checkPower } from '../../checks/checkPower.ts'
import type { Finding } from '../../checks/finding.ts'
import { makeModel, type PowerModel } from '../../electrothermal/model.ts'
import { withoutProtection } from '../../electrothermal/protection.ts'
import type { ModeRun, PowerReport } from '../../electrothermal/result.ts'
import { runMode } from '../../electrothermal/transient.ts'
import { warmUpOf } from '../../electrothermal/warmUp.ts'
import { worstCaseOf } from '../../electrothermal/worstCase.ts'
import type { Lamp, Mode } from '../../lamp/schema.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import { runToEnd, type TimeSliced } from '../../num/scheduler.ts'
import { faultCurrents, inrushOf } from '../../power/fault.ts'
import { makePowerUpList } from '../../power/powerUp.ts'
import { listWiring } from '../../power/schedule.ts'
import { groupNeeds, makeSwitchNeed } from '../../power/switching.ts'
import { runCovered } from './covered.ts'
import { hottestC, type JudgeOptions, judgedRuns, judgeMode } from './judge.ts'
import { modeRun } from './modeRun.ts'

export interface PowerOptions extends JudgeOptions {
  /** Only the mode of this name (its id). */
  mode?: string | undefined
}

export function runPower(lamp: Lamp, options: PowerOptions = {}): PowerReport {
  const { modes, judge, report } = preparePower(lamp, options)
  const wanted = modes.filter((m) => options.mode === undefined || m.id === options.mode)
  return report(wanted.map((m) => runToEnd(judge(m))))
}

export interface PreparedPower {
  /** None on a lamp without boards. */
  modes: readonly Mode[]
  /** All runs by which a mode is judged; it yields between two of them, so that a caller may pause. */
  judge(mode: Mode): TimeSliced<ModeRun>
  /** One run with the protection failed, from the charge that was entered: the light that is traced. */
  runUnprotected(mode: Mode): ModeRun
  /** Of the modes that were run. */
  report(runs: ModeRun[]): PowerReport
}

/** The same in steps. */
export function preparePower(lamp: Lamp, options: PowerOptions = {}): PreparedPower {
  const model = makeModel(lamp, options.retained ?? null, options.refine)
  return {
    modes: lamp.boards.length === 0 ? [] : model.power.modes,
    judge: (mode) => judgeMode(model, mode, options),
    runUnprotected: (mode) => {
      const failed = withoutProtection(model)
      return modeRun(failed, runMode(failed, mode, options))
    },
    report: (runs) => makeReport(model, runs),
  }
}

function makeReport(model: PowerModel, modes: ModeRun[]): PowerReport {
  const { lamp, power, sink, channels, ambientC } = model
  const worst = worstCaseOf(model)
  const faults = faultCurrents(power)
  const tops = modes.map((m) => hottestC(m, ambientC))
  const leftOn = modes.flatMap((m) => (m.leftOn ? [hottestC(m.leftOn, ambientC)] : []))
  const wiring = listWiring({
    power,
    channels,
    boardNames: lamp.boards.map((b) => b.id),
    worst,
    faults,
    airC: ambientC,
    plateC: tops.length > 0 ? Math.max(...tops) : null,
    leftOnC: leftOn.length > 0 ? Math.max(...leftOn) : null,
  })
  return {
    lamp: lamp.name,
    ambientC,
    assumed: model.assumed,
    retained: model.retained,
    sink: {
      wattPerK: sink.totalWK(ambientC + 60),
      plateKg: model.plateKg,
      finKg: sink.finKg,
      leftOutFins: sink.leftOut,
      speedMS: sink.speedMS,
      rated: ratedSinkOf(lamp),
    },
    emitters: model.boards.reduce((sum, b) => sum + b.emitters, 0),
    channelCount: channels.length,
    modes,
    worst,
    faults,
    inrush: inrushOf(
      power,
      channels.map((c) => c.driver.id),
    ),
    wiring,
    covered: runCovered(model, modes),
    switching: worst.modes.map((m) => makeSwitchNeed(m.id, m.name, m.lastingA.value, worst.fullV)),
    groups: groupNeeds(power, channels, worst),
    powerUp: makePowerUpList({
      power,
      channels,
      wiring,
      volts: channelVolts(model),
      warmUp: warmUpOf(model),
      done: lamp.powerUp?.done ?? [],
    }),
  }
}

/** What a builder should know of it. */
export const powerFindings = (lamp: Lamp, report: PowerReport): Finding[] =>
  checkPower(lamp, { ...report, modes: report.modes.flatMap(judgedRuns) })

/** Across each channel, cold: at a tenth of its boards' own current, and at all of it. */
function channelVolts(model: PowerModel) {
  return model.channels.map((c) => {
    const boards = c.boards.map((b) => model.boards[b]!)
    const at = (part: number) => {
      const volts = boards.map((b) => b.series * b.tables.volts(part * b.ownA, model.ambientC))
      const sum = volts.reduce((a, b) => a + b, 0)
      return c.wired === 'parallel' ? sum / volts.length : sum
    }
    const strings = c.wired === 'parallel' ? boards.reduce((sum, b) => sum + b.strings, 0) : boards[0]!.strings
    const fullA = strings * boards[0]!.ownA
    return { lowV: at(0.1), fullV: at(1), lowA: 0.1 * fullA, fullA }
  })
}
