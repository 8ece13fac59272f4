// The face plate at z = 0.

const HEX = 0.8660254037844386

/**
 * True when (x, y) lies on the face, edge included. Shape: 0 round, 1 square, 2 hexagon, first flat facing +x; half:
 * half the size across flats, mm.
 */
export function insideFace(x: number, y: number, shape: number, half: number): boolean {
  if (shape === 0) return x * x + y * y <= half * half
  const ax = Math.abs(x)
  const ay = Math.abs(y)
  if (shape === 1) return ax <= half && ay <= half
  return ax <= half && 0.5 * ax + HEX * ay <= half
}
