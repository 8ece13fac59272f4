// Twin of src/engine/backward/estimator.ts: rays from a direction, or from a place in front of the lamp, back through its outermost opening to the
// emitters. A lane takes its next ray when its own has ended, and every turn of its loop does a little of everything, so that lanes that are
// at the same kind of step do it together.

const AIM_DISC = 0u;
const AIM_RING = 1u; // any other: a direction, or all directions between two angles

/// Luminous and radiant sums of this thread, 64 bits each: low, high.
var<private> sumLm: vec2u;
var<private> sumW: vec2u;
var<private> hits: u32;
var<private> rays: u32;
var<private> squares: f32;
/// What the point in the opening counts for.
var<private> scale: f32;

/// A score in whole steps; single precision holds no more than 24 bits of it.
fn stepsOf(score: f32) -> vec2u {
  let whole = round(score);
  let high = floor(whole * (1.0 / 4294967296.0));
  return vec2u(u32(whole - high * 4294967296.0), u32(high));
}

fn addWide(a: vec2u, b: vec2u) -> vec2u {
  let low = a.x + b.x;
  return vec2u(low, a.y + b.y + select(0u, 1u, low < b.x));
}

/// Puts a direction of the aim into the ray, from its own position; gives the weight of the point besides area and its own cosine.
fn sampleAim() -> f32 {
  let around = turnOfDraw(first[DRAW_azimuth] >> 8u);
  if (backwardSetup.aim == AIM_DISC) {
    let place = around * (sqrt(unit(first[DRAW_polar])) * backwardSetup.discHalf);
    let to = vec3f(backwardSetup.aimX, backwardSetup.aimY, backwardSetup.aimZ) + vec3f(place, 0.0) - ray.pos;
    let d2 = dot(to, to);
    ray.dir = to / sqrt(d2);
    return ray.dir.z / d2;
  }
  // 1 − cos, even over solid angle
  let c = backwardSetup.fromC + unit(first[DRAW_polar]) * backwardSetup.widthC;
  let ab = around * sqrt(c * (2.0 - c));
  var phi = vec2f(backwardSetup.cosPhi, backwardSetup.sinPhi);
  if (backwardSetup.aim == AIM_RING) { phi = turnOfDraw(first[DRAW_whichEmitter] >> 8u); }
  let out = (1.0 - c) * backwardSetup.sinTheta + ab.x * backwardSetup.cosTheta;
  ray.dir = vec3f(out * phi.x - ab.y * phi.y, out * phi.y + ab.y * phi.x, (1.0 - c) * backwardSetup.cosTheta - ab.x * backwardSetup.sinTheta);
  return 1.0;
}

/// Light that leaves the lamp as it leaves its emitter or cup: one emitter, drawn by its share.
fn traceOpen() -> f32 {
  let i = whichEmitter(draw24() << 8u, setup.emitters);
  let source = sourceKind(i);
  if (source.w == 0.0) { return 0.0; }
  let kind = kindChosen;
  let shape = kindRow(kind, 0u);
  let cs = emitterPlace(i).zw;
  let cup = source.z > 0.0;
  var areaMm2 = 1.0;
  var uv: vec2f;
  if (cup || shape[KIND_disc] > 0.0) {
    let half = select(shape[KIND_halfX], 0.5 * kindRow(kind, 2u)[KIND_cupExit - 8u], cup);
    uv = turnOfDraw(first[DRAW_pointV] >> 8u) * (sqrt(unit(first[DRAW_pointU])) * half);
    areaMm2 = 0.5 * TURN * half * half;
  } else {
    uv = (2.0 * vec2f(unit(first[DRAW_pointU]), unit(first[DRAW_pointV])) - 1.0) * vec2f(shape[KIND_halfX], shape[KIND_halfY]);
  }
  let light = sourceLight(i);
  ray.pos = vec3f(light.xy + vec2f(cs.x * uv.x - cs.y * uv.y, cs.y * uv.x + cs.x * uv.y), source.y);
  let pointWeight = sampleAim();
  let d = ray.dir;
  if (!(d.z > 0.0)) { return 0.0; }
  if (!cup) {
    let density = profileDensity(kind, vec3f(dot(cs, d.xy), cs.x * d.y - cs.y * d.x, d.z));
    return pointWeight * kindRow(kind, 1u)[KIND_efficiency - 4u] * density * ratioOf(u32(light.w));
  }
  ray.dir = -d;
  ray.w = 1.0;
  met = 0.0;
  if (CUPS) { intoCup(i, 1.0); }
  return (pointWeight * areaMm2 * d.z * met) / source.x;
}

/// Start a ray in the lamp's opening; the zone it starts in.
fn traceOpening() -> u32 {
  scale = 0.0;
  met = 0.0;
  ray.w = 1.0;
  ray.dir = vec3f();
  if (backwardSetup.planes == 0u) { return ENDED; }
  choose();
  if (standsFor == 0.0) { return ENDED; }
  let pointWeight = sampleAim();
  let cos = dot(ray.dir, outward);
  if (!(cos > 0.0) || !(ray.dir.z > 0.0)) { return ENDED; }
  if (!leaves()) { return ENDED; }
  if (LENS_KIND == 2u && param(P_lensSign) > 0.0) {
    // passSolid takes a ray in the vertex plane.
    ray.pos -= (heightInLens / ray.dir.z) * ray.dir;
    heightInLens = 0.0;
  }
  scale = pointWeight * cos * standsFor;
  ray.dir = -ray.dir;
  return select(LENS_FROM_TARGET, TUNNEL, LENS_KIND == 0u);
}

/// The ray is over: its score, and what else leaves the lamp without an opening.
fn settle() {
  var score = scale * met;
  if (LENS_KIND == 0u) {
    if (backwardSetup.open > 0u) { score += traceOpen(); }
  }
  rays++;
  let w = score * backwardSetup.perScore;
  let lm = w * ray.lum;
  if (backwardSetup.recordAll > 0u) { keep(w); }
  if (score == 0.0) { return; }
  sumLm = addWide(sumLm, stepsOf(lm));
  sumW = addWide(sumW, stepsOf(w));
  hits++;
  let share = lm * SQUARE_STEP;
  squares += share * share;
}
const SQUARE_STEP = 1.4901161193847656e-8; // 2⁻²⁶

/// The ray as it has ended, into its slot: x y z dx | dy dz weight efficacy | nm, draws taken, score in steps.
fn keep(w: f32) {
  let at = ((rayIndex - backwardSetup.begin) * BATCHES + batchNow) * RECORD_VECTORS;
  records[at] = vec4f(ray.pos, ray.dir.x);
  records[at + 1u] = vec4f(ray.dir.yz, ray.w, ray.lum);
  records[at + 2u] = vec4f(ray.nm, f32(stream.next), w, 0.0);
}

var<workgroup> gatheredSums: array<vec4u, WORKGROUP>;
var<workgroup> gatheredRest: array<vec4u, WORKGROUP>;

fn joinSums(a: vec4u, b: vec4u) -> vec4u {
  return vec4u(addWide(a.xy, b.xy), addWide(a.zw, b.zw));
}

fn joinRest(a: vec4u, b: vec4u) -> vec4u {
  return vec4u(a.xy + b.xy, bitcast<u32>(bitcast<f32>(a.z) + bitcast<f32>(b.z)), 0u);
}

/// Surfaces in the grooves, and zones, in one turn of a lane's loop.
override GROOVE_STEPS: u32 = 4u;
override ZONE_STEPS: u32 = 4u;

@compute @workgroup_size(WORKGROUP)
fn main(@builtin(workgroup_id) group: vec3u, @builtin(local_invocation_index) lane: u32) {
  batchNow = group.x % BATCHES;
  for (var i = lane; i < 66u; i += WORKGROUP) {
    let at = batchNow * 198u + 3u * i;
    numbers[i] = vec3u(scrambles[at], scrambles[at + 1u], scrambles[at + 2u]);
  }
  workgroupBarrier();

  let log2Threads = backwardSetup.log2Threads;
  var next = backwardSetup.start + (group.x / BATCHES) * WORKGROUP + lane;
  if (next < backwardSetup.end) { sobolAt(next); }
  var zone = ENDED;
  var steps = 0u;
  loop {
    if (zone == ENDED) {
      if (next >= backwardSetup.end) { break; }
      rayIndex = next;
      seedStream(runOf(backwardSetup.seed, batchNow), rayIndex);
      first = array(pointLow.x, pointLow.y, pointLow.z, pointHigh.x, pointHigh.y, pointHigh.z);
      chooseFromMixture();
      zone = traceOpening();
      steps = 0u;
      sobolStep(next, log2Threads);
      next += 1u << log2Threads;
    }
    var outcome = 0u;
    for (var k = 0u; k < GROOVE_STEPS && zone >= BEFORE_FLAT; k++) {
      outcome = stepFresnel(zone);
      zone = select(LENS_PASSED, outcome, outcome >= BEFORE_FLAT);
    }
    if (zone == LENS_PASSED) { zone = leaveLens(outcome); }
    for (var k = 0u; k < ZONE_STEPS && zone != ENDED && zone <= LENS_FROM_TARGET; k++) {
      if (steps >= STEP_LIMIT) { zone = ENDED; } else { zone = crossZone(zone); }
      steps++;
    }
    if (zone == ENDED) { settle(); }
  }

  gatheredSums[lane] = vec4u(sumLm, sumW);
  gatheredRest[lane] = vec4u(hits, rays, bitcast<u32>(squares), 0u);
  for (var half = WORKGROUP / 2u; half > 0u; half >>= 1u) {
    workgroupBarrier();
    if (lane < half) {
      gatheredSums[lane] = joinSums(gatheredSums[lane], gatheredSums[lane + half]);
      gatheredRest[lane] = joinRest(gatheredRest[lane], gatheredRest[lane + half]);
    }
  }
  if (lane == 0u) {
    var sums = gatheredSums[0];
    var rest = gatheredRest[0];
    if (backwardSetup.goesOn > 0u) {
      sums = joinSums(sums, partials[2u * group.x]);
      rest = joinRest(rest, partials[2u * group.x + 1u]);
    }
    partials[2u * group.x] = sums;
    partials[2u * group.x + 1u] = rest;
  }
}
