// Twin of src/optics/cupBack.ts. A reflector cup traced backwards: in by its mouth, from wall to wall, until the ray crosses the emitter's plane
// on its way down.

const BACK_BOUNCES = 40u;
/// Bounces in this cup so far.
var<private> cupBounces: u32;

/// Height of the mouth: where the paraboloid has its exit diameter.
fn cupMouth(kind: u32) -> f32 {
  let light = kindRow(kind, 2u);
  let f = light[KIND_cupFocal - 8u];
  let half = 0.5 * light[KIND_cupExit - 8u];
  return kindRow(kind, 0u)[KIND_z] - kindRow(kind, 3u)[KIND_cupZ - 12u] - f + (half * half) / (4.0 * f);
}

/// On to the emitter's plane. The ray stands in the mouth or where an earlier call left it, inside. True when it stands in the emitter's plane,
/// looking down; call again to go on. False when it has left the cup or ended.
fn seekInCup(kind: u32, axis: vec2f) -> bool {
  let f = kindRow(kind, 2u)[KIND_cupFocal - 8u];
  let cup = kindRow(kind, 3u);
  let zEmitter = kindRow(kind, 0u)[KIND_z];
  let zFocus = zEmitter - cup[KIND_cupZ - 12u];
  let zVertex = zFocus - f;
  let zMouth = cupMouth(kind);
  let zBase = min(zFocus, zEmitter);
  while (cupBounces < BACK_BOUNCES) {
    let p = ray.pos.xy - axis;
    let z = ray.pos.z - zVertex;
    let d = ray.dir;
    let s = coneOut(dot(d.xy, d.xy), dot(p, d.xy) - 2.0 * f * d.z, min(dot(p, p) - 4.0 * f * z, 0.0));
    if (d.z < 0.0 && ray.pos.z > zEmitter) {
      let sEmitter = (zEmitter - ray.pos.z) / d.z;
      if (sEmitter <= s) {
        ray.pos += sEmitter * d;
        ray.pos.z = zEmitter;
        return true;
      }
    }
    if (d.z > 0.0 && zMouth - ray.pos.z <= s * d.z) { return false; }
    ray.pos += s * d;
    if (ray.pos.z < zBase - 1e-5) { return false; }
    let n = normalize(vec3f(axis - ray.pos.xy, 2.0 * f));
    let mirror = d - 2.0 * dot(d, n) * n;
    ray.dir = mirror * (1.5 - 0.5 * dot(mirror, mirror));
    ray.w *= cup[KIND_cupRho - 12u];
    cupBounces++;
  }
  return false;
}
