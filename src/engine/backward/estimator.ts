// The adjoint estimate: from a direction, or from a place in front of the lamp, back through its outermost opening to the emitters.
// Towards a direction ω: I = ∫ L(x, ω) cosθ dA over the opening. At a place on a plane square to the axis: E = ∫ L cosθ cosθ' / d² dA.
// Reference: E. Veach, Robust Monte Carlo Methods for Light Transport Simulation (1997), ch. 4 and 5 (importance and its transport).

import { meetsBoard } from '../../optics/boards.ts'
import { profileDensity } from '../../optics/density.ts'
import { draw, SOBOL_DIMENSIONS, seedStream } from '../../optics/draws.ts'
import { whichEmitter } from '../../optics/emission.ts'
import { enterFrame, leaveFrame } from '../../optics/emitterFrame.ts'
import * as E from '../../optics/emitterRow.ts'
import * as Draw from '../../optics/firstDraws.ts'
import * as FRAME from '../../optics/frameRow.ts'
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import { DX, DY, DZ, LOSS, LUM, NX, NY, NZ, RAY_SIZE, TX, TY, W, X, Y, Z } from '../../optics/records.ts'
import { scrambleOf } from '../../optics/scrambles.ts'
import { sobolAt, sobolStep, sobolUnits } from '../../optics/sobol.ts'
import { turnOf } from '../../optics/turn.ts'
import type { Assembly, Scene } from '../../scene/scene.ts'
import type { Aim } from './aim.ts'
import { makeAssembledOpening } from './assembledOpening.ts'
import { makeAssembledBackwardWalk } from './assembledWalk.ts'
import { makeOpening, type Opening } from './openings.ts'
import { makeRadiance } from './radiance.ts'
import { findSources, type Sources } from './sources.ts'
import { makeSpectra } from './spectrum.ts'
import { type BackwardWalk, makeBackwardWalk } from './walk.ts'

/** Sums over the rays of a chunk. The first two are whole numbers: added in any order, the bits are the same. */
export const SUM_LM = 0
export const SUM_W = 1
/** Rays that met an emitter, and the sum of their squared luminous scores. */
export const SUM_HITS = 2
export const SUM_SQUARES = 3
export const SUMS = 4

export interface BackwardKernel {
  /** Trace rays [from, to) of a batch, adding to `sums`. */
  traceBatch(batch: number, from: number, to: number, sums: Float64Array): void
  /** cd (or lx) and W/sr (or W/m²) for a mean of 1 of the sums over the rays. */
  perLm: number
  perW: number
}

/** Sums hold scores in steps of the nominal one over this: whole numbers stay exact up to 2⁵³. */
const STEPS_PER_NOMINAL = 2 ** 26

/** Where the ray in flight and its stream are stored. */
export interface RaySlots {
  ray: Float64Array
  stream: Int32Array
}

/**
 * `sources` may be passed in when several aims share one scene. `slots`: for the check of another engine, which reads how each ray has ended, and for
 * tests, which store a ray in single precision to see what that does to it.
 */
export function makeBackwardKernel(
  scene: Scene,
  aim: Aim,
  seed: number,
  sources: Sources = findSources(scene),
  slots: RaySlots = { ray: new Float64Array(RAY_SIZE), stream: new Int32Array(3) },
): BackwardKernel {
  const { emitters, frames, boards, kinds, profiles, params: p } = scene
  const { ray, stream } = slots
  const point = new Int32Array(SOBOL_DIMENSIONS)
  const first = new Float64Array(SOBOL_DIMENSIONS)
  const own = new Float64Array(RAY_SIZE)
  const spectra = makeSpectra(scene, sources.share)
  const score = makeRadiance(scene, sources, spectra, ray, stream)
  const { opening, walk } = scene.assembly
    ? makeAssembled(scene, scene.assembly)
    : {
        opening: makeOpening(scene, ray, stream, first, slantOf(aim, p)),
        walk: makeBackwardWalk(scene, ray, stream, score),
      }
  const sampleAim = makeAimSampler(aim, ray, first)
  const perScore = stepsPerScore(sources, opening.areaMm2, aim)
  const curved = p[P.lensKind]! === 2 && p[P.lensSign]! > 0
  const vertexZ = p[P.lensZ]!

  function makeAssembled(of: Scene, assembly: Assembly): { opening: Opening; walk: BackwardWalk } {
    const opening = makeAssembledOpening(assembly, ray, stream, first, aim)
    const walk = makeAssembledBackwardWalk(of, assembly, ray, stream, score)
    return { opening, walk: () => walk(opening.zLocal()) }
  }

  /** Light that leaves the lamp as it leaves its emitter or cup: one emitter, drawn by its share. */
  function traceOpen(): number {
    const i = whichEmitter(draw(stream), emitters, sources.count)
    if (sources.direct[i] === 0) return 0
    const kind = emitters[i * E.size + E.kind]! * KIND.size
    const cos = emitters[i * E.size + E.cos]!
    const sin = emitters[i * E.size + E.sin]!
    const cup = sources.cup[i]! > 0
    let u: number
    let v: number
    let areaMm2 = 1
    turnOf(ray, first[Draw.pointV]!)
    if (cup || kinds[kind + KIND.disc]! > 0) {
      const half = cup ? 0.5 * kinds[kind + KIND.cupExit]! : kinds[kind + KIND.halfX]!
      const r = Math.sqrt(first[Draw.pointU]!) * half
      areaMm2 = Math.PI * half * half
      u = r * ray[TX]!
      v = r * ray[TY]!
    } else {
      u = (2 * first[Draw.pointU]! - 1) * kinds[kind + KIND.halfX]!
      v = (2 * first[Draw.pointV]! - 1) * kinds[kind + KIND.halfY]!
    }
    ray[X] = sources.atX[i]! + cos * u - sin * v
    ray[Y] = sources.atY[i]! + sin * u + cos * v
    ray[Z] = sources.planeZ[i]!
    if (sources.tilted) return traceTilted(i, kind, areaMm2)
    const pointWeight = sampleAim()
    const dz = ray[DZ]!
    if (!(dz > 0)) return 0
    if (!cup) {
      const dx = ray[DX]!
      const dy = ray[DY]!
      const density = profileDensity(kinds, kind, profiles, cos * dx + sin * dy, cos * dy - sin * dx, dz)
      return pointWeight * kinds[kind + KIND.efficiency]! * density * spectra.ratio[spectra.of[i]!]!
    }
    turnBack()
    ray[W] = 1
    score.sum = 0
    score.intoCup(i, ray)
    return (pointWeight * areaMm2 * dz * score.sum) / sources.share[i]!
  }

  /** The same of the patch that the ray stands on in the frame of a tilted emitter. */
  function traceTilted(i: number, kind: number, areaMm2: number): number {
    ray[DX] = 0
    ray[DY] = 0
    ray[DZ] = 1
    leaveFrame(ray, frames, i * FRAME.size)
    const pointWeight = sampleAim()
    if (!(ray[DZ]! > 0) || ray[Z]! < 0 || (boards.length > 0 && meetsBoard(ray, p, boards))) return 0
    enterFrame(own, ray, frames, i * FRAME.size)
    const dz = own[DZ]!
    if (!(dz > 0)) return 0
    if (sources.cup[i] === 0) {
      const density = profileDensity(kinds, kind, profiles, own[DX]!, own[DY]!, dz)
      return pointWeight * kinds[kind + KIND.efficiency]! * density * spectra.ratio[spectra.of[i]!]!
    }
    own[DX] = -own[DX]!
    own[DY] = -own[DY]!
    own[DZ] = -dz
    own[W] = 1
    score.sum = 0
    score.intoCup(i, own)
    return (pointWeight * areaMm2 * dz * score.sum) / sources.share[i]!
  }

  function traceOpening(): number {
    opening.choose()
    if (ray[LOSS] === 0) return 0
    const nx = ray[NX]!
    const ny = ray[NY]!
    const nz = ray[NZ]!
    const pointWeight = sampleAim()
    const cos = ray[DX]! * nx + ray[DY]! * ny + ray[DZ]! * nz
    if (!(cos > 0) || !(ray[DZ]! > 0) || opening.leaves?.() === false) return 0
    if (curved) {
      // passSolid takes a ray in the vertex plane.
      const s = (vertexZ - ray[Z]!) / ray[DZ]!
      ray[X]! += s * ray[DX]!
      ray[Y]! += s * ray[DY]!
      ray[Z] = vertexZ
    }
    const scale = pointWeight * cos * ray[LOSS]!
    ray[NX] = nx
    ray[NY] = ny
    ray[NZ] = nz
    turnBack()
    ray[W] = 1
    score.sum = 0
    walk()
    return scale * score.sum
  }

  function turnBack(): void {
    ray[DX] = -ray[DX]!
    ray[DY] = -ray[DY]!
    ray[DZ] = -ray[DZ]!
  }

  let numbers: Int32Array = new Int32Array(0)
  let numbersOf = -1
  const perMm2 = aim.kind === 'disc' ? 1e6 : 1
  return {
    perLm: spectra.meanLum > 0 ? (perMm2 * scene.emittedLm) / spectra.meanLum / perScore : 0,
    perW: (perMm2 * scene.emittedW) / perScore,
    traceBatch(batch, from, to, sums) {
      if (numbersOf !== batch) {
        numbers = scrambleOf(seed, batch)
        numbersOf = batch
      }
      for (let j = from; j < to; j++) {
        if (j === from) sobolAt(point, numbers, j)
        else sobolStep(point, numbers, j)
        seedStream(stream, seed, batch, j)
        sobolUnits(first, point)
        spectra.choose(ray, first[Draw.wavelength]!)
        let met = sources.planes.length > 0 || sources.tilted ? traceOpening() : 0
        if (sources.open) met += traceOpen()
        if (met === 0) continue
        const lm = met * ray[LUM]! * perScore
        sums[SUM_LM]! += Math.round(lm)
        sums[SUM_W]! += Math.round(met * perScore)
        sums[SUM_HITS]! += 1
        sums[SUM_SQUARES]! += lm * lm
      }
    },
  }
}

/** Steps of the sums in a score of 1. */
export const stepsPerScore = (sources: Sources, areaMm2: number, aim: Aim): number =>
  STEPS_PER_NOMINAL / nominalScore(sources, areaMm2, aim)

/** A usual score, for the step of the sums: a function of scene and aim alone. */
function nominalScore(sources: Sources, areaMm2: number, aim: Aim): number {
  let most = 0
  for (const r of sources.radiance) most = Math.max(most, r)
  const size = sources.planes.length > 0 || (sources.tilted && !sources.open) ? areaMm2 * most : 1
  const far = aim.kind === 'disc' ? Math.max(1, Math.hypot(aim.xMm, aim.yMm, aim.zMm)) ** 2 : 1
  return size > 0 ? size / Math.PI / far : 1
}

/** Sine of the steepest angle to the axis that the aim's light has, roughly. */
export function slantOf(aim: Aim, p: Float32Array): number {
  if (aim.kind === 'cone' || aim.kind === 'ring') return Math.sin(Math.min(Math.PI / 2, aim.thetaRad + aim.halfRad))
  if (aim.kind === 'band') return Math.sin(Math.min(Math.PI / 2, aim.toRad))
  const across = Math.hypot(aim.xMm, aim.yMm) + aim.discMm / 2 + p[P.lensHalf]!
  return across / Math.hypot(across, aim.zMm - p[P.lensBack]!)
}

/** The directions of an aim: 1 − cos of the angle to their axis (even over solid angle) from where and how far, and the axis. */
export function directionsOf(aim: Exclude<Aim, { kind: 'disc' }>) {
  const band = aim.kind === 'band'
  const fromC = band ? 2 * Math.sin(aim.fromRad / 2) ** 2 : 0
  const theta = band ? 0 : aim.thetaRad
  const phi = aim.kind === 'cone' ? aim.phiRad : 0
  return {
    fromC,
    widthC: 2 * Math.sin((band ? aim.toRad : aim.halfRad) / 2) ** 2 - fromC,
    ...{ cosTheta: Math.cos(theta), sinTheta: Math.sin(theta), cosPhi: Math.cos(phi), sinPhi: Math.sin(phi) },
  }
}

/**
 * Puts a direction of the aim into the ray's direction slots, seen from where the ray stands; gives what the point counts for besides
 * area and its own cosine.
 */
function makeAimSampler(aim: Aim, ray: Float64Array, first: Float64Array): () => number {
  if (aim.kind === 'disc') {
    const half = aim.discMm / 2
    return () => {
      turnOf(ray, first[Draw.azimuth]!)
      const r = Math.sqrt(first[Draw.polar]!) * half
      const dx = aim.xMm + r * ray[TX]! - ray[X]!
      const dy = aim.yMm + r * ray[TY]! - ray[Y]!
      const dz = aim.zMm - ray[Z]!
      const d2 = dx * dx + dy * dy + dz * dz
      const d = Math.sqrt(d2)
      ray[DX] = dx / d
      ray[DY] = dy / d
      ray[DZ] = dz / d
      return ray[DZ]! / d2
    }
  }
  const { fromC, widthC, cosTheta, sinTheta, ...turned } = directionsOf(aim)
  let { cosPhi, sinPhi } = turned
  return () => {
    const c = fromC + first[Draw.polar]! * widthC
    const sin = Math.sqrt(c * (2 - c))
    turnOf(ray, first[Draw.azimuth]!)
    const a = sin * ray[TX]!
    const b = sin * ray[TY]!
    if (aim.kind === 'ring') {
      turnOf(ray, first[Draw.whichEmitter]!)
      cosPhi = ray[TX]!
      sinPhi = ray[TY]!
    }
    const out = (1 - c) * sinTheta + a * cosTheta
    ray[DX] = out * cosPhi - b * sinPhi
    ray[DY] = out * sinPhi + b * cosPhi
    ray[DZ] = (1 - c) * cosTheta - a * sinTheta
    return 1
  }
}
