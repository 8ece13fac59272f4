// Twin of src/optics/face.ts. The face plate at z = 0.

const HEX = 0.8660254037844386;

/// 0 round, 1 square, 2 hexagon, 3 rectangle, 4 polygon; half: half the size across flats (of a rectangle along x; of a polygon the radius that
/// holds it); halfY: half a rectangle's size along y; of a polygon the radius that lies on it; first flat facing +x.
fn insideFace(x: f32, y: f32, shape: f32, half: f32, halfY: f32) -> bool {
  if (POLYGON_FACE) {
    let square = x * x + y * y;
    if (square > half * half) { return false; }
    return square < halfY * halfY || insideCorners(x, y);
  }
  if (shape == 0.0) { return x * x + y * y <= half * half; }
  let ax = abs(x);
  let ay = abs(y);
  if (shape == 1.0) { return ax <= half && ay <= half; }
  if (shape == 2.0) { return ax <= half && 0.5 * ax + HEX * ay <= half; }
  return ax <= half && ay <= halfY;
}

/// Even-odd rule: a line towards +x crosses the edges an odd number of times.
fn insideCorners(x: f32, y: f32) -> bool {
  let n = u32(param(P_faceCorners));
  var inside = false;
  let at = setup.faceCornersAt;
  var a = vec2f(tables[at + 2u * n - 2u], tables[at + 2u * n - 1u]);
  for (var i = 0u; i < n; i++) {
    let b = vec2f(tables[at + 2u * i], tables[at + 2u * i + 1u]);
    if ((a.y > y) != (b.y > y) && x < ((b.x - a.x) * (y - a.y)) / (b.y - a.y) + a.x) { inside = !inside; }
    a = b;
  }
  return inside;
}
