// Twin of src/engine/forward/assembledWalk.ts. The way of a ray through an assembled lamp: between face, a tunnel of stretches and elements that
// may stand tilted, from zone to zone until its weight has ended somewhere. As walk.wgsl, which traces the plain lamp.

/// Steps that a new ray has gone on its straight way.
var<private> stepsGone: u32;

/// A plane that a ray has passed by less than this, mm, is still before it: rounding, where two bodies touch.
const SLACK_MM = 1e-3;
/// How far past an end of its stretch rounding may put the place where a nearly parallel ray meets its wall: as a share of the length, or in mm.
const WALL_END = 1e-3;

fn moveTo(z: f32) {
  ray.pos += ((z - ray.pos.z) / ray.dir.z) * ray.dir;
  ray.pos.z = z;
}

fn hitFace() -> u32 {
  moveTo(0.0);
  if (!insideFace(ray.pos.x, ray.pos.y, param(P_faceShape), param(P_faceHalf), param(P_faceHalfY))) { return endAtPart(FATE_behindFace, PART_BEHIND_FACE); }
  onFace();
  if (!reflects(FATE_face, PART_FACE, param(P_faceRho))) { return ENDS; }
  lambertian(vec3f(0.0, 0.0, 1.0));
  return aboveFace();
}

fn aboveFace() -> u32 {
  if (HAS_TUNNEL) { return GAP_BELOW; }
  return leaveTop();
}

/// Into the tunnel by its mouth: a step of the twin goes on through it.
fn enterMouth() -> u32 {
  if (ray.dir.z == 0.0) { return endAtPart(FATE_leakedFaceGap, PART_FACE_GAP); }
  stretchNow = 0u;
  moveTo(param(P_zIn));
  if (insideStretch(ray.pos.xy, ray.pos.z)) { return TUNNEL; }
  return endAtPart(FATE_leakedFaceGap, PART_FACE_GAP);
}

/// On through stretches until a wall, a step or an end of the tunnel is met. What the twin asks of one stretch after the other is asked here of
/// as many as make a convex body: who is inside at both its ends is inside between them.
fn crossTunnel() -> u32 {
  if (ray.dir.z == 0.0) { return TUNNEL_WALL; }
  let up = ray.dir.z > 0.0;
  let last = select(0u, setup.stretches - 1u, up);
  loop {
    let first = stretchNow;
    stretchNow = convexEnd(first, up);
    let p = borderAhead(up);
    let zEnd = endOf(stretchNow, up);
    if (!insideStretch(p, zEnd)) {
      toStretchLeft(first, up);
      return TUNNEL_WALL;
    }
    ray.pos = vec3f(p, zEnd);
    if (stretchNow == last) { break; }
    let own = stretchNow;
    stretchNow = select(own - 1u, own + 1u, up);
    if (stepAbove(min(own, stretchNow))) {
      if (!insideStretch(p, zEnd)) {
        stretchNow = own;
        return TUNNEL_STEP;
      }
    }
  }
  if (up) { return leaveTop(); }
  return GAP_BELOW;
}

fn endOf(stretch: u32, up: bool) -> f32 {
  return select(stretchParam(stretch, STRETCH_zIn), stretchParam(stretch, STRETCH_zOut), up);
}

/// Where the ray comes to the end ahead of its stretch.
fn borderAhead(up: bool) -> vec2f {
  return ray.pos.xy + ((endOf(stretchNow, up) - ray.pos.z) / ray.dir.z) * ray.dir.xy;
}

/// The ray, in stretch `first`, is outside at the end ahead of stretch stretchNow, and all between is convex: into the stretch whose wall it meets.
fn toStretchLeft(first: u32, up: bool) {
  var low = 0u;
  var high = select(first - stretchNow, stretchNow - first, up);
  while (low < high) {
    let middle = (low + high) >> 1u;
    stretchNow = select(first - middle, first + middle, up);
    if (insideStretch(borderAhead(up), endOf(stretchNow, up))) { low = middle + 1u; } else { high = middle; }
  }
  stretchNow = select(first - low, first + low, up);
  if (low > 0u) { moveTo(endOf(stretchNow, !up)); }
}

/// What a tilted emitter sends down from above the tunnel goes back into it.
fn leaveTop() -> u32 {
  elementNow = 0u;
  if (LENS_KIND > 0u || !(ray.dir.z > 0.0)) { return GAP_ABOVE; }
  return deliver();
}

/// To the wall of the stretch, or (TUNNEL_STEP) off the step on which the ray stands, within the wider of its two stretches, whose finish it has.
fn meetWall(onStep: bool) -> u32 {
  var along: f32;
  var part: u32;
  if (onStep) {
    let below = select(stretchNow - 1u, stretchNow, ray.dir.z > 0.0);
    along = stretchParam(below, STRETCH_stepMapAt);
    let wide = stretchParam(below, STRETCH_stepMapShare);
    if (wide > 0.0) { along += wide * shareOfStep(below, below + 1u, ray.pos.xy); }
    part = stepPart(below);
  } else {
    toWall();
    let begin = wallParam(STRETCH_zIn);
    let end = wallParam(STRETCH_zOut);
    let z = ray.pos.z + ray.reach * ray.dir.z;
    let slack = max(SLACK_MM, WALL_END * (end - begin));
    if (!(z >= begin - slack && z <= end + slack)) { return endAt(FATE_lost); }
    ray.pos = vec3f(ray.pos.xy + ray.reach * ray.dir.xy, clamp(z, begin, end));
    along = wallParam(STRETCH_mapAt) + (ray.pos.z - begin) / (end - begin) * wallParam(STRETCH_mapShare);
    part = wallPart(stretchNow);
  }
  onUnrolled(along, shareRound(ray.pos.xy, ray.pos.z));
  if (!reflects(FATE_wall, part, stretchReflectance())) { return ENDS; }
  if (onStep) { leaveStep(); } else { leaveWall(); }
  return TUNNEL;
}

/// Distance to the front of an element ahead; NEVER where the ray does not run towards it, or has passed it.
fn toFront(element: u32) -> f32 {
  let dz = frameDz(element);
  let away = elementRow(element, 3u).z - frameZ(element);
  return select(NEVER, max(0.0, away) / select(1.0, dz, dz > 0.0), dz > 0.0 && away >= -SLACK_MM);
}

/// The same to the back of one behind.
fn toBack(element: u32) -> f32 {
  let dz = frameDz(element);
  let away = frameZ(element) - elementRow(element, 3u).w;
  return select(NEVER, max(0.0, away) / select(1.0, -dz, dz < 0.0), dz < 0.0 && away >= -SLACK_MM);
}

/// Between tunnel or face and the first element, or between two elements: to the nearest plane ahead.
fn crossGap() -> u32 {
  let gap = elementNow;
  var up = NEVER;
  if (LENS_KIND > 0u) { up = toFront(gap); }
  var down = NEVER;
  if (gap > 0u) {
    down = toBack(gap - 1u);
  } else if (ray.dir.z < 0.0) {
    down = (select(0.0, param(P_zOut), HAS_TUNNEL) - ray.pos.z) / ray.dir.z;
  }
  let ahead = up < NEVER && up <= down;
  if (gap > 0u && !ahead && down >= NEVER) { return endAtPart(FATE_outsideLens, gapPart(gap - 1u)); }
  if (LENS_KIND > 0u && (ahead || gap > 0u)) { return meetElement(min(up, down), select(gap - 1u, gap, ahead), ahead); }
  if (down >= NEVER) {
    // Past the first element's plane, beside its piece, or along it.
    if (LENS_KIND > 0u && frameDz(0u) > 0.0) { return endAtPart(FATE_outsideLens, PART_OUTSIDE); }
    if (HAS_TUNNEL) { return endAtPart(FATE_leakedLensGap, PART_LENS_GAP); }
    return endAtPart(FATE_leakedFaceGap, PART_FACE_GAP);
  }
  if (!HAS_TUNNEL) { return GAP_BELOW; }
  stretchNow = setup.stretches - 1u;
  ray.pos = vec3f(ray.pos.xy + down * ray.dir.xy, param(P_zOut));
  if (!insideStretch(ray.pos.xy, ray.pos.z)) { return endAtPart(FATE_leakedLensGap, PART_LENS_GAP); }
  return TUNNEL;
}

/// In the tunnel, before its wall or on a step: a step of the twin goes on until the ray has left it.
fn isMidStep(zone: u32) -> bool {
  return zone == TUNNEL_WALL || zone == TUNNEL_STEP;
}

/// From the first element down to the face, up again and from wall to wall; zone and steps afterwards. Steps are counted as the twin counts them.
/// Each function stands here once: what the lanes do in turn is long, and a device fetches its instructions anew each time.
fn wander(zone_: u32, steps_: u32) -> vec2u {
  var zone = zone_;
  var steps = steps_;
  if (zone == GAP_ABOVE && steps < STEP_LIMIT) {
    zone = crossGap();
    steps += u32(zone != GAP_BELOW && zone != AT_ELEMENT);
  }
  for (var k = 0u; k < WALLS && steps < STEP_LIMIT; k++) {
    if (zone == GAP_BELOW && ray.dir.z < 0.0) {
      zone = hitFace();
      steps++;
    }
    if (zone == GAP_BELOW && ray.dir.z >= 0.0 && steps < STEP_LIMIT) { zone = enterMouth(); }
    if (zone == TUNNEL && steps < STEP_LIMIT) {
      zone = crossTunnel();
      steps += u32(!isMidStep(zone));
    }
    if (isMidStep(zone)) {
      zone = meetWall(zone == TUNNEL_STEP);
      steps++;
    }
  }
  return vec2u(zone, steps);
}

/// The same as goOn of a new ray: from the first element on all lanes are at the same one, so that what is read of it is read once for all.
fn goOnNew(zone_: u32) {
  if (SUN || LENS_KIND == 0u) {
    goOn(zone_, stepsGone, 0u);
    return;
  }
  var zone = zone_;
  var steps = stepsGone;
  var own = 0u;
  var straight = zone == GAP_ABOVE;
  for (var e = 0u; e < setup.elements; e++) {
    elementNow = e;
    if (straight) {
      let up = toFront(e);
      var down = NEVER;
      if (e > 0u) { down = toBack(e - 1u); } else if (ray.dir.z < 0.0) { down = 0.0; }
      straight = up < NEVER && up <= down;
      if (straight) {
        zone = meetElement(up, e, true);
        straight = zone == AT_ELEMENT;
        if (straight) {
          let outcome = enterElement();
          zone = outcome;
          straight = outcome < BEFORE_FLAT;
          if (straight) {
            zone = leaveElement(outcome);
            straight = zone == GAP_ABOVE && towardsTarget;
          }
        }
        steps += u32(zone < BEFORE_FLAT);
      }
      own = elementNow;
    }
  }
  elementNow = own;
  if (zone == ENDS || zone == DELIVERS) {
    settle(zone);
  } else if (zone != ENDED) {
    setAside(zone, steps);
  }
}

/// Straight through as many elements as follow, and on as far as the ray is booked or waits. What an element sends back waits: with few of
/// its kind beside it, it would hold up all the others.
fn goOn(zone_: u32, steps_: u32, outcome_: u32) {
  var zone = zone_;
  var steps = steps_;
  var outcome = outcome_;
  if (LENS_KIND > 0u) {
    loop {
      var straight = false;
      if (zone == GAP_ABOVE && steps < STEP_LIMIT) {
        zone = crossGap();
        steps += u32(zone != GAP_BELOW && zone != AT_ELEMENT);
      }
      if (SUN && zone == LENS) { zone = crossSunlit(); }
      if (zone == AT_ELEMENT) {
        straight = true;
        outcome = enterElement();
        zone = select(LENS_PASSED, outcome, outcome >= BEFORE_FLAT);
      }
      if (zone != LENS_PASSED) { break; }
      zone = leaveElement(outcome);
      steps++;
      if (!straight || zone != GAP_ABOVE || towardsTarget != fromSource) { break; }
    }
  }
  if (steps >= STEP_LIMIT && (zone == GAP_BELOW || zone == TUNNEL || zone == GAP_ABOVE)) { zone = endAt(FATE_limit); }
  if (zone == ENDS || zone == DELIVERS) {
    settle(zone);
  } else if (zone != ENDED) {
    setAside(zone, steps);
  }
}

/// An emitter's ray as it stands, as far as it goes straight; the zone it comes to.
fn begin() -> u32 {
  stepsGone = 0u;
  if (!HAS_TUNNEL) { return aboveFace(); }
  let z = ray.pos.z;
  if (z < param(P_zIn)) {
    if (!(ray.dir.z > 0.0)) { return GAP_BELOW; }
    if (enterMouth() != TUNNEL) { return ENDS; }
    let zone = crossTunnel();
    stepsGone = u32(!isMidStep(zone));
    return zone;
  }
  if (z >= param(P_zOut) && LENS_KIND == 0u && !(ray.dir.z > 0.0)) { return endAtPart(FATE_leakedLensGap, PART_LENS_GAP); }
  if (z >= param(P_zOut)) { return leaveTop(); }
  stretchNow = setup.stretches - 1u;
  while (stretchNow > 0u && z < wallParam(STRETCH_zIn)) { stretchNow--; }
  if (insideStretch(ray.pos.xy, z)) { return TUNNEL; }
  return endAtPart(FATE_blocked, PART_BLOCKED);
}

/// An emitter under the face.
fn endBlocked() -> u32 {
  stepsGone = 0u;
  return endAtPart(FATE_blocked, PART_BLOCKED);
}

/// A ray of the sun; the zone that it begins in.
fn emitSun() -> u32 {
  stepsGone = 0u;
  if (LENS_KIND > 0u) {
    elementNow = setup.elements - 1u;
    placeSun(elementRow(elementNow, 3u).w);
    outOfFrame(elementNow);
    aimSun();
  } else {
    leaveSun();
  }
  chooseWavelength(0u);
  emit();
  if (LENS_KIND > 0u) { return LENS; }
  if (!HAS_TUNNEL) { return GAP_BELOW; }
  stretchNow = setup.stretches - 1u;
  if (insideStretch(ray.pos.xy, ray.pos.z)) { return TUNNEL; }
  return endAtPart(FATE_outsideLens, PART_OUTSIDE);
}

/// Sunlight on the outermost element, which may stand edge-on to some of the sun's disc.
fn crossSunlit() -> u32 {
  let e = elementNow;
  if (!(frameDz(e) < 0.0)) { return endAtPart(FATE_outsideLens, gapPart(e)); }
  fromSource = false;
  intoFrame(e);
  ray.pos.z = elementRow(e, 3u).w;
  return AT_ELEMENT;
}
