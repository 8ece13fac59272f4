// The bins of a run, from the lamp and from a small pilot trace that finds how wide the beam is.

import { targetCells } from '../../beam/target.ts'
import { backwardEstimate } from '../../engine/backward/estimate.ts'
import { backwardUnsupported } from '../../engine/backward/sources.ts'
import { fastKernel } from '../../engine/forward/wasm/fastKernel.ts'
import {
  elementsOf,
  isRectangle,
  mappedElement,
  pieceHalves,
  type RowElement,
  stretchesOf,
  unmappedElements,
  unroll,
} from '../../lamp/assembly.ts'
import { bodyPlanes, fromFrame, rotationOf } from '../../lamp/body.ts'
import { halfExtents } from '../../lamp/facePlate.ts'
import type { Lamp } from '../../lamp/schema.ts'
import * as P from '../../optics/params.ts'
import { tallyLayout } from '../../run/layout.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'

const RAD = Math.PI / 180
const FINE_BINS = 400
const COARSE_BINS = 340
const WINDOW = 128
const LENS_CELLS = 192
/** Few steps, so that a lamp being dragged mostly keeps its arrays. */
const ELEMENT_CELLS = [64, 96, 128]
const PILOT_RAYS = 8192
const PILOT_EACH = PILOT_RAYS / BATCHES
/** Backward rays towards the axis: is it far brighter than the pilot's rays say? */
const AXIS_RAYS = 128
const FAR_BRIGHTER = 3
/** Parts of equal light for a rough profile; of so few rays where a narrow peak hides in a broad beam. */
const PARTS = 24
const RAYS_A_FINE_PART = 10
/** Where no backward ray can look along the axis: parts of so many rays, known to a sixth. */
const RAYS_A_SURE_PART = 40

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
    target: targetCells(lamp),
    lens: scene.assembly
      ? lensMap(lamp)
      : lens
        ? { n: LENS_CELLS, halfMm: lens.diameterMm / 2, zMm: scene.params[P.lensFront]! }
        : null,
    wall: tunnel
      ? {
          nAlong: 128,
          nRound: 192,
          zInMm: tunnel.zInMm,
          zOutMm: tunnel.zOutMm,
          inMm: tunnel.inMm,
          outMm: tunnel.outMm,
          sides: tunnel.sides,
          ...(scene.assembly ? { profile: { rectangle: isRectangle(tunnel), ...unroll(stretchesOf(tunnel)) } } : {}),
        }
      : null,
    face: { n: 96, halfMm: Math.max(...halfExtents(face)) },
    ...elementMaps(lamp),
    ...(scene.assembly
      ? { parts: { stretches: tunnel ? stretchesOf(tunnel).length : 0, elements: elementsOf(lamp).length } }
      : {}),
  }
}

/** Of the lens, or without one of the first element: the square about its piece, on its front plane. */
function lensMap(lamp: Lamp): TallyShape['lens'] {
  const piece = mappedElement(lamp)
  return piece && { n: LENS_CELLS, ...pieceMap(piece) }
}

/** Of the others: cells of a quarter of the hot spots' disc and less, but no smaller than those of the lens's map would be. */
function elementMaps(lamp: Lamp): Pick<TallyShape, 'elements'> {
  const maps = unmappedElements(lamp).map(pieceMap)
  if (maps.length === 0) return {}
  const wanted = (8 * Math.max(...maps.map((m) => m.halfMm))) / lamp.reading.hotDiscMm
  return { elements: { n: ELEMENT_CELLS.find((n) => n >= wanted) ?? LENS_CELLS, maps } }
}

function pieceMap(piece: RowElement) {
  const { xMm, yMm } = pieceHalves(piece)
  const [front] = bodyPlanes(piece)
  const originMm = fromFrame(piece, [0, 0, front])
  return { halfMm: Math.max(xMm, yMm), zMm: originMm[2], frame: { originMm, rotation: rotationOf(piece) } }
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
  const exits = kernel.trace(0, 0, PILOT_EACH, new Float64Array(tallyLayout(few).size))
  const thetas: number[] = []
  for (let i = 0; i < exits.length; i += 9) thetas.push(Math.acos(Math.min(1, Math.max(-1, exits[i + 5]!))))
  const passed = (thetas.length * scene.emittedLm) / PILOT_EACH
  const rough = 1.6 * tenthAngle(thetas)
  // Where bins resolve the cone, nothing narrower can be seen.
  const coarse = rough / FINE_BINS > cone / 2
  const axis = (): number =>
    backwardUnsupported(scene).length > 0 ? densestPart(thetas) : (2 * Math.PI * axisCd(scene, cone)) / passed
  const fine = coarse ? 1.6 * tenthAngle(thetas, axis()) : rough
  const reach = Math.min(89.9 * RAD, fine)
  // In steps of 8 %, so that a lamp being dragged mostly keeps its bins, and readers what they have worked out for them.
  return {
    ...wide,
    fineHalfRad: Math.max(4 * cone, Math.min(89.9 * RAD, 1.08 ** Math.ceil(Math.log(reach) / Math.log(1.08)))),
  }
}

/** For pilots: directions and fates are all that is wanted of them. */
export function shapeWithoutMaps(scene: Scene, lamp: Lamp): TallyShape {
  const { elements: _, ...shape } = shapeWith(scene, lamp, Math.PI / 2)
  return {
    ...shape,
    windowN: 1,
    sphereGamma: 1,
    sphereC: 1,
    target: { ...shape.target, n: 1 },
    lens: null,
    wall: null,
    face: { ...shape.face, n: 1 },
  }
}

/** Axial intensity from a few backward rays, cd. */
function axisCd(scene: Scene, halfRad: number): number {
  return backwardEstimate(scene, { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad }, { seed: 1, rays: AXIS_RAYS }).value
}

/**
 * Rough angle, rad, beyond which the intensity stays under a tenth of its peak, from directions of equal weight. `axis`: intensity on the
 * axis as share of the light over 1 − cosθ, where it is known otherwise.
 */
function tenthAngle(thetas: number[], axis = 0): number {
  if (thetas.length < 30) return Math.PI / 4
  const sorted = thetas.sort((a, b) => a - b)
  const rough = densities(sorted, PARTS)
  const peak = Math.max(...rough.map(([, density]) => density))
  if (!(axis > FAR_BRIGHTER * peak)) return outermostAbove(rough, 0.1 * peak, sorted.at(-1)!)
  const fine = densities(sorted, Math.ceil(sorted.length / RAYS_A_FINE_PART))
  return outermostAbove(fine, 0.1 * axis, fine[0]![0])
}

/** The greatest intensity of parts of a few rays each, as share of the light over 1 − cosθ; 0 where there are too few for one. */
export function densestPart(thetas: number[]): number {
  const parts = Math.floor(thetas.length / RAYS_A_SURE_PART)
  if (parts === 0) return 0
  return Math.max(
    ...densities(
      thetas.sort((a, b) => a - b),
      parts,
    ).map(([, density]) => density),
  )
}

/** Parts of equal counts: outer edge (rad) and density, share of the light over 1 − cosθ. */
function densities(sorted: number[], parts: number): [number, number][] {
  return Array.from({ length: parts }, (_, i) => {
    const from = i === 0 ? 0 : sorted[Math.floor((i * sorted.length) / parts)]!
    const to = sorted[Math.min(sorted.length - 1, Math.floor(((i + 1) * sorted.length) / parts))]!
    return [to, 1 / parts / Math.max(1e-12, Math.cos(from) - Math.cos(to))]
  })
}

/** The outer edge of the part after the last that is above the level. */
function outermostAbove(parts: [number, number][], level: number, none: number): number {
  const last = parts.findLastIndex(([, density]) => density > level)
  return last < 0 ? none : parts[Math.min(parts.length - 1, last + 1)]![0]
}
