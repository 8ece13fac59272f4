// Boxes in space in a tree, so that a ray meets few of thousands. No library: the ones at hand keep triangles, or boxes in the plane; this one
// is a list in depth-first order, in which a box that is missed says how far to skip (a common form of bounding volume hierarchy, no source).

export interface BoxTree {
  /** Six numbers a node: from x, y, z, to x, y, z. */
  bounds: Float64Array
  /** Where to go on from a node that is missed. */
  skip: Int32Array
  /** Item of a leaf; −1 of an inner node. */
  item: Int32Array
}

/** `boxes`: six numbers an item, as in `bounds`. Halved at the median along the longest side of the centres. */
export function makeBoxTree(boxes: Float64Array): BoxTree {
  const count = boxes.length / 6
  const size = Math.max(0, 2 * count - 1)
  const bounds = new Float64Array(6 * size)
  const skip = new Int32Array(size)
  const item = new Int32Array(size).fill(-1)
  const middle = (i: number, axis: number) => boxes[6 * i + axis]! + boxes[6 * i + 3 + axis]!
  let next = 0

  function add(items: number[]): void {
    const node = next++
    for (let axis = 0; axis < 3; axis++) {
      bounds[6 * node + axis] = items.reduce((least, i) => Math.min(least, boxes[6 * i + axis]!), Infinity)
      bounds[6 * node + 3 + axis] = items.reduce((most, i) => Math.max(most, boxes[6 * i + 3 + axis]!), -Infinity)
    }
    if (items.length === 1) item[node] = items[0]!
    else {
      const spread = (axis: number) => {
        const at = items.map((i) => middle(i, axis))
        return at.reduce((a, b) => Math.max(a, b)) - at.reduce((a, b) => Math.min(a, b))
      }
      const sizes = [0, 1, 2].map(spread)
      const axis = sizes.indexOf(Math.max(...sizes))
      items.sort((a, b) => middle(a, axis) - middle(b, axis))
      const half = items.length >> 1
      add(items.slice(0, half))
      add(items.slice(half))
    }
    skip[node] = next
  }

  if (count > 0) add(Array.from({ length: count }, (_, i) => i))
  return { bounds, skip, item }
}

/**
 * The next leaf from `node` on whose box the ray p + s d meets for some s in [0, reach]; the number of nodes when there is none. Go on
 * from the leaf's number plus one. `ray`: place at 0 to 2, direction at 3 to 5.
 */
export function nextMet({ bounds, skip, item }: BoxTree, node: number, ray: Float64Array, reach: number): number {
  const size = item.length
  let at = node
  while (at < size) {
    let near = 0
    let far = reach
    for (let axis = 0; axis < 3; axis++) {
      const p = ray[axis]!
      const d = ray[3 + axis]!
      const from = bounds[6 * at + axis]! - p
      const to = bounds[6 * at + 3 + axis]! - p
      if (d === 0) {
        if (from > 0 || to < 0) far = -1
      } else {
        const a = from / d
        const b = to / d
        near = Math.max(near, Math.min(a, b))
        far = Math.min(far, Math.max(a, b))
      }
    }
    if (near > far) at = skip[at]!
    else if (item[at]! >= 0) return at
    else at++
  }
  return size
}
