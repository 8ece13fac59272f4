// What an assembled scene adds to the device's tables: rows of elements and stretches in one uniform, and indices.
import { FRESNEL, SOLID } from '../../optics/elementKinds.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import * as P from '../../optics/params.ts'
import { NM_COUNT } from '../../optics/records.ts'
import * as RING from '../../optics/ringRow.ts'
import * as STRETCH from '../../optics/stretchRow.ts'
import { RECTANGLE } from '../../optics/wall.ts'
import { rowsOf, stepsOf } from '../../scene/assemblyViews.ts'
import type { Assembly, Scene } from '../../scene/scene.ts'

/** What the uniform has room for (shaders/kernels/assembly.wgsl): more than a document may hold. */
export const MOST_ELEMENTS = 9
export const MOST_STRETCHES = 401
/** Of an element: its row, and a vector of whole numbers. */
const ELEMENT_FLOATS = ELEMENT.size + 4
/** Of a stretch: all before its table, and whether there is a step at its upper end. */
const STRETCH_FLOATS = 4 * Math.floor((STRETCH.rhoTable + 4) / 4)

const NONE = new Float32Array(0)

/** Ring records of all lenses of a scene. */
export const ringsOf = ({ rings, assembly }: Scene): Float32Array => assembly?.rings ?? rings

/** Flat sides of the tunnel's section; 0: round. */
export function sidesOf({ params, assembly }: Scene): number {
  const sides = assembly ? (assembly.stretches[P.sides] ?? 0) : params[P.sides]!
  return sides === RECTANGLE ? 4 : sides
}

/** How much steeper the upper of two stretches may be by rounding. */
const SAME_FLARE = 1e-6

/** Whether two stretches without a step between them are convex together: the upper opens no faster. False at the top. */
function isConvex(below: Float32Array, above: Float32Array | undefined): boolean {
  if (!above) return false
  return [STRETCH.tanFlare, STRETCH.tanFlareY].every((flare) => (above[flare] ?? 0) <= (below[flare] ?? 0) + SAME_FLARE)
}

/** The uniform: elements, their parameters, stretches. */
export function assemblyRows(assembly: Assembly): Float32Array<ArrayBuffer> {
  const paramsAt = MOST_ELEMENTS * ELEMENT_FLOATS
  const stretchesAt = paramsAt + MOST_ELEMENTS * P.size
  const floats = new Float32Array(stretchesAt + MOST_STRETCHES * STRETCH_FLOATS)
  const words = new Uint32Array(floats.buffer)
  floats.set(assembly.elementParams, paramsAt)
  const bodies = rowsOf(assembly.elementParams, P.size)
  for (const [e, row] of rowsOf(assembly.elements, ELEMENT.size).entries()) {
    const at = e * ELEMENT_FLOATS
    const body = bodies[e] ?? NONE
    const pitch = body[P.lensPitch] ?? 0
    floats.set(row, at)
    words[at + ELEMENT.size] = Math.round((row[ELEMENT.ringsAt] ?? 0) / RING.size)
    words[at + ELEMENT.size + 1] = body[P.lensRings] ?? 0
    floats[at + ELEMENT.size + 2] = pitch > 0 ? 1 / pitch : 0
  }
  const stretches = rowsOf(assembly.stretches, STRETCH.size)
  const steps = stepsOf(stretches)
  const joined = stretches.map((row, i) => steps[i] === 0 && isConvex(row, stretches[i + 1]))
  for (const [i, row] of stretches.entries()) {
    const at = stretchesAt + i * STRETCH_FLOATS
    floats.set(row.subarray(0, STRETCH.rhoTable), at)
    floats[at + STRETCH.rhoTable] = steps[i] ?? 0
    words[at] = joined.indexOf(false, i)
    words[at + 1] = i === 0 ? 0 : joined.lastIndexOf(false, i - 1) + 1
  }
  return floats
}

/** What the shader is made for: kinds of elements (three bits each), which are turned, which are round pieces; whether any is solid, grooved. */
export function makeOfElements({ elements, elementParams }: Assembly) {
  const rows = rowsOf(elements, ELEMENT.size)
  const bits = (width: number, of: (row: Float32Array, i: number) => number) =>
    rows.reduce((sum, row, i) => sum + of(row, i) * 2 ** (width * i), 0)
  const has = (kind: number) => rows.some((row) => row[ELEMENT.kind] === kind)
  return {
    solid: has(SOLID),
    grooved: has(FRESNEL),
    constants: {
      ELEMENT_KINDS: bits(3, (row) => row[ELEMENT.kind] ?? 0),
      TURNED: bits(1, (row) => ((row[ELEMENT.turned] ?? 0) > 0 ? 1 : 0)),
      ROUND_PIECES: bits(1, (_, i) => (elementParams[i * P.size + P.lensSquare] === 3 ? 1 : 0)),
    },
  }
}

/** Refractive indices of the elements, each with the next: NM_COUNT pairs an element. */
export function indexPairs({ assembly }: Scene): Float32Array {
  const table = assembly?.elementIndex ?? NONE
  const pairs = new Float32Array(2 * table.length)
  for (let i = 0; i < table.length; i++) {
    const isLast = i % NM_COUNT === NM_COUNT - 1
    pairs.set([table[i]!, table[isLast ? i : i + 1]!], 2 * i)
  }
  return pairs
}
