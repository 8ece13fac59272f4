// An emitter's rays as the tracer draws them (src/optics/rayTable.ts).
import { eachRay, onceForRays, type RayNumbers, raysOf } from '../lamp/rays.ts'
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
  ray: RayNumbers
  weight: number
}

/** A sliver of a ray below this share of its group is rounding. */
const LEAST = 1e-15

function dealt(rows: Float32Array): Entry[][] {
  const lit = [...eachRay(rows)].map((ray, i) => ({ ray, key: mix(i + 1) >>> 0 })).filter(({ ray }) => ray.weight > 0)
  lit.sort((a, b) => a.key - b.key)
  const each = lit.reduce((sum, { ray }) => sum + ray.weight, 0) / GROUPS
  let group: Entry[] = []
  const groups = [group]
  let room = each
  for (const { ray } of lit) {
    let left = ray.weight
    while (left > LEAST * each) {
      // The last takes what rounding leaves.
      const last = groups.length === GROUPS
      const weight = last ? left : Math.min(left, room)
      group.push({ ray, weight })
      left -= weight
      room -= weight
      if (last || room > LEAST * each) continue
      group = []
      groups.push(group)
      room = each
    }
  }
  return groups
}

function packGroups(rows: Float32Array, ownWavelengths: boolean): Float32Array {
  const groups = dealt(rows)
  const packed = new Float32Array(2 * GROUPS + ROW_SIZE * groups.reduce((sum, g) => sum + g.length, 0))
  let at = 2 * GROUPS
  for (const [g, group] of groups.entries()) {
    packed[2 * g] = at
    packed[2 * g + 1] = group.length
    const { share, alias } = aliasTable(group.map((e) => e.weight))
    for (const [i, { ray }] of group.entries()) {
      packed.set([ray.x, ray.y, ray.z], at + ROW_X)
      packed.set([ray.dx, ray.dy, ray.dz], at + ROW_DX)
      packed[at + ROW_NM] = ownWavelengths ? ray.nm : 0
      packed.set(share.subarray(i, i + 1), at + ROW_SHARE)
      packed.set(alias.subarray(i, i + 1), at + ROW_ALIAS)
      at += ROW_SIZE
    }
  }
  return packed
}
