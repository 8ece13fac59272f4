// Every box that a line meets is found, and no other: against all boxes one by one.
import { expect, test } from 'vitest'
import { makeBoxTree, nextMet } from '../../src/num/boxTree.ts'
import { seededRandom } from '../../src/num/rng.ts'

function meets(box: ArrayLike<number>, ray: ArrayLike<number>, reach: number): boolean {
  // Samples between the crossings of the six planes: inside some stretch of them or nowhere.
  const cuts = [0, reach]
  for (let k = 0; k < 6; k++) {
    const s = (box[k]! - ray[k % 3]!) / ray[3 + (k % 3)]!
    if (s > 0 && s < reach) cuts.push(s)
  }
  cuts.sort((a, b) => a - b)
  return cuts.slice(1).some((to, i) => {
    const s = (to + cuts[i]!) / 2
    return [0, 1, 2].every((axis) => {
      const at = ray[axis]! + s * ray[3 + axis]!
      return at >= box[axis]! && at <= box[axis + 3]!
    })
  })
}

test.each([0, 1, 2, 60])('%i boxes', (count) => {
  const random = seededRandom(7 + count)
  const boxes = new Float64Array(6 * count)
  for (let i = 0; i < count; i++) {
    for (let axis = 0; axis < 3; axis++) {
      boxes[6 * i + axis] = 10 * random()
      boxes[6 * i + 3 + axis] = boxes[6 * i + axis]! + 2 * random()
    }
  }
  const tree = makeBoxTree(boxes)
  let found = 0
  for (let k = 0; k < 200; k++) {
    const ray = Float64Array.from({ length: 6 }, (_, i) => (i < 3 ? 12 * random() : random() - 0.5))
    const reach = 30 * random()
    const met: number[] = []
    for (let n = nextMet(tree, 0, ray, reach); n < tree.item.length; n = nextMet(tree, n + 1, ray, reach))
      met.push(tree.item[n]!)
    const all = Array.from({ length: count }, (_, i) => i)
    const want = all.filter((i) => meets(boxes.subarray(6 * i, 6 * i + 6), ray, reach))
    expect(met.sort((a, b) => a - b)).toEqual(want)
    found += met.length
  }
  if (count > 2) expect(found).toBeGreaterThan(50)
})
