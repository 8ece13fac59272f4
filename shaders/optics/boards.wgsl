// Twin of src/optics/boards.ts. Boards that are tilted so far that they stop light themselves: plane pieces, met from either side.

const BOARD_VECTORS = 4u;
/// A board's plane lies so far under its surface, so that rounding keeps no emitter's own light back.
const UNDER = 0.01;
const BOARD_HEX = 0.8660254037844386;
/// Less than this is the place that the ray stands on.
const AWAY = 1e-6;
/// Normal of the board that is met, on the side that the ray comes from.
var<private> boardNormal: vec3f;

/// Whether the ray meets a board before anything else of the lamp: the distance is then in ray.reach, the normal in boardNormal.
fn meetsBoard() -> bool {
  var nearest = NEVER;
  for (var i = 0u; i < setup.boards; i++) {
    let at = setup.boardsAt + BOARD_VECTORS * i;
    let x = bitcast<vec4f>(quads[at]);
    let y = bitcast<vec4f>(quads[at + 1u]);
    let z = bitcast<vec4f>(quads[at + 2u]);
    let n = vec3f(x.z, y.z, z.z);
    let p = ray.pos - vec3f(x.w, y.w, z.w);
    let along = dot(ray.dir, n);
    let s = (-UNDER - dot(p, n)) / along;
    if (!(s > AWAY && s < nearest)) { continue; }
    let q = p + s * ray.dir;
    if (!insideBoard(dot(q, vec3f(x.x, y.x, z.x)), dot(q, vec3f(x.y, y.y, z.y)), at)) { continue; }
    nearest = s;
    boardNormal = select(n, -n, along > 0.0);
  }
  ray.reach = nearest;
  return nearest < NEVER && isClear(nearest);
}

fn insideBoard(u: f32, v: f32, at: u32) -> bool {
  let outline = bitcast<vec4f>(quads[at + 3u]);
  if (outline.x == 2.0) { return u * u + v * v <= outline.y * outline.y; }
  if (abs(u) > outline.y || abs(v) > outline.z) { return false; }
  return outline.x == 0.0 || 0.5 * abs(u) + BOARD_HEX * abs(v) <= outline.y;
}

/// Whether neither face, wall nor lens stands in the straight way of length s.
fn isClear(s: f32) -> bool {
  let start = ray.pos.z;
  let to = start + s * ray.dir.z;
  if (to < 0.0) { return false; }
  if (LENS_KIND > 0u && to >= param(P_lensFront)) { return false; }
  if (!HAS_TUNNEL) { return true; }
  for (var end = 0u; end < 2u; end++) {
    let z = select(param(P_zIn), param(P_zOut), end == 1u);
    if ((start < z) == (to < z)) { continue; }
    let p = ray.pos + ((z - start) / ray.dir.z) * ray.dir;
    if (!insideSection(p.x, p.y, sectionAt(z))) { return false; }
  }
  if (to < param(P_zIn) || to > param(P_zOut)) { return true; }
  let q = ray.pos + s * ray.dir;
  return insideSection(q.x, q.y, sectionAt(to));
}
