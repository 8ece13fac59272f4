// Twin of src/optics/cone.ts. A ray against a cone about the lamp axis, r = q(z): f(t) = a t² + 2 b t + c along the ray.
// a = dr² − dq², b = x dx + y dy − q dq, c = (r − q)(r + q). Stable forms of the quadratic's roots (no cancellation).

/// Large enough for every lamp, small enough that its square is a number in single precision.
const NEVER = 1e15;

/// From inside (c ≤ 0): distance to where r reaches q. NEVER when it doesn't. On the cone itself the far crossing is meant.
fn coneOut(a: f32, b: f32, c: f32) -> f32 {
  let disc = b * b - a * c;
  let root = sqrt(max(disc, 0.0));
  let far = select(root - b, -c, b > 0.0) / select(a, b + root, b > 0.0);
  return select(NEVER, min(far, NEVER), disc >= 0.0 && (b > 0.0 || a > 0.0));
}

/// From outside (c ≥ 0): distance to where r falls to q. NEVER when it doesn't.
fn coneIn(a: f32, b: f32, c: f32) -> f32 {
  let disc = b * b - a * c;
  let den = sqrt(max(disc, 0.0)) - b;
  return select(NEVER, min(c / den, NEVER), (b < 0.0 || a < 0.0) && disc >= 0.0 && den > 0.0 && c > 0.0);
}

/// From inside the other half of the cone (q < 0, c < 0): distance to where the ray, after leaving that half, enters this one.
fn coneAcross(a: f32, b: f32, c: f32) -> f32 {
  let disc = b * b - a * c;
  if (a < 0.0 && b > 0.0 && disc >= 0.0) { return min((b + sqrt(disc)) / -a, NEVER); }
  return NEVER;
}
