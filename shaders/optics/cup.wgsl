// Twin of src/optics/cup.ts. A reflector cup: paraboloid of revolution about its own axis, vertex down, specular. r² = 4 f (z − z_vertex).

const CUP_BOUNCES = 40;

/// From the emitter out of the cup's mouth. axis: where the cup's axis stands; zFocus: height of its focus. Gives the weight that leaves by
/// the mouth, 0 when it doesn't. Light that comes down through the focal plane inside the cup is lost on the board.
fn passCup(kind: u32, axis: vec2f, zFocus: f32, weight: f32) -> f32 {
  let f = tables[kind + KIND_cupFocal];
  let half = 0.5 * tables[kind + KIND_cupExit];
  let zVertex = zFocus - f;
  let zMouth = zVertex + (half * half) / (4.0 * f);
  let zBase = min(zFocus, ray.pos.z);
  var w = weight;
  for (var bounce = 0; bounce < CUP_BOUNCES; bounce++) {
    let p = ray.pos.xy - axis;
    let z = ray.pos.z - zVertex;
    let d = ray.dir;
    let s = coneOut(dot(d.xy, d.xy), dot(p, d.xy) - 2.0 * f * d.z, min(dot(p, p) - 4.0 * f * z, 0.0));
    let up = d.z > 0.0;
    let toMouth = select(NEVER, (zMouth - ray.pos.z) / select(1.0, d.z, up), up);
    if (toMouth <= s || ray.pos.z >= zMouth) {
      ray.pos += max(toMouth, 0.0) * d;
      return select(0.0, w, up);
    }
    ray.pos += s * d;
    if (ray.pos.z < zBase - 1e-5) { return 0.0; }
    // inward normal of r² − 4 f z = 0
    let n = normalize(vec3f(axis - ray.pos.xy, 2.0 * f));
    let mirror = d - 2.0 * dot(d, n) * n;
    ray.dir = mirror * (1.5 - 0.5 * dot(mirror, mirror));
    w *= tables[kind + KIND_cupRho];
  }
  return 0.0;
}
