// The bins of a run, from the lamp and from a small pilot trace that finds how wide the beam is.

import { fastKernel } from '../../engine/forward/wasm/fastKernel.ts'
import type { Lamp } from '../../lamp/schema.ts'
import * as P from '../../optics/params.ts'
import { tallyLayout } from '../../run/layout.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'

const RAD = Math.PI / 180
const FINE_BINS = 400
const COARSE_BINS = 340
const WINDOW = 128
const PILOT_RAYS = 8192

function shapeWith(scene: Scene, lamp: Lamp, fineHalfRad: number): TallyShape {
  const { lens, tunnel, face, reading } = lamp
  return {
    fineHalfRad,
    fineBins: FINE_BINS,
    coarseBins: COARSE_BINS,
    windowN: WINDOW,
    sphereGamma: 180,
    sphereC: 24,
    axialConeHalfRad: reading.axialConeHalfDeg * RAD,
    lens: lens ? { n: 192, halfMm: lens.diameterMm / 2, zMm: scene.params[P.lensFront]! } : null,
    wall: tunnel
      ? {
          nAlong: 128,
          nRound: 192,
          zInMm: tunnel.zInMm,
          zOutMm: tunnel.zOutMm,
          inMm: tunnel.inMm,
          outMm: tunnel.outMm,
          sides: tunnel.sides,
        }
      : null,
    face: { n: 96, halfMm: (face.sizeMm / 2) * (face.shape === 'hexagon' ? 2 / Math.sqrt(3) : 1) },
  }
}

/**
 * Bins for a run. A pilot of fixed seed finds the tenth-of-peak angle of the azimuth mean, roughly; the fine part reaches 1.6 times as
 * far, so that its profile bins are below a hundredth of the field angle and the window's below a fortieth. A function of the lamp alone.
 */
export function chooseShape(scene: Scene, lamp: Lamp): TallyShape {
  const wide = shapeWith(scene, lamp, Math.PI / 2)
  const cone = lamp.reading.axialConeHalfDeg * RAD
  if (!(scene.emittedW > 0)) return { ...wide, fineHalfRad: 30 * RAD }
  const few = shapeWithoutMaps(scene, lamp)
  const kernel = fastKernel(scene, few, { seed: 1, plainRandom: false, exitsBelow: PILOT_RAYS })
  const exits = kernel.trace(0, 0, PILOT_RAYS / 16, new Float64Array(tallyLayout(few).size))
  const thetas: number[] = []
  for (let i = 0; i < exits.length; i += 9) thetas.push(Math.acos(Math.min(1, Math.max(-1, exits[i + 5]!))))
  const reach = Math.min(89.9 * RAD, 1.6 * tenthAngle(thetas))
  // In steps of 8 %, so that a lamp being dragged mostly keeps its bins, and readers what they have worked out for them.
  return {
    ...wide,
    fineHalfRad: Math.max(4 * cone, Math.min(89.9 * RAD, 1.08 ** Math.ceil(Math.log(reach) / Math.log(1.08)))),
  }
}

/** For pilots: directions and fates are all that is wanted of them. */
export function shapeWithoutMaps(scene: Scene, lamp: Lamp): TallyShape {
  const shape = shapeWith(scene, lamp, Math.PI / 2)
  return {
    ...shape,
    windowN: 1,
    sphereGamma: 1,
    sphereC: 1,
    lens: null,
    wall: null,
    face: { ...shape.face, n: 1 },
  }
}

/** Rough angle beyond which the intensity stays under a tenth of its peak, from directions of equal weight. */
function tenthAngle(thetas: number[]): number {
  if (thetas.length < 30) return Math.PI / 4
  const sorted = thetas.sort((a, b) => a - b)
  const parts = 24
  let peak = 0
  let outermost = sorted[sorted.length - 1]!
  const density: [number, number][] = []
  for (let i = 0; i < parts; i++) {
    const from = i === 0 ? 0 : sorted[Math.floor((i * sorted.length) / parts)]!
    const to = sorted[Math.min(sorted.length - 1, Math.floor(((i + 1) * sorted.length) / parts))]!
    const share = 1 / Math.max(1e-12, Math.cos(from) - Math.cos(to))
    peak = Math.max(peak, share)
    density.push([to, share])
  }
  for (let i = parts - 1; i >= 0; i--) {
    if (density[i]![1] > 0.1 * peak) {
      outermost = density[Math.min(parts - 1, i + 1)]![0]
      break
    }
  }
  return outermost
}
