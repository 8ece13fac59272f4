// The same backward rays on both engines, ray by ray: the draws they took, where and how they ended, and what they scored.
import type { Aim } from '../../src/engine/backward/aim.ts'
import {
  BACK_DRAWS,
  BACK_SCORE,
  BACK_WEIGHT,
  type BackwardEnd,
  backwardEnds,
} from '../../src/engine/gpu/backwardCheck.ts'
import { prepareBackward } from '../../src/engine/gpu/backwardEngine.ts'
import type { BackwardTracer } from '../../src/engine/gpu/backwardTracer.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { RECORD_FLOATS } from '../../src/engine/gpu/readBack.ts'
import * as P from '../../src/optics/params.ts'
import { RAY_SIZE, W } from '../../src/optics/records.ts'
import { BATCHES, type TallyShape } from '../../src/run/types.ts'
import type { Scene } from '../../src/scene/scene.ts'
import { apart, DIRECTION, WEIGHT } from './bothEngines.ts'
import { moved, POSITION_MM, SINGLES } from './causes.ts'

/** A score has a profile's slope, a wall's odds and an emitter's cosine in it: a part of it, and steps of 2⁻²⁶ of a usual one. */
const SCORE = 1e-3
const SCORE_STEPS = 64

export const DIFFERENCES = ['draws', 'place', 'direction', 'weight', 'score'] as const
type BackDifference = (typeof DIFFERENCES)[number]

export const BACK_CAUSES = [
  'the processor loses it too once it keeps the ray in single precision',
  'the same way, off by more and more over many bounces',
  'not seen on the processor',
] as const
type BackCause = (typeof BACK_CAUSES)[number]
/** So many draws are many bounces, and so far has a place grown off at most, in tolerances. */
const MANY_DRAWS = 8 + 10
const GROWN = 10

export interface ComparedLooks {
  rays: number
  /** Rays whose score is not 0 on the processor. */
  scored: number
  differs: Record<BackDifference, number>
  other: number
  /** What those come from. */
  causes: Record<BackCause, number>
  worst: { ray: number; of: BackDifference; cause: BackCause; cpu: number[]; gpu: number[] }[]
}

export const SEED = 7

export async function lookoutOf(
  machine: Machine,
  scene: Scene,
  shape: TallyShape,
  seed = SEED,
): Promise<BackwardTracer> {
  const prepared = await prepareBackward(machine, scene, shape, seed)
  if (!prepared.ok) throw new Error(prepared.why)
  return prepared.backwardTracer
}

export async function compareLooks(
  backwardTracer: BackwardTracer,
  scene: Scene,
  aim: Aim,
  perBatch: number,
): Promise<ComparedLooks> {
  const { records } = await backwardTracer.probe(aim, 0, perBatch)
  const endOf = backwardEnds(scene, aim, SEED)
  const explains = singlePrecision(scene, aim)
  const found: ComparedLooks = {
    rays: perBatch * BATCHES,
    scored: 0,
    differs: { draws: 0, place: 0, direction: 0, weight: 0, score: 0 },
    other: 0,
    causes: Object.fromEntries(BACK_CAUSES.map((cause) => [cause, 0])) as Record<BackCause, number>,
    worst: [],
  }
  for (let id = 0; id < found.rays; id++) {
    const own = endOf(id % BATCHES, Math.floor(id / BATCHES))
    if (own.score > 0) found.scored++
    const gpu = records.subarray(id * RECORD_FLOATS, (id + 1) * RECORD_FLOATS)
    const other = { ...own, ray: rayOf(gpu), draws: gpu[BACK_DRAWS]!, score: gpu[BACK_SCORE]! }
    const of = difference(scene, own, other, 1)
    if (!of) continue
    found.other++
    found.differs[of]++
    const exact = { ...own, ray: own.ray.slice() }
    const grown = of === 'place' && own.draws >= MANY_DRAWS && difference(scene, own, other, GROWN) === null
    const cause = BACK_CAUSES[explains(id, exact) ? 0 : grown ? 1 : 2]
    found.causes[cause]++
    const cpu = [exact.draws, exact.score, ...exact.ray.subarray(0, 9)]
    if (found.worst.length < 6)
      found.worst.push({ ray: id, of, cause, cpu, gpu: [other.draws, other.score, ...other.ray.subarray(0, 9)] })
  }
  return found
}

/** The record's first numbers lie as the slots of a ray do, but for the weight's neighbours. */
function rayOf(record: Float32Array): Float64Array {
  const ray = new Float64Array(RAY_SIZE)
  ray.set(record.subarray(0, 6))
  ray[W] = record[BACK_WEIGHT]!
  return ray
}

function difference(scene: Scene, own: BackwardEnd, other: BackwardEnd, part: number): BackDifference | null {
  const [a, b] = [own.ray, other.ray]
  if (own.draws !== other.draws) return 'draws'
  if (Math.abs(a[W]! - b[W]!) > part * WEIGHT * Math.max(1, a[W]!)) return 'weight'
  if (Math.abs(own.score - other.score) > part * (SCORE * own.score + SCORE_STEPS)) return 'score'
  // The processor leaves a ray that ends inside a lens where it entered.
  const p = scene.params
  const inLens = p[P.lensKind]! > 0 && Math.max(a[2]!, b[2]!) > p[P.lensFront]! - 1e-3
  if (inLens) return null
  const [off, along] = apart(a, b)
  const scale = Math.max(1, Math.hypot(a[0]!, a[1]!, a[2]!) / 100)
  if (off > part * POSITION_MM * scale + DIRECTION * along) return 'place'
  return Math.hypot(a[3]! - b[3]!, a[4]! - b[4]!, a[5]! - b[5]!) > part * DIRECTION ? 'direction' : null
}

/** Whether the processor loses the ray as well when it keeps it in single precision, from places a rounding apart (causes.ts). */
function singlePrecision(scene: Scene, aim: Aim): (id: number, own: BackwardEnd) => boolean {
  let singles: ReturnType<typeof backwardEnds>[] = []
  return (id, own) => {
    if (singles.length === 0)
      singles = Array.from({ length: SINGLES }, (_, k) =>
        backwardEnds(moved(scene, k), aim, SEED, new Float32Array(RAY_SIZE) as unknown as Float64Array),
      )
    return singles.some((endOf) => difference(scene, own, endOf(id % BATCHES, Math.floor(id / BATCHES)), 0.5) !== null)
  }
}
