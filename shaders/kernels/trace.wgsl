// The tracer's entry: a thread takes ray after ray of its batch, a fixed stride apart, and steps it from zone to zone. Twin of
// src/engine/cpu/kernel.ts. A thread whose ray has ended takes its next at once (birth inside the loop), so that no lane waits for the
// longest path of its neighbours.

var<private> first: array<u32, 6>;
/// The ray's index within its batch, and whether it leaves a record.
var<private> rayIndex: u32;
var<private> batchNow: u32;

fn recordSlot() -> u32 {
  return (rayIndex - stretch.begin) * BATCHES + batchNow;
}

fn recordAsked() -> bool {
  return rayIndex * BATCHES + batchNow < stretch.recordsBelow;
}

/// The ray ends, its weight not yet booked.
fn finish(delivered: bool) {
  if (recordAsked() && (stretch.recordAll > 0u || (delivered && !SUN))) { keep(recordSlot(), lastFate); }
}

/// Sun: the ray has come in through the lens.
fn enter() {
  if (recordAsked() && stretch.recordAll == 0u) { keep(recordSlot(), 0u); }
}

/// Start a ray; the zone it starts in.
fn birth() -> u32 {
  seedStream(stretch.seed, batchNow, rayIndex);
  if (PLAIN) {
    for (var d = 0u; d < 6u; d++) { first[d] = drawAt(d); }
  } else {
    first = point;
  }
  ray.riser = false;
  ray.returned = false;
  ray.entered = false;
  ray.path = 0.0;
  if (SUN) {
    leaveSun();
    chooseWavelength(0u);
    emit();
    if (LENS_KIND > 0u) { return LENS; }
    if (!HAS_TUNNEL) { return GAP_BELOW; }
    if (insideSection(ray.pos.x, ray.pos.y, sectionAt(param(P_zOut)))) { return TUNNEL; }
    return endAt(FATE_outsideLens);
  }
  let at = setup.emittersAt + E_size * whichEmitter(first[DRAW_whichEmitter], u32(param(P_emitters)));
  let kind = setup.kindsAt + u32(tables[at + E_kind]) * KIND_size;
  leaveEmitter(at);
  chooseWavelength(u32(tables[kind + KIND_spectrumAt]));
  emit();
  let passes = tables[kind + KIND_efficiency];
  if (passes < 1.0) { book(FATE_opticLoss, onGrid(passes)); }
  if (CUPS) {
    if (tables[kind + KIND_optic] > 0.0) {
      let cs = vec2f(tables[at + E_cos], tables[at + E_sin]);
      let shift = vec2f(tables[kind + KIND_cupX], tables[kind + KIND_cupY]);
      let turned = vec2f(cs.x * shift.x - cs.y * shift.y, cs.y * shift.x + cs.x * shift.y);
      let axis = vec2f(tables[at + E_x], tables[at + E_y]) - turned;
      let left = onGrid(passCup(kind, axis, tables[kind + KIND_z] - tables[kind + KIND_cupZ], ray.w));
      if (left == 0.0) { return endAt(FATE_opticLoss); }
      book(FATE_opticLoss, left);
    }
  }
  if (HAS_TUNNEL) {
    if (ray.pos.z >= param(P_zIn)) {
      if (ray.pos.z >= param(P_zOut)) {
        if (LENS_KIND > 0u) { return GAP_ABOVE; }
        return deliver();
      }
      if (insideSection(ray.pos.x, ray.pos.y, sectionAt(ray.pos.z))) { return TUNNEL; }
      return endAt(FATE_blocked);
    }
  } else if (LENS_KIND == 0u) {
    return deliver();
  }
  return GAP_BELOW;
}

@compute @workgroup_size(WORKGROUP)
fn main(@builtin(workgroup_id) group: vec3u, @builtin(local_invocation_index) lane: u32) {
  batchNow = group.x % BATCHES;
  tallyBase = batchNow * 2u * setup.size;
  copyNow = lane % COPIES;
  for (var i = lane; i < LINE_WORDS * COPIES; i += WORKGROUP) { atomicStore(&lines[i], 0u); }
  for (var i = lane; i < HEAD_WORDS; i += WORKGROUP) { atomicStore(&head[i], 0u); }
  for (var i = lane; i < 198u; i += WORKGROUP) { numbers[i] = scrambles[batchNow * 198u + i]; }
  workgroupBarrier();

  let log2Threads = stretch.log2Threads;
  rayIndex = stretch.start + (group.x / BATCHES) * WORKGROUP + lane;
  var zone = ENDED;
  var steps = 0u;
  var begun = false;
  loop {
    if (zone == ENDED) {
      if (begun) {
        sobolStep(rayIndex, log2Threads);
        rayIndex += 1u << log2Threads;
      } else {
        begun = true;
        if (rayIndex < stretch.end) { sobolAt(rayIndex); }
      }
      if (rayIndex >= stretch.end) { break; }
      zone = birth();
      steps = 0u;
    }
    if (zone < ENDS) {
      if (steps >= STEP_LIMIT) { zone = endAt(FATE_limit); } else { zone = follow(zone); }
      steps++;
    }
    if (zone >= ENDS) {
      settle(zone);
      zone = ENDED;
    }
  }

  addEmitted();
  workgroupBarrier();
  addGathered(lane, WORKGROUP);
}
