// What of the light stays in the lamp as heat: from a beam sheet's ledger, or, before there is one, from a small pilot trace.

import type { RetainedLight } from '../../electrothermal/result.ts'
import { fastKernel } from '../../engine/forward/wasm/fastKernel.ts'
import { solveOperatingPoint } from '../../heat/operating.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { tallyLayout } from '../../run/layout.ts'
import { FATES } from '../../run/types.ts'
import { compile } from '../../scene/compile.ts'
import { shapeWithoutMaps } from './pilot.ts'

/** Of a beam sheet's ledger, or of a pilot. */
export type LedgerLine = { line: string; w: number }

/**
 * Partials of the emitted watts that stay in the lamp, from a beam sheet's ledger. What was lost after the lens had sent it back has one line,
 * wherever it ended: all of it counts as falling on the face, the hotter side. So does what was given up at the bounce limit.
 */
export function retainedFromLedger(ledger: readonly LedgerLine[]): RetainedLight {
  const all = ledger.reduce((sum, l) => sum + l.w, 0)
  const of = (...lines: string[]) =>
    all > 0 ? Math.max(0, ledger.reduce((sum, l) => sum + (lines.includes(l.line) ? l.w : 0), 0) / all) : 0
  return {
    face: of('face', 'behindFace', 'lensReturnedLost', 'limit'),
    optics: of('opticLoss', 'blocked'),
    wall: of('wall'),
    traced: true,
  }
}

/** Partials come out within half a per cent of the light (tests/job/powerLight): less than a hundredth of a lamp's heat. */
const PILOT_RAYS = 8192

/** The same for a function of the lamp alone, at the light the emitters are rated for. A lamp without light keeps none. */
export function retainedByPilot(lamp: Lamp): RetainedLight {
  const scene = compile(lamp, solveOperatingPoint({ ...lamp, heat: { kind: 'rated' } }))
  if (!(scene.emittedW > 0)) return { face: 0, optics: 0, wall: 0, traced: true }
  const shape = shapeWithoutMaps(scene, lamp)
  const layout = tallyLayout(shape)
  const tally = new Float64Array(layout.size)
  fastKernel(scene, shape, { seed: 1, plainRandom: false, exitsBelow: 0 }).trace(0, 0, PILOT_RAYS, tally)
  return retainedFromLedger(FATES.map((line, i) => ({ line, w: tally[layout.fateW + i]! })))
}
