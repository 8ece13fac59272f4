// Twin of src/optics/emission.ts. The emission of a ray: which emitter, where on it, which way, which wavelength. Six draws of 24 bits each.

/// The kind of the emitter that was chosen.
var<private> kindChosen: u32;

/// Emitter by the alias method (A. J. Walker 1977; M. D. Vose 1991). (n + ½)/2²⁴ · count in whole numbers: a fraction in single precision
/// would be too coarse to choose by, with thousands of emitters.
fn whichEmitter(bits: u32, count: u32) -> u32 {
  let a = 2u * (bits >> 8u) + 1u;
  let low = (a & 8191u) * count;
  let t = (a >> 13u) * count + (low >> 13u);
  let at = t >> 12u; // below `count`, as a is below 2²⁵
  let fraction = f32(((t & 4095u) << 13u) | (low & 8191u)) * (1.0 / 33554432.0);
  let row = emitterChoice(at);
  let own = fraction < bitcast<f32>(row.y);
  kindChosen = select(row.w, row.x, own);
  return select(row.z, at, own);
}

/// Place and direction of a ray from emitter `number`, of kind `kind`, in the lamp's frame.
fn leaveEmitter(number: u32, kind: u32) {
  let place = emitterPlace(number);
  let cs = place.zw;
  let shape = bitcast<vec4f>(emissionRow(kind, 0u));
  let half = shape.xy;
  var uv: vec2f;
  if (shape.z > 0.0) {
    // Polar map, equal areas: r = R √u. (A map of squares to circles would keep neighbours closer, but it branches at random.)
    uv = turnOfDraw(first[DRAW_pointV] >> 8u) * (sqrt(unit(first[DRAW_pointU])) * half.x);
  } else {
    uv = (2.0 * vec2f(unit(first[DRAW_pointU]), unit(first[DRAW_pointV])) - 1.0) * half;
  }
  ray.pos = vec3f(place.x + cs.x * uv.x - cs.y * uv.y, place.y + cs.y * uv.x + cs.x * uv.y, shape.w);

  let light = emissionRow(kind, 1u);
  var c: f32;
  var around = turnOfDraw(first[DRAW_azimuth] >> 8u);
  if (light.x == 0u) {
    c = cosFromPower(first[DRAW_polar], bitcast<f32>(light.y));
  } else {
    var guide = light.y;
    if (light.x == 2u) {
      let row = azimuthFromMap(first[DRAW_azimuth] >> 8u, guide, u32(kindRow(kind, 2u)[KIND_profileRows - 8u]));
      around = turnOf(row.turn);
      guide = row.table + 2u + 4u * u32(tables[row.table]);
    }
    c = cFromTable(first[DRAW_polar] >> 8u, guide);
  }
  let ab = around * sqrt(c * (2.0 - c));
  ray.dir = vec3f(cs.x * ab.x - cs.y * ab.y, cs.y * ab.x + cs.x * ab.y, 1.0 - c);
}

struct MapRow {
  turn: f32,
  table: u32,
}

/// A map I(θ, φ), bilinear between its rows, is a sum of rows each spread over φ by a hat: choose the row by its weight, then φ under
/// the hat by inverting its two halves. Row record: [share below, table offset, φ, width before, width after]. Distances to both ends of
/// the row's share keep the half step of the draw: where a hat ends a little share is much angle.
fn azimuthFromMap(bits24: u32, at: u32, rows: u32) -> MapRow {
  let u = f32(bits24) * UNIT;
  var low = 0u;
  var high = rows - 1u;
  while (low < high) {
    let mid = (low + high + 1u) >> 1u;
    if (tables[at + mid * 5u] <= u) { low = mid; } else { high = mid - 1u; }
  }
  let row = at + low * 5u;
  let start = tables[row];
  let end = select(1.0, tables[row + 5u], low + 1u < rows);
  let width = end - start;
  let v = select(0.5, min(1.0, ((u - start) + 0.5 * UNIT) / width), width > 0.0);
  let w = select(0.5, ((end - u) - 0.5 * UNIT) / width, width > 0.0);
  let before = tables[row + 3u];
  let after = tables[row + 4u];
  let shareBefore = before / (before + after);
  var phi = tables[row + 2u];
  if (v < shareBefore) {
    phi -= before * (1.0 - sqrt(v / shareBefore));
  } else {
    phi += after * (1.0 - sqrt(max(0.0, w / (1.0 - shareBefore))));
  }
  return MapRow(fract(phi / TURN), setup.profilesAt + u32(tables[row + 1u]));
}

/// Wavelength by the spectrum's quantiles, and with it index and luminous weight by linear interpolation.
fn chooseWavelength(at: u32) {
  let bits = first[DRAW_wavelength] >> 8u;
  let cell = pairs[at + (bits >> 14u)]; // 1,024 cells: the upper ten bits
  let nm = cell.x + (f32(bits & 16383u) + 0.5) * (1.0 / 16384.0) * (cell.y - cell.x);
  let s = (nm - NM_FIRST) / NM_STEP;
  let i = min(u32(s), u32(NM_COUNT) - 2u);
  let f = s - f32(i);
  let row = colourRow(i);
  ray.nm = nm;
  ray.index = row.x + f * (row.y - row.x);
  ray.lum = row.z + f * (row.w - row.z);
}

/// A ray of the sun onto the outermost opening.
fn leaveSun() {
  let radius = param(P_sunRadius);
  let u = unit(first[DRAW_pointU]);
  let v = unit(first[DRAW_pointV]);
  var place: vec2f;
  if (param(P_sunSquare) > 0.0) {
    place = (2.0 * vec2f(u, v) - 1.0) * vec2f(radius, select(radius, param(P_sunHalfY), param(P_sunSquare) > 1.0));
  } else {
    place = turnOfDraw(first[DRAW_pointV] >> 8u) * (radius * sqrt(u));
  }
  ray.pos = vec3f(place, param(P_sunZ));
  aimSun();
}

/// The same onto a piece of a lens that may stand tilted, in the frame of its element at height z there; the direction is not set yet.
fn placeSun(z: f32) {
  let half = lensParam(P_lensHalf);
  let square = lensParam(P_lensSquare);
  let u = unit(first[DRAW_pointU]);
  let v = unit(first[DRAW_pointV]);
  var place: vec2f;
  if (square == 1.0 || square == 2.0) {
    place = (2.0 * vec2f(u, v) - 1.0) * vec2f(half, select(half, lensParam(P_lensHalfY), square > 1.0));
  } else {
    place = turnOfDraw(first[DRAW_pointV] >> 8u) * (half * sqrt(u));
  }
  ray.pos = vec3f(place, z);
}

/// Direction of a ray of the sun: over a disc of the stated half angle about the tilted axis, darker towards its rim.
fn aimSun() {
  let sinHalf = quarterTurn(0.5 * param(P_sunHalfAngle)).y;
  let limb = param(P_sunLimb);
  let even = (3.0 - 3.0 * limb) / (3.0 - limb);
  let polar = unit(first[DRAW_polar]);
  var square = polar / even;
  if (polar > even) { square = 1.0 - pow((polar - even) / (1.0 - even), 2.0 / 3.0); }
  let c = square * 2.0 * sinHalf * sinHalf;
  let ab = turnOfDraw(first[DRAW_azimuth] >> 8u) * sqrt(c * (2.0 - c));
  // The sun's centre stands at (sin tilt, 0, cos tilt), turned about the axis; light travels the other way.
  let x = ab.x * param(P_sunCosTilt) + (1.0 - c) * param(P_sunSinTilt);
  let z = -ab.x * param(P_sunSinTilt) + (1.0 - c) * param(P_sunCosTilt);
  let a = turnOf(fract(param(P_sunAzimuth) / TURN));
  ray.dir = -vec3f(a.x * x - a.y * ab.y, a.y * x + a.x * ab.y, z);
}
