// Lamps at the ends of what the schema permits: they are computed, and nothing that comes out is no number.
import { expect, test } from 'vitest'
import { heatJson } from '../../src/cli/heat.ts'
import { shapeWithoutMaps } from '../../src/job/beam/pilot.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import { readLampText, writeLampText } from '../../src/lamp/read.ts'
import { findRunFaults } from '../../src/run/validate.ts'
import { amount } from '../kit/amount.ts'
import { BOUNCES, extremeLamp, traps } from '../kit/extremeLamp.ts'
import { sceneOf, traceScene } from '../kit/traceHere.ts'
import { textOf, unsound } from '../kit/unsound.ts'

const LAMPS = amount(500, 10_000)
/** A run of heat and power takes ten times as long as a few rays. */
const POWER_EACH = amount(16, 4)
const BUNDLES = 20

function faultsOf(seed: number): string[] {
  const lamp = extremeLamp(seed)
  const scene = sceneOf(lamp)
  const faults = [unsound(scene)].filter((f) => f !== null)
  if (!readLampText(writeLampText(lamp)).ok) faults.push('is not read as it was written')
  if (scene.emittedW > 0) {
    const runFaults = findRunFaults(traceScene(scene, shapeWithoutMaps(scene, lamp), { rays: 256, seed }))
    faults.push(...runFaults.filter((f) => !BOUNCES.test(f) || !traps(lamp)))
  }
  if (seed % POWER_EACH === 0) {
    const report = runPower(lamp)
    const findings = powerFindings(lamp, report)
    // Off the plate a picture of its temperatures has none.
    const modes = report.modes.map(({ plateFrames: _, unprotected, ...m }) => ({
      ...m,
      unprotected: unprotected && { ...unprotected, plateFrames: null },
    }))
    const power = unsound({ json: heatJson(lamp, report), report: { ...report, modes }, findings })
    if (power) faults.push(power)
  }
  return faults
}

test.each(Array.from({ length: BUNDLES }, (_, i) => i))(
  `${LAMPS / BUNDLES} lamps, bundle %i`,
  { timeout: 3_600_000 },
  (bundle) => {
    const each = LAMPS / BUNDLES
    for (let seed = bundle * each; seed < (bundle + 1) * each; seed++) {
      let faults: string[]
      try {
        faults = faultsOf(seed)
      } catch (error) {
        faults = [textOf(error)]
      }
      expect(faults, `seed ${seed}`).toEqual([])
    }
  },
)
