// Where the screws of a lens ring are.
import type { Point } from './shape.ts'

/**
 * Evenly about a round ring, the first half a step from +x; of a rectangle one in each corner, the others spread over its sides so that the
 * widest gap is least, and fewer than four on the middles of its sides. `half`: from the ring's middle to its screws, mm; round ones have
 * their radius in both.
 */
export const ringScrews = (round: boolean, half: Point, count: number): Point[] =>
  round ? onCircle(half[0], count) : onRectangle(half, count)

const onCircle = (radius: number, count: number): Point[] =>
  Array.from({ length: count }, (_, i): Point => {
    const at = (2 * Math.PI * (i + 0.5)) / count
    return [radius * Math.cos(at), radius * Math.sin(at)]
  })

function onRectangle([x, y]: Point, count: number): Point[] {
  const ends: Point[] = [
    [x, 0],
    [-x, 0],
  ]
  const sides: Point[] = [
    [0, y],
    [0, -y],
  ]
  if (count < 4) return (x >= y ? [...ends, ...sides] : [...sides, ...ends]).slice(0, count)
  const corners: Point[] = [
    [x, -y],
    [x, y],
    [-x, y],
    [-x, -y],
  ]
  const between = [0, 0, 0, 0]
  for (let left = count - 4; left > 0; left--) {
    const gaps = between.map((n, side) => (side % 2 === 0 ? 2 * y : 2 * x) / (n + 1))
    const widest = gaps.indexOf(Math.max(...gaps))
    between[widest] = (between[widest] ?? 0) + 1
  }
  return corners.flatMap((from, side) => {
    const to = corners[(side + 1) % 4] ?? from
    const n = between[side] ?? 0
    return Array.from({ length: n + 1 }, (_, k): Point => {
      const share = k / (n + 1)
      return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]
    })
  })
}
