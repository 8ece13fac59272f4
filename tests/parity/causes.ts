// Why a ray ends elsewhere on the device: is it one that single precision can't follow? The processor traces it again with the ray's own numbers
// kept in single precision (its arithmetic stays double), from places a rounding apart. Where such a ray ends elsewhere too, the rounding is the
// cause, whoever traces; how it came about is read from the corners of the paths.
import { makeKernel } from '../../src/engine/forward/kernel.ts'
import * as E from '../../src/optics/emitterRow.ts'
import * as P from '../../src/optics/params.ts'
import { RAY_SIZE } from '../../src/optics/records.ts'
import * as RING from '../../src/optics/ringRow.ts'
import { BATCHES, type TallyShape } from '../../src/run/types.ts'
import type { Assembly, Scene } from '../../src/scene/scene.ts'

/** How far two ways of the same ray may be apart in single precision, mm. */
export const POSITION_MM = 2e-3

export const CAUSES = [
  'rounding decides at an edge, a riser or by a draw',
  'rounding grows from bounce to bounce',
  'rounding of a grazing ray, at once',
  'not seen on the processor',
] as const
export type Cause = (typeof CAUSES)[number]

interface Path {
  fate: number
  corners: number[][]
}

type Tracer = (batch: number, index: number) => Path

export const SINGLES = 12

function tracer(scene: Scene, shape: TallyShape, seed: number, single: boolean): Tracer {
  const options = { seed, plainRandom: false, exitsBelow: 0 }
  const slots = single ? (new Float32Array(RAY_SIZE) as unknown as Float64Array) : new Float64Array(RAY_SIZE)
  const kernel = makeKernel(scene, shape, options, slots)
  return (batch, index) => {
    const path: Path = { fate: 0, corners: [] }
    kernel.retrace(batch, index, {
      point: (x, y, z) => {
        path.corners.push([x, y, z])
      },
      stops: () => false,
      end: (fate) => {
        path.fate = fate
      },
    })
    return path
  }
}

/** The scene with its light and its grooves moved by about one rounding of a place in the lamp. */
export function moved(scene: Scene, k: number): Scene {
  const emitters = scene.emitters.slice()
  const params = scene.params.slice()
  const by = 4e-6 * (k % 2 === 0 ? 1 : -1)
  for (let e = 0; e < params[P.emitters]!; e++) {
    emitters[e * E.size + E.x]! += by * (1 + (k & 2))
    emitters[e * E.size + E.y]! -= by * (1 + (k & 4))
  }
  const share = 1.2e-7 * ((k % 3) - 1)
  params[P.sunRadius]! *= 1 + (k - SINGLES / 2) * 6e-8
  // Within the grooves the walk holds places in locals, which stay double here: the grooves move instead.
  params[P.lensPitch]! *= 1 + share
  const rings = scene.rings.map((v, i) => (i % RING.size === RING.sin ? v * (1 - share) : v))
  const assembly = scene.assembly && movedAssembly(scene.assembly, share)
  return { ...scene, emitters, params, rings, assembly }
}

/** The same of an assembly: its pieces, grooves and curved sides, which stand in frames of their own. */
function movedAssembly(assembly: Assembly, share: number): Assembly {
  const elementParams = assembly.elementParams.slice()
  for (let at = 0; at < elementParams.length; at += P.size)
    for (const field of [P.lensHalf, P.lensHalfY, P.lensPitch, P.lensCurvature, P.lensThickness])
      elementParams[at + field]! *= 1 + share
  const rings = assembly.rings.map((v, i) => (i % RING.size === RING.sin ? v * (1 - share) : v))
  return { ...assembly, elementParams, rings }
}

export function makeCauses(scene: Scene, shape: TallyShape, seed: number): (id: number) => Cause {
  let exact: Tracer | null = null
  let singles: Tracer[] = []
  return (id) => {
    exact ??= tracer(scene, shape, seed, false)
    if (singles.length === 0)
      singles = Array.from({ length: SINGLES }, (_, k) => tracer(moved(scene, k), shape, seed, true))
    const [batch, index] = [id % BATCHES, Math.floor(id / BATCHES)]
    const own = exact(batch, index)
    for (const single of singles) {
      const other = single(batch, index)
      if (other.fate !== own.fate || endApart(own, other) > endAllowed(own)) return howOf(own, other)
    }
    return CAUSES[3]
  }
}

const distance = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!)
const endApart = (a: Path, b: Path) => distance(a.corners.at(-1)!, b.corners.at(-1)!)
/** Half the tolerance: two roundings of one ray may fall to either side of the exact one. */
const endAllowed = (path: Path) =>
  (POSITION_MM / 2) * Math.max(1, Math.hypot(...(path.corners.at(-1) as [number, number, number])) / 100)

/** A gap that opens by more than this within one chunk is no growth: the two took different ways. */
const FORK = 300
const FEW_CORNERS = 4

function howOf(own: Path, other: Path): Cause {
  const n = Math.min(own.corners.length, other.corners.length)
  let before = 1e-5
  for (let i = 1; i < n; i++) {
    const gap = distance(own.corners[i]!, other.corners[i]!)
    if (gap > FORK * before && gap > 0.1) return CAUSES[0]
    before = Math.max(before, gap)
  }
  if (own.fate !== other.fate || own.corners.length !== other.corners.length) return CAUSES[0]
  return own.corners.length <= FEW_CORNERS ? CAUSES[2] : CAUSES[1]
}
