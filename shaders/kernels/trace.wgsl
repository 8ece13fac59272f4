// The tracer's entry. Twin of src/engine/forward/kernel.ts. A workgroup takes turns, all its lanes in one kind of step: new rays as far as they go
// straight; or as many rays as there are lanes of those that wait in the cavity, or between the grooves. Whoever has not ended waits again.

var<private> first: array<u32, 6>;
/// The ray's index within its batch, and whether it leaves a record.
var<private> rayIndex: u32;
var<private> batchNow: u32;
/// What the streams of this batch have in common.
var<private> streamRun: u32;

fn recordSlot() -> u32 {
  return (rayIndex - chunk.begin) * BATCHES + batchNow;
}

fn recordAsked() -> bool {
  return rayIndex * BATCHES + batchNow < chunk.recordsBelow;
}

/// The ray ends, its weight not yet booked.
fn finish(delivered: bool) {
  if (recordAsked() && (chunk.recordAll > 0u || (delivered && !SUN))) { keep(recordSlot(), lastFate); }
}

/// Sun: the ray has come in through the lens.
fn enter() {
  if (recordAsked() && chunk.recordAll == 0u) { keep(recordSlot(), 0u); }
}

/// Start a ray, and follow it as far as it goes straight; the zone it comes to.
fn emitRay() -> u32 {
  seedStream(streamRun, rayIndex);
  if (PLAIN) {
    first = array(drawAt(0u), drawAt(1u), drawAt(2u), drawAt(3u), drawAt(4u), drawAt(5u));
  } else {
    first = array(pointLow.x, pointLow.y, pointLow.z, pointHigh.x, pointHigh.y, pointHigh.z);
  }
  if (SUN) { return emitSun(); }
  let emitter = whichEmitter(first[DRAW_whichEmitter], setup.emitters);
  let kindNow = kindChosen;
  leaveEmitter(emitter, kindNow);
  let light = emissionRow(kindNow, 1u);
  chooseWavelength(light.w);
  emit();
  ownOptic += keepOnly(f32(light.z) * (1.0 / W_ONE));
  if (CUPS) {
    if (!throughCup(emitter, kindNow)) { return endAt(FATE_opticLoss); }
  }
  if (TILTED) { return startTilted(emitter); }
  if (!HAS_TUNNEL && LENS_KIND == 0u) { return deliver(); }
  if (HAS_TUNNEL && ray.pos.z >= param(P_zIn)) { return emitInTunnel(); }
  if (!(ray.dir.z > 0.0)) { return GAP_BELOW; }
  if (HAS_TUNNEL) { return throughTunnel(); }
  return reachLens();
}

/// Out of a tilted emitter's frame: it may shine down onto the face, or stand under it.
fn startTilted(emitter: u32) -> u32 {
  leaveFrame(emitter);
  let z = ray.pos.z;
  if (z < 0.0) { return endAt(FATE_blocked); }
  let up = ray.dir.z > 0.0;
  if (HAS_TUNNEL && z >= param(P_zIn)) {
    if (z >= param(P_zOut)) {
      if (LENS_KIND > 0u || !up) { return GAP_ABOVE; }
      return deliver();
    }
    if (insideSection(ray.pos.x, ray.pos.y, sectionAt(z))) { return TUNNEL; }
    return endAt(FATE_blocked);
  }
  if (!up) { return GAP_BELOW; }
  if (HAS_TUNNEL) { return throughTunnel(); }
  if (LENS_KIND == 0u) { return deliver(); }
  return reachLens();
}

fn emitSun() -> u32 {
  leaveSun();
  chooseWavelength(0u);
  emit();
  if (LENS_KIND > 0u) { return LENS; }
  if (!HAS_TUNNEL) { return GAP_BELOW; }
  if (insideSection(ray.pos.x, ray.pos.y, sectionAt(param(P_zOut)))) { return TUNNEL; }
  return endAt(FATE_outsideLens);
}

/// The emitter stands higher than the mouth.
fn emitInTunnel() -> u32 {
  if (ray.pos.z >= param(P_zOut)) {
    if (LENS_KIND > 0u) { return GAP_ABOVE; }
    return deliver();
  }
  if (insideSection(ray.pos.x, ray.pos.y, sectionAt(ray.pos.z))) { return TUNNEL; }
  return endAt(FATE_blocked);
}

/// Through the emitter's cup, if it has one; false when nothing of the ray is left.
fn throughCup(emitter: u32, kindNow: u32) -> bool {
  let kind = setup.kindsAt + KIND_size * kindNow;
  if (tables[kind + KIND_optic] > 0.0) {
    let place = emitterPlace(emitter);
    let cs = place.zw;
    let shift = vec2f(tables[kind + KIND_cupX], tables[kind + KIND_cupY]);
    let turned = vec2f(cs.x * shift.x - cs.y * shift.y, cs.y * shift.x + cs.x * shift.y);
    let axis = place.xy - turned;
    let left = onGrid(passCup(kind, axis, tables[kind + KIND_z] - tables[kind + KIND_cupZ], ray.w));
    if (left == 0.0) { return false; }
    book(FATE_opticLoss, left);
  }
  return true;
}

/// Lanes that go together on most devices.
const TOGETHER = 32u;
/// So many emitters don't fit into the memory nearest to the lanes.
const MANY_EMITTERS = 2048u;
const BEGIN = 2u; // besides CAVITY and GROOVES
const STOP = 3u;
/// What the workgroup does next: which kind of step, the first place on its stack, how many.
var<workgroup> turn: vec3u;
/// Walls met in the cavity, and surfaces in the grooves, before the rays are sorted again.
override WALLS: u32 = 2u;
/// New rays a lane begins in one turn.
override BEGIN_ROUNDS: u32 = 4u;
override GROOVE_STEPS: u32 = 2u;

/// Full lanes first, then new rays: so many blocks of them from `block` on. What is left when there are none any more waits for the next
/// dispatch, or (the last) is walked to its end.
fn chooseTurn(block: u32, blocks: u32) -> vec3u {
  let cavity = atomicLoad(&waits[CAVITY]);
  let grooves = atomicLoad(&waits[GROOVES]);
  var stack = select(CAVITY, GROOVES, grooves > cavity);
  let count = max(cavity, grooves);
  if (count < WORKGROUP && blocks > 0u) { return vec3u(BEGIN, block, min(blocks, BEGIN_ROUNDS)); }
  if (count == 0u || (count < WORKGROUP && chunk.goesOn > 0u)) { return vec3u(STOP, 0u, 0u); }
  let taken = min(count, WORKGROUP);
  atomicStore(&waits[stack], count - taken);
  return vec3u(stack, count - taken, taken);
}

/// Through the lens, if the ray stands before it, and on as far as it is booked or waits.
fn goOn(zone_: u32, steps_: u32, outcome_: u32) {
  var zone = zone_;
  var steps = steps_;
  var outcome = outcome_;
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
}

/// So many blocks of new rays, of each block one: the lanes' places in it follow one another.
fn beginRays(block: u32, blocks: u32, place: u32) {
  for (var b = block; b < block + blocks; b++) {
    rayIndex = (b << chunk.log2Threads) + place;
    if (rayIndex >= chunk.start && rayIndex < chunk.end) {
      ray = Ray();
      let zone = emitRay();
      // A zone that has been crossed already counts as a step, as in the twin.
      let stands = SUN || zone == GAP_BELOW || zone == TUNNEL || zone == GAP_ABOVE;
      goOn(zone, select(1u, 0u, stands), 0u);
    }
    sobolStep(b, chunk.log2Threads);
  }
}

@compute @workgroup_size(WORKGROUP)
fn main(
  @builtin(workgroup_id) group: vec3u,
  @builtin(num_workgroups) groups: vec3u,
  @builtin(local_invocation_index) lane: u32,
) {
  batchNow = group.x % BATCHES;
  streamRun = runOf(chunk.seed, batchNow);
  tallyBase = batchNow * 2u * setup.size;
  copyNow = lane % COPIES;
  roomAt = groups.x + group.x * (ROOM * PARTS * WORKGROUP);
  for (var i = lane; i < LINES * COPIES; i += WORKGROUP) { atomicStore(&lines[i], 0u); }
  for (var i = lane; i < LINES; i += WORKGROUP) { atomicStore(&linesHigh[i], 0u); }
  for (var i = lane; i < BINS; i += WORKGROUP) {
    atomicStore(&head[i], 0u);
    atomicStore(&headHigh[i], 0u);
  }
  for (var i = lane; i < 66u; i += WORKGROUP) {
    let at = batchNow * 198u + 3u * i;
    numbers[i] = vec3u(scrambles[at], scrambles[at + 1u], scrambles[at + 2u]);
  }
  // How many wait from the dispatch before, if there was one.
  if (lane < 2u) { atomicStore(&waits[lane], select(0u, waiting[group.x][lane], chunk.start > chunk.begin)); }
  workgroupBarrier();

  // A block holds a ray of every thread of the batch. Lanes that go together take points that lie a power of two apart: the sequence makes
  // them neighbours in all its dimensions, and they stay together longer. Of many emitters a whole workgroup takes such neighbours, so that it
  // reads one part of their table.
  let apart = (lane % TOGETHER) * (WORKGROUP / TOGETHER) + lane / TOGETHER;
  let own = group.x / BATCHES;
  let place = select(own * WORKGROUP + apart, own + apart * (groups.x / BATCHES), setup.emitters >= MANY_EMITTERS);
  var block = chunk.start >> chunk.log2Threads;
  let endBlock = (chunk.end + (1u << chunk.log2Threads) - 1u) >> chunk.log2Threads;
  sobolAt((block << chunk.log2Threads) + place);
  loop {
    storageBarrier();
    workgroupBarrier();
    if (lane == 0u) { turn = chooseTurn(block, endBlock - block); }
    let now = workgroupUniformLoad(&turn);
    if (now.x == STOP) { break; }
    if (now.x == BEGIN) {
      beginRays(now.y, now.z, place);
      block = now.y + now.z;
    } else {
      var zone = ENDED;
      var steps = 0u;
      ray = Ray();
      if (lane < now.z) {
        let taken = takeUp(now.x, now.y + lane);
        zone = taken.x;
        steps = taken.y;
      }
      storageBarrier();
      workgroupBarrier();
      var outcome = 0u;
      if (now.x == CAVITY) {
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
      goOn(zone, steps, outcome);
    }
    if (ownFull()) { addOwn(); }
  }

  if (lane == 0u) { waiting[group.x] = vec4u(atomicLoad(&waits[CAVITY]), atomicLoad(&waits[GROOVES]), 0u, 0u); }
  carryMap();
  addOwn();
  addEmitted();
  workgroupBarrier();
  addGathered(lane, WORKGROUP);
}
