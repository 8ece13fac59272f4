// How warm the face is before its own light comes back to it: from the run of heat and power, where the document describes one.
import type { FaceTemperature } from '../../hazard/onParts.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { overBatches } from '../../run/batches.ts'
import { tallyLayout } from '../../run/layout.ts'
import { FATES, type Run } from '../../run/types.ts'
import { retainedFromLedger } from '../beam/retainedLight.ts'
import { hottestC } from '../power/judge.ts'
import { runPower } from '../power/run.ts'

/**
 * The plate's hottest place at its hottest moment, of the mode that gets hottest, left on until something really ends it: full pack, protection failed. Null where the document says neither
 * how the lamp is cooled nor what feeds it: typical parts would be a guess, and what onParts takes instead is hotter.
 */
export function faceWarmth(lamp: Lamp, run: Run): FaceTemperature | null {
  if (!lamp.cooling && !lamp.power) return null
  const ledger = FATES.map((line, i) => ({
    line,
    w: overBatches(run, (t, _, wPerWeight) => wPerWeight * t[tallyLayout(run.shape).fateW + i]!).value,
  }))
  const { modes, ambientC } = runPower(lamp, { retained: run.rays > 0 ? retainedFromLedger(ledger) : null })
  const ends = modes.flatMap((m) => {
    const tS = m.curves.tS.at(-1)!
    const own = { name: m.name, tS, hottestC: hottestC(m, ambientC), end: 'until it ends' }
    if (!m.leftOn) return [own]
    const left = {
      tS: m.leftOn.limit.atS,
      hottestC: hottestC(m.leftOn, ambientC),
      end: 'left on past its limit',
    }
    return [own, { ...own, ...left }]
  })
  const worst = ends.reduce<(typeof ends)[number] | null>((a, b) => (a && a.hottestC >= b.hottestC ? a : b), null)
  if (!worst) return null
  const minutes = worst.tS < 60 ? 'under a minute' : `${Math.round(worst.tS / 60)} min`
  return { faceC: worst.hottestC, from: `heat model: the plate in “${worst.name}” ${worst.end}, after ${minutes}` }
}
