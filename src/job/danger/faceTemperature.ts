// How warm the face is before its own light comes back to it: from the run of heat and power, where the document describes one.
import type { FaceWarmth } from '../../hazard/onParts.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { overBatches } from '../../run/batches.ts'
import { tallyLayout } from '../../run/layout.ts'
import { FATES, type Run } from '../../run/types.ts'
import { keptFromLedger } from '../beam/lightKept.ts'
import { runPower } from '../power/run.ts'

/**
 * The plate's hottest place at its hottest moment, of the mode that gets hottest until something ends it. Null where the document says neither
 * how the lamp is cooled nor what feeds it: typical parts would be a guess, and what onParts takes instead is hotter.
 */
export function faceWarmth(lamp: Lamp, run: Run): FaceWarmth | null {
  if (!lamp.cooling && !lamp.power) return null
  const ledger = FATES.map((line, i) => ({
    line,
    w: overBatches(run, (t, _, wPerWeight) => wPerWeight * t[tallyLayout(run.shape).fateW + i]!).value,
  }))
  const ends = runPower(lamp, { kept: run.rays > 0 ? keptFromLedger(ledger) : null }).modes.map((m) => ({
    name: m.name,
    tS: m.curves.tS.at(-1)!,
    hottestC: m.curves.plateMaxC.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
  }))
  const worst = ends.reduce<(typeof ends)[number] | null>((a, b) => (a && a.hottestC >= b.hottestC ? a : b), null)
  if (!worst) return null
  const minutes = worst.tS < 60 ? 'under a minute' : `${Math.round(worst.tS / 60)} min`
  return { faceC: worst.hottestC, from: `heat model: the plate in “${worst.name}” until it ends, after ${minutes}` }
}
