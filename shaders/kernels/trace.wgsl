// The tracer's entry. Twin of src/engine/cpu/kernel.ts. A workgroup takes turns, all its lanes in one kind of step: new rays as far as they go
// straight; or as many rays as there are lanes of those that wait in the cavity, or between the grooves. Whoever has not ended waits again.

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
    first = array(drawAt(0u), drawAt(1u), drawAt(2u), drawAt(3u), drawAt(4u), drawAt(5u));
  } else {
    first = array(pointLow.x, pointLow.y, pointLow.z, pointHigh.x, pointHigh.y, pointHigh.z);
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
  let emitter = whichEmitter(first[DRAW_whichEmitter], u32(param(P_emitters)));
  let kindNow = u32(emitterChoice(emitter).x);
  leaveEmitter(emitter, kindNow);
  chooseWavelength(u32(kindRow(kindNow, 2u)[KIND_spectrumAt - 8u]));
  emit();
  let passes = kindRow(kindNow, 1u)[KIND_efficiency - 4u];
  if (passes < 1.0) { ownOptic += vec2u(keepOnly(onGrid(passes))); }
  if (CUPS) {
    let kind = setup.kindsAt + KIND_size * kindNow;
    if (tables[kind + KIND_optic] > 0.0) {
      let place = emitterPlace(emitter);
      let cs = place.zw;
      let shift = vec2f(tables[kind + KIND_cupX], tables[kind + KIND_cupY]);
      let turned = vec2f(cs.x * shift.x - cs.y * shift.y, cs.y * shift.x + cs.x * shift.y);
      let axis = place.xy - turned;
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

const BEGIN = 2u; // besides CAVITY and GROOVES
const STOP = 3u;
/// What the workgroup does next: which kind of step, the first place on its stack, how many.
var<workgroup> turn: vec3u;
/// Walls met in the cavity, and surfaces in the grooves, before the rays are sorted again.
override WALLS: u32 = 2u;
/// New rays a lane begins in one turn.
override BEGIN_ROUNDS: u32 = 4u;
override GROOVE_STEPS: u32 = 2u;

/// Full lanes first, then new rays. What is left when there are none any more waits for the next dispatch, or (the last) is walked to its end.
fn chooseTurn(more: bool) -> vec3u {
  let cavity = atomicLoad(&waits[CAVITY]);
  let grooves = atomicLoad(&waits[GROOVES]);
  var stack = select(CAVITY, GROOVES, grooves > cavity);
  let count = max(cavity, grooves);
  if (count < WORKGROUP && more) { return vec3u(BEGIN, 0u, 0u); }
  if (count == 0u || (count < WORKGROUP && stretch.goesOn > 0u)) { return vec3u(STOP, 0u, 0u); }
  let taken = min(count, WORKGROUP);
  atomicStore(&waits[stack], count - taken);
  return vec3u(stack, count - taken, taken);
}

@compute @workgroup_size(WORKGROUP)
fn main(
  @builtin(workgroup_id) group: vec3u,
  @builtin(num_workgroups) groups: vec3u,
  @builtin(local_invocation_index) lane: u32,
) {
  batchNow = group.x % BATCHES;
  tallyBase = batchNow * 2u * setup.size;
  copyNow = lane % COPIES;
  roomAt = groups.x + group.x * (ROOM * PARTS * WORKGROUP);
  for (var i = lane; i < LINES * COPIES; i += WORKGROUP) { atomicStore(&lines[i], 0u); }
  for (var i = lane; i < BINS; i += WORKGROUP) { atomicStore(&head[i], 0u); }
  for (var i = lane; i < 66u; i += WORKGROUP) {
    let at = batchNow * 198u + 3u * i;
    numbers[i] = vec3u(scrambles[at], scrambles[at + 1u], scrambles[at + 2u]);
  }
  // How many wait from the dispatch before, if there was one.
  if (lane < 2u) { atomicStore(&waits[lane], select(0u, waiting[group.x][lane], stretch.start > stretch.begin)); }
  workgroupBarrier();

  let log2Threads = stretch.log2Threads;
  var next = stretch.start + (group.x / BATCHES) * WORKGROUP + lane;
  if (next < stretch.end) { sobolAt(next); }
  loop {
    storageBarrier();
    workgroupBarrier();
    if (lane == 0u) { turn = chooseTurn(next < stretch.end); }
    let now = workgroupUniformLoad(&turn);
    if (now.x == STOP) { break; }

    var zone = ENDED;
    var steps = 0u;
    if (now.x != BEGIN) {
      if (lane < now.z) {
        let taken = takeUp(now.x, now.y + lane);
        zone = taken.x;
        steps = taken.y;
      }
      storageBarrier();
      workgroupBarrier();
    }
    for (var round = select(1u, BEGIN_ROUNDS, now.x == BEGIN); round > 0u; round--) {
      var outcome = 0u;
      if (now.x == BEGIN) {
        if (next >= stretch.end) { break; }
        rayIndex = next;
        steps = 0u;
        zone = birth();
        if (zone == GAP_BELOW) {
          zone = crossGapBelow();
          steps = 1u;
        }
        sobolStep(next, log2Threads);
        next += 1u << log2Threads;
      } else if (now.x == CAVITY) {
        let gone = wander(zone, steps);
        zone = gone.x;
        steps = gone.y;
      } else {
        for (var k = 0u; k < GROOVE_STEPS && zone >= BEFORE_FLAT; k++) {
          let to = stepFresnel(zone);
          zone = select(LENS_PASSED, to, to >= BEFORE_FLAT);
          outcome = to;
        }
      }

      if (zone == LENS) {
        if (steps >= STEP_LIMIT) {
          zone = endAt(FATE_limit);
        } else if (LENS_KIND == 1u) {
          let fromFace = ray.dir.z > 0.0;
          passIdeal();
          zone = pastLens(fromFace);
        } else {
          outcome = enterLens();
          zone = select(LENS_PASSED, outcome, outcome >= BEFORE_FLAT);
        }
        steps++;
      }
      if (zone == LENS_PASSED) { zone = leaveLens(outcome); }
      if (zone == ENDS || zone == DELIVERS) {
        settle(zone);
      } else if (zone != ENDED) {
        setAside(zone, steps);
      }
      if (ownFull()) { addOwn(); }
    }
  }

  if (lane == 0u) { waiting[group.x] = vec4u(atomicLoad(&waits[CAVITY]), atomicLoad(&waits[GROOVES]), 0u, 0u); }
  addOwn();
  addEmitted();
  workgroupBarrier();
  addGathered(lane, WORKGROUP);
}
