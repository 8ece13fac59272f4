// Twin of src/optics/cone.ts. A ray against a cone about the lamp axis, r = q(z): f(t) = a t² + 2 b t + c along the ray.
// a = dr² − dq², b = x dx + y dy − q dq, c = (r − q)(r + q). Stable forms of the quadratic's roots (no cancellation).

/// Large enough for every lamp, small enough that its square is a number in single precision.
const NEVER = 1e15;

/// From inside (c ≤ 0): distance to where r reaches q. NEVER when it doesn't. On the cone itself the far crossing is meant.
fn coneOut(a: f32, b: f32, c: f32) -> f32 {
  let disc = b * b - a * c;
  if (disc < 0.0) { return NEVER; }
  let root = sqrt(disc);
  if (b > 0.0) { return select(0.0, -c / (b + root), c < 0.0); }
  if (a > 0.0) { return min((root - b) / a, NEVER); }
  return NEVER;
}

/// From outside (c ≥ 0): distance to where r falls to q. NEVER when it doesn't.
fn coneIn(a: f32, b: f32, c: f32) -> f32 {
  if (b >= 0.0 && a >= 0.0) { return NEVER; }
  let disc = b * b - a * c;
  if (disc < 0.0) { return NEVER; }
  let den = sqrt(disc) - b;
  if (den > 0.0 && c > 0.0) { return min(c / den, NEVER); }
  return NEVER;
}

/// From inside the other half of the cone (q < 0, c < 0): distance to where the ray, after leaving that half, enters this one.
fn coneAcross(a: f32, b: f32, c: f32) -> f32 {
  let disc = b * b - a * c;
  if (a < 0.0 && b > 0.0 && disc >= 0.0) { return min((b + sqrt(disc)) / -a, NEVER); }
  return NEVER;
}
