// Twin of src/engine/backward/openings.ts. Where backward rays start: points spread over every surface that light leaves the lamp by.

/// Outward normal of the chosen point, and the area that it stands for; 0 for none.
var<private> outward: vec3f;
var<private> standsFor: f32;
/// Its height in the lens's own frame: in the lamp's, far from zero, single precision would lose it.
var<private> heightInLens: f32;

fn choose() {
  heightInLens = -param(P_lensThickness);
  let worked = param(P_lensSign) > 0.0;
  if (LENS_KIND == 0u) {
    chooseMouth();
  } else if (LENS_KIND == 3u && worked) {
    chooseGrooves();
  } else if (LENS_KIND == 2u && worked) {
    chooseConic();
  } else {
    chooseFlat(param(P_lensHalf), param(P_lensSquare) > 0.0);
    ray.pos.z = param(select(P_lensBack, P_lensZ, LENS_KIND == 1u));
    standsFor = backwardSetup.areaMm2;
  }
}

/// Even over a disc or a square.
fn chooseFlat(half: f32, square: bool) {
  var place: vec2f;
  if (square) {
    place = (2.0 * vec2f(unit(first[DRAW_pointU]), unit(first[DRAW_pointV])) - 1.0) * half;
  } else {
    place = turnOfDraw(first[DRAW_pointV] >> 8u) * (sqrt(unit(first[DRAW_pointU])) * half);
  }
  ray.pos = vec3f(place, 0.0);
  outward = vec3f(0.0, 0.0, 1.0);
}

/// The tunnel's outlet, round or a polygon (triangle by triangle about its centre).
fn chooseMouth() {
  let half = backwardSetup.openingHalf;
  chooseFlat(half, false);
  if (!ROUND) {
    // (n + ½)/2²⁴ of the sides in whole numbers.
    let along = (2u * (first[DRAW_pointV] >> 8u) + 1u) * setup.sides;
    let cs = sideTurn(along >> 25u);
    let r = sqrt(unit(first[DRAW_pointU])) * half;
    let t = r * backwardSetup.sideTan * (2.0 * (f32(along & 0x1ffffffu) * (1.0 / 33554432.0)) - 1.0);
    ray.pos = vec3f(r * cs.x - t * cs.y, r * cs.y + t * cs.x, 0.0);
  }
  ray.pos.z = param(P_zOut);
  standsFor = backwardSetup.areaMm2;
}

/// Just inside the reach of the rings: by how much single precision may put a radius off.
const WITHIN = 1.0 - 5e-7;

/// Grooves towards the target: the plane of the tips over the rings, the flat rest beyond the last whole ring, and the side of the last ring's air.
fn chooseGrooves() {
  let reach = backwardSetup.reachMm;
  let layer = param(P_lensLayer);
  if (backwardSetup.edgeShare > 0.0) {
    if (draw() < backwardSetup.edgeShare) {
      let t = turnOfDraw(first[DRAW_pointV] >> 8u);
      outward = vec3f(t, 0.0);
      heightInLens = unit(first[DRAW_pointU]) * layer;
      ray.pos = vec3f(t * (reach * WITHIN), param(P_lensZ) + heightInLens);
      standsFor = backwardSetup.edgeAreaMm2;
      return;
    }
  }
  let square = param(P_lensSquare) > 0.0;
  chooseFlat(backwardSetup.openingHalf, square);
  let p = ray.pos.xy;
  let rest = length(p) >= reach;
  heightInLens = select(layer, 0.0, rest);
  ray.pos.z = param(P_lensZ) + heightInLens;
  let half = param(P_lensHalf);
  let none = rest && square && (abs(p.x) > half || abs(p.y) > half);
  standsFor = select(backwardSetup.areaMm2 / (1.0 - backwardSetup.edgeShare), 0.0, none);
}

/// From the flat rest inward a ray is in the air of the last ring before it is out.
fn leaves() -> bool {
  let reach = backwardSetup.reachMm;
  if (LENS_KIND != 3u || param(P_lensSign) < 0.0 || heightInLens != 0.0 || !(reach > 0.0)) { return true; }
  let p = ray.pos.xy;
  let d = ray.dir.xy;
  let r = length(p);
  return coneIn(dot(d, d), dot(p, d), max((r - reach) * (r + reach), 0.0)) * ray.dir.z >= param(P_lensLayer);
}

/// A curved side towards the target: places even in x and y.
fn chooseConic() {
  let c = param(P_lensCurvature);
  let k = 1.0 + param(P_lensConic);
  chooseFlat(param(P_lensHalf), false);
  let r2 = dot(ray.pos.xy, ray.pos.xy);
  let sag = (c * r2) / (1.0 + sqrt(max(0.0, 1.0 - k * c * c * r2)));
  let nz = 1.0 - c * k * sag;
  let size = sqrt(c * c * r2 + nz * nz);
  outward = vec3f(c * ray.pos.xy, nz) / size;
  heightInLens = -sag;
  ray.pos.z = param(P_lensZ) - sag;
  standsFor = backwardSetup.areaMm2 * size / nz;
}
