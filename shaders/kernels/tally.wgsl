// Twin of src/engine/forward/tally.ts, in whole numbers. A number of the tally is 64 bits in two words, signed (roulette gives as well as takes).
//
// Steps: radiant weight 2⁻²³, luminous weight 2⁻¹³ lm/W (a weight is at most 1, its luminous worth at most 683.002 < 2¹⁰, so one
// contribution is at most 2²³). Each contribution is a whole number of steps and is added exactly: nothing is too small to count beside
// a large sum. The low word takes 2³² / 2²³ = 512 contributions of full weight before it wraps; whoever sees it wrap carries 1 into the
// high word. The sum has 63 bits: 2⁶³ / 2²³ = 1.1e12 contributions of full weight, a hundred times a run of 1e10 rays in one single bin; and a
// tally is read back and set to zero after every chunk.
// A conversion to a whole number is clamped by the language, three instructions on the slower units: where a number is known to be between 0
// and 2²³ its steps are read from the bits of its sum with a power of two, which rounds it to them.
// The small segments, on which every ray writes, are gathered in the workgroup's own memory by the same rule and added up once at its end:
// profile and target in `head`, the lines of the ledger, which whole rows of lanes write at once, in eight copies, lane by lane.

const W_ONE = 8388608.0; // 2²³
const LM_ONE = 8192.0; // 2¹³

const COPIES = 8u;
/// Low words; who sees one wrap carries into the high ones.
var<workgroup> lines: array<atomic<u32>, LINES * COPIES>;
var<workgroup> linesHigh: array<atomic<u32>, LINES>;
var<workgroup> head: array<atomic<u32>, BINS>;
var<workgroup> headHigh: array<atomic<u32>, BINS>;
/// Which copy of the lines this thread writes.
var<private> copyNow: u32;
/// What nearly every ray books is summed in the thread first: radiant and luminous weight in steps, of the emitter's optic, of the lens's
/// material (first passage), of the light delivered. Emptied onto the lines before it can wrap.
var<private> ownOptic: vec2u;
var<private> ownLens: vec2u;
var<private> ownDelivered: vec2u;
const OWN_MOST = 0x80000000u;

/// Luminous weight of all rays begun by this thread, in steps, 64 bits.
var<private> emittedLow: u32;
var<private> emittedHigh: u32;
var<private> emittedRays: u32;
/// Where this batch's tally begins, in words.
var<private> tallyBase: u32;
/// Line on which the ray ended.
var<private> lastFate: u32;

/// A weight from 0 to 1 in steps, to the nearest: one step is the last digit of its sum with 1.
fn stepsOf(w: f32) -> u32 {
  return bitcast<u32>(w + 1.0) - 0x3f800000u;
}

/// A weight on the grid of steps.
fn onGrid(w: f32) -> f32 {
  return f32(stepsOf(w)) * (1.0 / W_ONE);
}

/// Luminous worth of a weight in its steps.
fn lumensOf(w: f32) -> u32 {
  return bitcast<u32>(w * (ray.lum * LM_ONE) + 8388608.0) - 0x4b000000u;
}

/// Add a signed number of steps to place `at` of the ledger's lines.
fn addLine(at: u32, steps: i32) {
  let v = u32(steps);
  let old = atomicAdd(&lines[at * COPIES + copyNow], v);
  let high = select(0u, 1u, old + v < old) + select(0u, 0xffffffffu, steps < 0);
  if (high != 0u) { atomicAdd(&linesHigh[at], high); }
}

/// Add a number of steps to bin `at` of the profile, or to a cell of the target, which stand behind them.
fn addHead(at: u32, v: u32) {
  let old = atomicAdd(&head[at], v);
  if (old + v < old) { atomicAdd(&headHigh[at], 1u); }
}

/// Empty the thread's own sums onto the lines; before they can wrap, and at the end.
fn addOwn() {
  addOwnTo(FATE_opticLoss, ownOptic);
  addOwnTo(FATE_lensAbsorbed, ownLens);
  addOwnTo(FATE_delivered, ownDelivered);
  ownOptic = vec2u();
  ownLens = vec2u();
  ownDelivered = vec2u();
}

fn addOwnTo(line: u32, own: vec2u) {
  addLineWords(line, own.x);
  addLineWords(setup.fateLm + line, own.y);
}

/// The same for a number of steps without sign.
fn addLineWords(at: u32, v: u32) {
  let old = atomicAdd(&lines[at * COPIES + copyNow], v);
  if (old + v < old) { atomicAdd(&linesHigh[at], 1u); }
}

fn ownFull() -> bool {
  let most = max(max(ownOptic, ownLens), ownDelivered);
  return max(most.x, most.y) >= OWN_MOST;
}

/// The last addition to a map: its word, what was added and what stood there.
var<private> lastMap: vec3u;

/// Add a number of steps to place `at` of the maps. Whether it wrapped is checked when the next one comes: nobody waits for the memory's answer.
fn addMap(at: u32, v: u32) {
  carryMap();
  let word = tallyBase + 2u * at;
  lastMap = vec3u(word, v, atomicAdd(&tallies[word], v));
}

/// Carry the last addition, if it wrapped.
fn carryMap() {
  if (lastMap.y + lastMap.z < lastMap.z) { atomicAdd(&tallies[lastMap.x + 1u], 1u); }
}

/// The ray is emitted.
fn emit() {
  ray.w = 1.0;
  ray.lm = lumensOf(1.0);
  emittedLow += ray.lm;
  emittedHigh += select(0u, 1u, emittedLow < ray.lm);
  emittedRays += 1u;
}

/// The ray keeps `left` of its weight (on the grid); the rest goes onto a line.
fn book(line: u32, left: f32) {
  addLost(line, keepOnly(left));
}

fn addLost(line: u32, lost: vec2u) {
  if (lost.x != 0u) { addLine(line, i32(lost.x)); }
  if (lost.y != 0u) { addLine(setup.fateLm + line, i32(lost.y)); }
}

/// The ray keeps `left` of its weight; what it loses, in steps (of what it gains, the complement).
fn keepOnly(left: f32) -> vec2u {
  let lm = lumensOf(left);
  let lost = vec2u(stepsOf(ray.w) - stepsOf(left), ray.lm - lm);
  ray.w = left;
  ray.lm = lm;
  return lost;
}

/// The ray leaves the lamp towards the target.
fn bookDelivered(line: u32) {
  let lm = ray.lm;
  if (line == FATE_delivered) {
    ownDelivered += vec2u(stepsOf(ray.w), lm);
  } else {
    addLine(line, i32(stepsOf(ray.w)));
    addLine(setup.fateLm + line, i32(lm));
  }
  let d = ray.dir;
  let sin2 = dot(d.xy, d.xy);
  let sin = sqrt(sin2);
  // θ / sinθ by the arcsine's series near the axis, where the arctangent would lose digits
  var scale = 1.0 + sin2 * (1.0 / 6.0 + sin2 * (3.0 / 40.0 + sin2 * (5.0 / 112.0 + sin2 * (35.0 / 1152.0))));
  if (sin2 >= 0.04 || d.z < 0.0) { scale = TURN * shareOfTurn(d.z, sin) / max(sin, 1e-12); }
  let theta = sin * scale;
  if (sin < setup.axialSin) { addLine(setup.axialLm, i32(lm)); }
  var bin: u32;
  if (theta < setup.fineHalfRad) {
    bin = min(setup.fineBins - 1u, u32(theta * setup.finePerRad));
  } else {
    bin = setup.fineBins + min(setup.coarseBins - 1u, u32((theta - setup.fineHalfRad) * setup.coarsePerRad));
    let gamma = min(setup.sphereGamma - 1u, u32(theta * setup.gammaPerRad));
    let c = min(setup.sphereC - 1u, u32(shareOfTurn(d.x, d.y) * f32(setup.sphereC)));
    addMap(setup.sphereLm + gamma * setup.sphereC + c, lm);
  }
  addHead(bin, lm);
  if (ray.riser) { addMap(setup.profileRiserLm + bin, lm); }
  addSquare(setup.windowLm, d.xy * scale, setup.fineHalfRad, setup.windowPerRad, setup.windowN, lm);
  if (d.z > 1e-6) { onTarget(lm); }
}

fn onTarget(lm: u32) {
  let place = ray.pos.xy + ray.dir.xy * ((setup.targetZMm - ray.pos.z) / ray.dir.z);
  let half = vec2f(setup.targetHalfXMm, setup.targetHalfYMm);
  let uv = (place + half) * vec2f(setup.targetPerXMm, setup.targetPerYMm);
  let n = setup.targetN;
  if (uv.x >= 0.0 && uv.y >= 0.0 && uv.x < f32(n) && uv.y < f32(n)) {
    addHead(setup.targetLm - setup.profileLm + u32(uv.y) * n + u32(uv.x), lm);
    // The disc lies on the target.
    if (dot(place, place) <= setup.targetCentreMm * setup.targetCentreMm) { addLine(setup.targetCentreLm, i32(lm)); }
  }
}

/// Onto a square map of n × n bins over ± half.
fn addSquare(at: u32, place: vec2f, half: f32, perUnit: f32, n: u32, v: u32) {
  let uv = (place + half) * perUnit;
  if (uv.x >= 0.0 && uv.y >= 0.0 && uv.x < f32(n) && uv.y < f32(n)) { addMap(at + u32(uv.y) * n + u32(uv.x), v); }
}

fn onLens() {
  addSquare(setup.lensW, ray.pos.xy, setup.lensHalfMm, setup.lensPerMm, setup.lensN, stepsOf(ray.w));
}

fn onWall() {
  let round = min(setup.wallRound - 1u, u32(shareOfTurn(ray.pos.x, ray.pos.y) * f32(setup.wallRound)));
  let along = u32(clamp((ray.pos.z - setup.wallZInMm) * setup.wallPerMm, 0.0, f32(setup.wallAlong) - 1.0));
  addMap(setup.wallW + along * setup.wallRound + round, stepsOf(ray.w));
}

fn onFace() {
  addSquare(setup.faceW, ray.pos.xy, setup.faceHalfMm, setup.facePerMm, setup.faceN, stepsOf(ray.w));
}

/// The ray as it is now, into its slot: x y z dx | dy dz weight lumens | nm, and how it ended.
fn keep(slot: u32, fate: u32) {
  let at = slot * RECORD_VECTORS;
  records[at] = vec4f(ray.pos, ray.dir.x);
  records[at + 1u] = vec4f(ray.dir.yz, ray.w, f32(ray.lm) * (1.0 / LM_ONE));
  records[at + 2u] = vec4f(ray.nm, f32(fate), 0.0, 0.0);
}

/// Add 64 bits to place `at` of the batch's tally in the device's memory.
fn addTally(at: u32, low: u32, high: u32) {
  let word = tallyBase + 2u * at;
  var more = high;
  if (low != 0u) {
    let old = atomicAdd(&tallies[word], low);
    more += select(0u, 1u, old + low < old);
  }
  if (more != 0u) { atomicAdd(&tallies[word + 1u], more); }
}

/// What the workgroup has gathered, after a barrier, by its lanes in turn.
fn addGathered(lane: u32, lanes: u32) {
  for (var at = lane; at < LINES; at += lanes) {
    var low = 0u;
    var high = atomicLoad(&linesHigh[at]);
    for (var copy = 0u; copy < COPIES; copy++) {
      let v = atomicLoad(&lines[at * COPIES + copy]);
      low += v;
      high += select(0u, 1u, low < v);
    }
    addTally(at, low, high);
  }
  for (var i = lane; i < BINS; i += lanes) { addTally(setup.profileLm + i, atomicLoad(&head[i]), atomicLoad(&headHigh[i])); }
}

/// What this thread's rays were given at its emission.
fn addEmitted() {
  addTally(setup.emitted, emittedRays << 23u, emittedRays >> 9u);
  addTally(setup.emitted + 1u, emittedLow, emittedHigh);
}
