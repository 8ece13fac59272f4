// Twin of src/engine/backward/radiance.ts. The radiance that a backward ray meets: every exit patch that it crosses on its way down adds its
// emitter's light in that direction.

/// Patches over one place that are all evaluated; of more, so many are picked evenly.
const ASKED = 12u;

/// Radiance met so far, 1/(mm² sr) for each watt emitted.
var<private> met: f32;

/// Radiance of emitter i at the ray's place on its patch against the ray's direction; 0 beside the patch.
fn radianceAt(i: u32, at: vec2f) -> f32 {
  let place = emitterPlace(i);
  let kind = emitterChoice(i).x;
  let shape = kindRow(kind, 0u);
  let cs = place.zw;
  let p = at - place.xy;
  let half = vec2f(shape[KIND_halfX], shape[KIND_halfY]);
  if (shape[KIND_disc] > 0.0) {
    if (dot(p, p) > half.x * half.x) { return 0.0; }
  } else if (abs(dot(cs, p)) > half.x || abs(cs.x * p.y - cs.y * p.x) > half.y) {
    return 0.0;
  }
  let light = sourceLight(i);
  let ratio = ratioOf(u32(light.w));
  if (ratio == 0.0) { return 0.0; }
  let d = -ray.dir;
  let density = profileDensity(kind, vec3f(dot(cs, d.xy), cs.x * d.y - cs.y * d.x, d.z));
  return (light.z * ratio * density) / d.z;
}

/// The ray stands in the mouth of emitter i's cup: add what comes up out of it. It goes on from there as if nothing had been.
fn intoCup(i: u32, times: f32) {
  let kind = emitterChoice(i).x;
  let axis = sourceLight(i).xy;
  let pos = ray.pos;
  let dir = ray.dir;
  let w = ray.w;
  ray.w = w * times;
  cupBounces = 0u;
  while (seekInCup(kind, axis)) { met += ray.w * radianceAt(i, ray.pos.xy); }
  ray.pos = pos;
  ray.dir = dir;
  ray.w = w;
}

fn ask(i: u32, at: vec3f, times: f32) {
  if (CUPS) {
    if (sourceKind(i).z > 0.0) {
      let half = 0.5 * kindRow(emitterChoice(i).x, 2u)[KIND_cupExit - 8u];
      let p = at.xy - sourceLight(i).xy;
      if (dot(p, p) > half * half) { return; }
      let pos = ray.pos;
      ray.pos = at;
      intoCup(i, times);
      ray.pos = pos;
      return;
    }
  }
  met += times * ray.w * radianceAt(i, at.xy);
}

fn crossPatches(plane: u32) {
  let place = planePlace(plane);
  let grid = planeGrid(plane);
  let p = ray.pos.xy + ((place.x - ray.pos.z) / ray.dir.z) * ray.dir.xy;
  let at = floor((p - place.yz) * place.w);
  if (at.x < 0.0 || at.y < 0.0 || at.x >= f32(grid.x) || at.y >= f32(grid.y)) { return; }
  let cell = grid.z + u32(at.y) * grid.x + u32(at.x);
  let begin = backwardWords[cell];
  let n = backwardWords[cell + 1u] - begin;
  if (n == 0u) { return; }
  let all = n <= ASKED;
  // Every (n / ASKED)-th from a random start: each has the same chance.
  var start = 0.0;
  if (!all) { start = draw(); }
  let step = select(f32(n) / f32(ASKED), 1.0, all);
  for (var k = 0u; k < min(n, ASKED); k++) {
    let item = select(min(u32((start + f32(k)) * step), n - 1u), k, all);
    ask(backwardWords[begin + item], vec3f(p, place.x), step);
  }
}

/// The ray goes on straight down to zTo: add what it crosses.
fn descend(zTo: f32) {
  let zFrom = ray.pos.z;
  for (var k = 0u; k < backwardSetup.planes; k++) {
    let z = planePlace(k).x;
    // Half-open interval: a segment that ends on a plane and the segment that starts there count the plane once.
    if (z < zFrom && z >= zTo) { crossPatches(k); }
  }
}
