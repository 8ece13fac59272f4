// What an assembled scene adds to the device's tables: rows of elements, parameters of each, rows of stretches, indices.
import * as ELEMENT from '../../optics/elementRow.ts'
import * as P from '../../optics/params.ts'
import { NM_COUNT } from '../../optics/records.ts'
import * as RING from '../../optics/ringRow.ts'
import * as STRETCH from '../../optics/stretchRow.ts'
import { RECTANGLE } from '../../optics/wall.ts'
import type { Scene } from '../../scene/scene.ts'
import { hasStep } from '../forward/assembledWalk.ts'

/** Vectors of an element: its row, and one of whole numbers (shaders/kernels/assembly.wgsl). */
const ELEMENT_FLOATS = ELEMENT.size + 4

const NONE = new Float32Array(0)

/** Ring records of all lenses of a scene. */
export const ringsOf = ({ rings, assembly }: Scene): Float32Array => assembly?.rings ?? rings

/** Flat sides of the tunnel's section; 0: round. */
export function sidesOf({ params, assembly }: Scene): number {
  const sides = assembly ? (assembly.stretches[P.sides] ?? 0) : params[P.sides]!
  return sides === RECTANGLE ? 4 : sides
}

/** The elements, each with its kind, first ring, number of rings and bits of 1/pitch as whole numbers; empty for a plain scene. */
export function elementQuads({ assembly }: Scene): Float32Array {
  if (!assembly) return NONE
  const { elements, elementParams } = assembly
  const count = elements.length / ELEMENT.size
  const floats = new Float32Array(count * ELEMENT_FLOATS)
  const words = new Uint32Array(floats.buffer)
  for (let e = 0; e < count; e++) {
    const at = e * ELEMENT_FLOATS
    const row = elements.subarray(e * ELEMENT.size, (e + 1) * ELEMENT.size)
    const params = elementParams.subarray(e * P.size, (e + 1) * P.size)
    const pitch = params[P.lensPitch]!
    floats.set(row, at)
    words.set(
      [row[ELEMENT.kind]!, Math.round(row[ELEMENT.ringsAt]! / RING.size), params[P.lensRings]!],
      at + ELEMENT.size,
    )
    floats[at + ELEMENT.size + 3] = pitch > 0 ? 1 / pitch : 0
  }
  return floats
}

/** Past the reflectances of a stretch's row: 1 where there is a step at its upper end (shaders/kernels/assembly.wgsl). */
export const STEP_ABOVE = STRETCH.rhoTable + NM_COUNT

/** The stretches, each with whether a step follows. */
export function stretchQuads({ assembly }: Scene): Float32Array {
  const rows = (assembly?.stretches ?? NONE).slice()
  for (let at = 0; at < rows.length; at += STRETCH.size) {
    const next = at + STRETCH.size
    const above = next < rows.length ? rows.subarray(next, next + STRETCH.size) : undefined
    rows[at + STEP_ABOVE] = hasStep(rows.subarray(at, next), above) ? 1 : 0
  }
  return rows
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
