// One design, traced from both ends: intensity in bands of direction, forward and backward, with errors.
import { backwardEstimate } from '../../src/engine/backward/estimate.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import type { Figure } from '../../src/run/figure.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { dice, randomLamp } from './randomLamp.ts'
import { overRuns, sceneOf, traceScene } from './traceHere.ts'

export interface ForwardBackward {
  fromRad: number
  toRad: number
  forward: Figure
  backward: Figure & { effective: number }
  apart: number
}

/** Angles to the axis that bands may end at: bin edges of the forward profile below. */
const BIN = Math.PI / 360

/** Bands end at `edges`, in half degrees. */
export function forwardBackward(
  lamp: Lamp,
  edges: readonly number[],
  rays: { forward: number; backward: number },
  seed: number,
): ForwardBackward[] {
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

/**
 * The random lamp with one emitter that fills much of its face (or of its cup), so that rays from either end meet often: the same surfaces, a
 * comparison that can tell.
 */
export function broadLamp(seed: number): Lamp {
  const lamp = randomLamp(seed)
  const d = dice(seed + 90_000)
  const emitter = lamp.emitterTypes[0]!
  const optic = lamp.opticTypes[0]!
  const face = lamp.face.sizeMm
  const board = lamp.boardTypes[0]!
  const off = 0.1 * face
  board.sites = [{ xMm: d.between(-off, off), yMm: d.between(-off, off), turnDeg: d.between(0, 360) }]
  const across = d.between(0.4, 0.7) * face
  emitter.source =
    emitter.source.shape === 'disc'
      ? { shape: 'disc', diameterMm: across }
      : { shape: 'rectangle', widthMm: across, heightMm: d.between(0.4, 0.9) * across }
  if (optic.kind === 'collimator') optic.exitDiameterMm = across
  if (optic.kind === 'reflector') {
    const focal = d.between(0.2, 0.3) * across
    emitter.source = { shape: 'disc', diameterMm: d.between(1.5, 2.5) * focal }
    lamp.opticTypes[0] = {
      ...optic,
      focalMm: focal,
      exitDiameterMm: across * d.between(1.3, 2),
      shiftZMm: d.between(-0.1, 0.1) * focal,
    }
  }
  if (lamp.tunnel) lamp.tunnel.inMm = Math.max(lamp.tunnel.inMm, 1.5 * face)
  return lamp
}
