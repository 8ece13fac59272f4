// Twin of src/optics/face.ts. The face plate at z = 0.

const HEX = 0.8660254037844386;

/// 0 round, 1 square, 2 hexagon; half: half the size across flats; first flat facing +x.
fn insideFace(x: f32, y: f32, shape: f32, half: f32) -> bool {
  if (shape == 0.0) { return x * x + y * y <= half * half; }
  let ax = abs(x);
  let ay = abs(y);
  if (shape == 1.0) { return ax <= half && ay <= half; }
  return ax <= half && 0.5 * ax + HEX * ay <= half;
}
