// The face plate at z = 0.

const HEX = 0.8660254037844386

/**
 * True when (x, y) lies on the face, edge included. Shape: 0 round, 1 square, 2 hexagon, 3 rectangle, first flat facing +x, 4 polygon;
 * half: half the size across flats (of a rectangle along x; of a polygon the radius about the axis that holds it), mm; halfY: half of a
 * rectangle's size along y; of a polygon the radius about the axis that lies on it. `corners`: of a polygon, x, y of each; which side of a
 * slanted edge a point on it falls to is left open (even-odd rule).
 */
export function insideFace(
  x: number,
  y: number,
  shape: number,
  half: number,
  halfY: number,
  corners: Float32Array,
): boolean {
  if (shape === 0) return x * x + y * y <= half * half
  const ax = Math.abs(x)
  const ay = Math.abs(y)
  if (shape === 1) return ax <= half && ay <= half
  if (shape === 2) return ax <= half && 0.5 * ax + HEX * ay <= half
  if (shape === 3) return ax <= half && ay <= halfY
  const square = x * x + y * y
  if (square > half * half) return false
  return square < halfY * halfY || insideCorners(x, y, corners)
}

/** Even-odd rule: a line towards +x crosses the edges an odd number of times. */
function insideCorners(x: number, y: number, corners: Float32Array): boolean {
  let inside = false
  let x0 = corners[corners.length - 2]!
  let y0 = corners[corners.length - 1]!
  for (let i = 0; i < corners.length; i += 2) {
    const x1 = corners[i]!
    const y1 = corners[i + 1]!
    if (y0 > y !== y1 > y && x < ((x1 - x0) * (y - y0)) / (y1 - y0) + x0) inside = !inside
    x0 = x1
    y0 = y1
  }
  return inside
}
