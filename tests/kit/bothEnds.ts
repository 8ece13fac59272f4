// One design, traced from both ends: intensity in bands of direction, forward and backward, with errors.
import { backwardEstimate } from '../../src/engine/cpu/backwardEstimate.ts'
import { chooseShape } from '../../src/job/shape.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import type { Figure } from '../../src/run/figure.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { overRuns, sceneOf, traceScene } from './traceHere.ts'

export interface BothEnds {
  fromRad: number
  toRad: number
  forward: Figure
  backward: Figure & { effective: number }
  apart: number
}

/** Angles to the axis that bands may end at: bin edges of the forward profile below. */
const BIN = Math.PI / 360

/** Bands end at `edges`, in half degrees. */
export function bothEnds(
  lamp: Lamp,
  edges: readonly number[],
  rays: { forward: number; backward: number },
  seed: number,
): BothEnds[] {
  const scene = sceneOf(lamp)
  // Half-degree bins over the hemisphere.
  const shape = { ...chooseShape(scene, lamp), fineHalfRad: Math.PI / 2, fineBins: 180 }
  const run = traceScene(scene, shape, { rays: rays.forward, seed })
  const { profileLm, emitted } = tallyLayout(shape)
  return edges.slice(1).map((to, k) => {
    const from = edges[k]!
    const sr = 2 * Math.PI * (Math.cos(from * BIN) - Math.cos(to * BIN))
    const forward = overRuns(
      run,
      (t) =>
        (t.subarray(profileLm + from, profileLm + to).reduce((a, b) => a + b, 0) * run.emittedLm) /
        t[emitted + 1]! /
        sr,
    )
    const aim = { kind: 'band' as const, fromRad: from * BIN, toRad: to * BIN }
    const backward = backwardEstimate(scene, aim, { seed: seed + 1000, rays: rays.backward })
    const apart = (backward.value - forward.value) / Math.hypot(forward.se, backward.se)
    return { fromRad: aim.fromRad, toRad: aim.toRad, forward, backward, apart }
  })
}
