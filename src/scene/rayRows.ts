// An emitter's rays as the tracer draws them (src/optics/rayTable.ts).
import { onceForRays, RAY_AT, RAY_SIZE, raysOf } from '../lamp/rays.ts'
import type { EmitterRays } from '../lamp/schema.ts'
import { aliasTable } from '../num/alias.ts'
import { mix } from '../optics/draws.ts'
import { GROUPS, ROW_ALIAS, ROW_DX, ROW_NM, ROW_SHARE, ROW_SIZE, ROW_X } from '../optics/rayTable.ts'

/**
 * The packed table of a document's rays: sixteen groups of the same weight, each drawn by one batch. The rays are put in an order by chance and
 * laid one after another along their weights; what crosses the end of a sixteenth belongs to both groups, with the weight that lies in each, so that
 * the batches together draw every ray by its own weight. Shared, not to be written into.
 */
export const packRays: (rays: EmitterRays) => Float32Array = onceForRays((rays) =>
  packGroups(raysOf(rays), rays.ownWavelengths),
)

interface Entry {
  ray: number
  weight: number
}

/** A sliver of a ray below this share of its group is rounding. */
const LEAST = 1e-15

function dealt(rows: Float32Array): Entry[][] {
  const lit = Array.from({ length: rows.length / RAY_SIZE }, (_, i) => i).filter((i) => weightOf(rows, i) > 0)
  const keys = new Map(lit.map((i) => [i, mix(i + 1) >>> 0]))
  lit.sort((a, b) => keys.get(a)! - keys.get(b)! || a - b)
  const each = lit.reduce((sum, i) => sum + weightOf(rows, i), 0) / GROUPS
  const groups: Entry[][] = Array.from({ length: GROUPS }, () => [])
  let [group, room] = [0, each]
  for (const ray of lit) {
    let left = weightOf(rows, ray)
    while (left > LEAST * each) {
      // The last takes what rounding leaves.
      const last = group === GROUPS - 1
      const weight = last ? left : Math.min(left, room)
      groups[group]!.push({ ray, weight })
      left -= weight
      room -= weight
      if (last || room > LEAST * each) continue
      group++
      room = each
    }
  }
  return groups
}

const weightOf = (rows: Float32Array, ray: number) => rows[ray * RAY_SIZE + RAY_AT.weight]!

function packGroups(rows: Float32Array, ownWavelengths: boolean): Float32Array {
  const groups = dealt(rows)
  const packed = new Float32Array(2 * GROUPS + ROW_SIZE * groups.reduce((sum, g) => sum + g.length, 0))
  let at = 2 * GROUPS
  for (const [g, group] of groups.entries()) {
    packed[2 * g] = at
    packed[2 * g + 1] = group.length
    const { share, alias } = aliasTable(group.map((e) => e.weight))
    for (const [i, { ray }] of group.entries()) {
      const from = ray * RAY_SIZE
      packed.set(rows.subarray(from + RAY_AT.place, from + RAY_AT.place + 3), at + ROW_X)
      packed.set(rows.subarray(from + RAY_AT.direction, from + RAY_AT.direction + 3), at + ROW_DX)
      packed[at + ROW_NM] = ownWavelengths ? rows[from + RAY_AT.nm]! : 0
      packed[at + ROW_SHARE] = share[i]!
      packed[at + ROW_ALIAS] = alias[i]!
      at += ROW_SIZE
    }
  }
  return packed
}
