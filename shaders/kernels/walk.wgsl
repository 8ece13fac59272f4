// Twin of src/engine/forward/walk.ts. A ray's way between face, wall and lens: from zone to zone until its weight has ended somewhere. In its
// place for lamps of several stretches or elements: assembledWalk.wgsl.

const ENDED = 0u;
const GAP_BELOW = 1u; // between face and tunnel, or all the way to the lens when there is no tunnel
const TUNNEL = 2u; // somewhere in the tunnel
const GAP_ABOVE = 3u;
const TUNNEL_WALL = 4u; // in the tunnel, and sure to meet its wall
const LENS = 5u;
// From BEFORE_FLAT (10) on: in a Fresnel lens, in that state of its walk.
/// The ray is over, its weight not yet booked: every end is booked at one place, so that the lanes that end do so together.
const ENDS = 6u;
const DELIVERS = 7u;
/// The ray has been through the lens.
const LENS_PASSED = 8u;
/// Under this weight the roulette begins; a survivor is doubled.
const SMALL = 0.01;
/// How far past an end of the tunnel rounding may put the place where a nearly parallel ray meets its wall, as a share of the length.
const WALL_END = 1e-3;

/// Line for a loss: its own, or the lens's returned light once the lens has sent the ray back.
fn lineOf(line: u32) -> u32 {
  return select(line, FATE_lensReturnedLost, ray.returned);
}

fn lose(line: u32, left: f32) {
  lastFate = lineOf(line);
  book(lastFate, left);
}

/// End the ray with all its weight on one line.
fn endAt(line: u32) -> u32 {
  // What the tracer itself gave up keeps its own line, so that the check on it sees all of it.
  lastFate = select(lineOf(line), line, line == FATE_limit || line == FATE_lost);
  return ENDS;
}

fn deliver() -> u32 {
  lastFate = select(FATE_delivered, FATE_deliveredViaRiser, ray.riser);
  return DELIVERS;
}

/// The end of endAt and deliver.
fn settle(zone: u32) {
  finish(zone == DELIVERS);
  if (zone == DELIVERS) { bookDelivered(lastFate); } else { book(lastFate, 0.0); }
}

fn moveTo(z: f32) {
  ray.pos += ((z - ray.pos.z) / ray.dir.z) * ray.dir;
  ray.pos.z = z;
}

/// A share of the weight stays behind. Under a small weight comes the game of survival, booked so that the ledger closes exactly. False
/// when the ray has ended, on the line that `lastFate` then names.
fn roulette(line: u32, keeps: f32) -> bool {
  lose(line, onGrid(ray.w * keeps));
  if (ray.w >= SMALL) { return true; }
  if (ray.w == 0.0) { return false; }
  let survives = draw() >= 0.5;
  if (!survives) {
    lastFate = FATE_roulette;
    return false;
  }
  book(FATE_roulette, 2.0 * ray.w);
  return true;
}

fn hitFace() -> u32 {
  moveTo(0.0);
  if (!insideFace(ray.pos.x, ray.pos.y, param(P_faceShape), param(P_faceHalf), param(P_faceHalfY))) { return endAt(FATE_behindFace); }
  onFace();
  if (!roulette(FATE_face, param(P_faceRho))) { return ENDS; }
  lambertian(vec3f(0.0, 0.0, 1.0));
  if (!HAS_TUNNEL && LENS_KIND == 0u && !BOARDS) { return deliver(); }
  return GAP_BELOW;
}

/// A board stops the ray, or the ray leaves the lamp past all of them; ON_ITS_WAY where it goes on through its zone.
fn meetBoard(zone: u32) -> u32 {
  if (!meetsBoard()) {
    let past = LENS_KIND == 0u && ray.dir.z > 0.0 && (zone == GAP_ABOVE || (zone == GAP_BELOW && !HAS_TUNNEL));
    if (past) { return deliver(); }
    return ON_ITS_WAY;
  }
  ray.pos += ray.reach * ray.dir;
  onFace();
  let n = boardNormal;
  if (!roulette(FATE_face, param(P_faceRho))) { return ENDS; }
  lambertian(n);
  // Off the plane by more than rounding, so that it isn't met again at once.
  ray.pos += OFF_BOARD * n;
  if (!HAS_TUNNEL || ray.pos.z < param(P_zIn)) { return GAP_BELOW; }
  return select(TUNNEL, GAP_ABOVE, ray.pos.z > param(P_zOut));
}
const ON_ITS_WAY = 9u;
const OFF_BOARD = 1e-3;

/// As `wander`, a zone at a time.
fn wanderPastBoards(zone_: u32, steps_: u32) -> vec2u {
  var zone = zone_;
  var steps = steps_;
  for (var k = 0u; k < WALLS + 2u; k++) {
    if (zone == ENDED || zone >= LENS) { break; }
    if (steps >= STEP_LIMIT) { return vec2u(endAt(FATE_limit), steps); }
    let met = meetBoard(zone);
    if (met != ON_ITS_WAY) {
      zone = met;
    } else if (zone == GAP_BELOW) {
      zone = crossGapBelow();
    } else if (zone == GAP_ABOVE) {
      zone = crossGapAbove();
    } else {
      if (zone == TUNNEL) { zone = crossTunnel(); }
      if (zone == TUNNEL_WALL) { zone = meetWall(); }
    }
    steps++;
  }
  return vec2u(zone, steps);
}

fn crossGapBelow() -> u32 {
  let d = ray.dir;
  if (d.z < 0.0) { return hitFace(); }
  if (d.z == 0.0) { return endAt(FATE_leakedFaceGap); }
  if (!HAS_TUNNEL) { return reachLens(); }
  return throughTunnel();
}

/// Straight up: through the mouth, and if the outlet is clear too (a frustum is convex: nothing stands in between), past it. All is worked out
/// and then taken as far as it holds: an early return would cost all lanes the moving of what it leaves behind.
fn throughTunnel() -> u32 {
  let zIn = param(P_zIn);
  let zOut = param(P_zOut);
  let front = select(param(P_lensFront), zOut, LENS_KIND == 0u);
  let slope = ray.dir.xy / ray.dir.z;
  let p = ray.pos.xy + (zIn - ray.pos.z) * slope;
  let out = p + (zOut - zIn) * slope;
  let top = p + (front - zIn) * slope;
  let enters = insideSection(p.x, p.y, param(P_rIn));
  let clear = enters && insideSection(out.x, out.y, sectionAt(zOut));
  ray.pos = select(vec3f(p, zIn), vec3f(top, front), clear);
  if (LENS_KIND == 0u && clear) { return deliver(); }
  let arrives = clear && insideLens(top);
  if (arrives) { onLens(); }
  lastFate = select(lineOf(FATE_leakedFaceGap), lineOf(FATE_outsideLens), clear);
  return select(select(ENDS, TUNNEL_WALL, enters && !clear), LENS, arrives);
}

fn insideLens(p: vec2f) -> bool {
  let half = param(P_lensHalf);
  return select(dot(p, p) <= half * half, max(abs(p.x), abs(p.y)) <= half, param(P_lensSquare) > 0.0);
}

fn reachLens() -> u32 {
  moveTo(param(P_lensFront));
  if (!insideLens(ray.pos.xy)) { return endAt(FATE_outsideLens); }
  onLens();
  return LENS;
}

fn crossTunnel() -> u32 {
  let d = ray.dir;
  if (d.z != 0.0) {
    let up = d.z > 0.0;
    let zEnd = select(param(P_zIn), param(P_zOut), up);
    let p = ray.pos.xy + ((zEnd - ray.pos.z) / d.z) * d.xy;
    if (insideSection(p.x, p.y, sectionAt(zEnd))) {
      ray.pos = vec3f(p, zEnd);
      if (!up) { return GAP_BELOW; }
      if (LENS_KIND > 0u) { return GAP_ABOVE; }
      return deliver();
    }
  }
  return TUNNEL_WALL;
}

fn meetWall() -> u32 {
  let zIn = param(P_zIn);
  let zOut = param(P_zOut);
  toWall();
  let z = ray.pos.z + ray.reach * ray.dir.z;
  let slack = WALL_END * (zOut - zIn);
  if (!(z >= zIn - slack && z <= zOut + slack)) { return endAt(FATE_lost); }
  ray.pos = vec3f(ray.pos.xy + ray.reach * ray.dir.xy, clamp(z, zIn, zOut));
  onWall();
  if (!roulette(FATE_wall, param(P_wallRho))) { return ENDS; }
  leaveWall();
  return TUNNEL;
}

fn crossGapAbove() -> u32 {
  if (ray.dir.z > 0.0) { return reachLens(); }
  if (ray.dir.z == 0.0) { return endAt(FATE_leakedLensGap); }
  if (!HAS_TUNNEL) { return GAP_BELOW; }
  let zOut = param(P_zOut);
  moveTo(zOut);
  if (insideSection(ray.pos.x, ray.pos.y, sectionAt(zOut))) { return TUNNEL; }
  return endAt(FATE_leakedLensGap);
}

/// Into the lens, from whichever side the ray comes: through it as far as that goes at once (then how it leaves), else the first state of the
/// walk through its grooves.
fn enterLens() -> u32 {
  let sign = param(P_lensSign);
  let worked = (ray.dir.z > 0.0) == (sign < 0.0);
  ray.pos.z = select(-param(P_lensThickness), select(0.0, param(P_lensLayer), LENS_KIND == 3u), worked);
  ray.dir.z *= sign;
  if (LENS_KIND == 2u) { return passSolid(worked); }
  if (!worked) { return passDirect(); }
  return enterFresnel(worked);
}

/// Out of the lens; its absorption is booked here.
fn leaveLens(outcome: u32) -> u32 {
  let sign = param(P_lensSign);
  ray.pos.z = param(P_lensZ) + sign * ray.pos.z;
  ray.dir.z *= sign;
  let lost = keepOnly(onGrid(ray.w * absorb()));
  if (ray.returned) { addLost(lineOf(FATE_lensAbsorbed), lost); } else { ownLens += lost; }
  if (outcome == ENDS_AT_RIM || outcome == ENDS_AT_LIMIT) { return endAt(select(FATE_limit, FATE_lensRim, outcome == ENDS_AT_RIM)); }
  return pastLens((outcome == LEAVES_WORKED) == (sign > 0.0));
}

fn pastLens(towardsTarget: bool) -> u32 {
  if (towardsTarget && ray.dir.z > 0.0) { return deliver(); }
  // Light scattered sideways by the outermost grooves may run past the lens; what heads back is no beam.
  if (towardsTarget || ray.dir.z > 0.0) { return endAt(FATE_lensRim); }
  if (SUN) {
    if (!ray.entered) {
      ray.entered = true;
      enter();
    }
  } else {
    ray.returned = true;
  }
  return select(GAP_BELOW, GAP_ABOVE, HAS_TUNNEL);
}

/// From wall to wall outside the lens, and out of the tunnel; zone and steps afterwards. The walls are a loop of their own: most of those that wait
/// stand before one, and the lanes that do the same stay together. Steps are counted as the twin counts them, a zone each, a wall with its tunnel.
fn wander(zone_: u32, steps_: u32) -> vec2u {
  if (BOARDS) { return wanderPastBoards(zone_, steps_); }
  var zone = zone_;
  var steps = steps_;
  if (steps >= STEP_LIMIT) { return vec2u(endAt(FATE_limit), steps); }
  if (zone == GAP_ABOVE) {
    zone = crossGapAbove();
    steps++;
  }
  if (zone == GAP_BELOW) {
    zone = crossGapBelow();
    steps++;
  }
  if (zone == TUNNEL) {
    zone = crossTunnel();
    steps += u32(zone != TUNNEL_WALL);
  }
  for (var k = 0u; k < WALLS && zone == TUNNEL_WALL && steps < STEP_LIMIT; k++) {
    zone = meetWall();
    steps++;
    if (zone == TUNNEL) {
      zone = crossTunnel();
      steps += u32(zone != TUNNEL_WALL);
    }
  }
  if (zone == GAP_ABOVE && ray.dir.z > 0.0) {
    zone = reachLens();
    steps++;
  }
  return vec2u(zone, steps);
}

/// Where boards may stop the ray, nothing is sure before they have been asked.
fn zoneOf(z: f32) -> u32 {
  if (!HAS_TUNNEL || z < param(P_zIn)) { return GAP_BELOW; }
  if (z >= param(P_zOut)) { return GAP_ABOVE; }
  if (insideSection(ray.pos.x, ray.pos.y, sectionAt(z))) { return TUNNEL; }
  return endAt(FATE_blocked);
}

/// An emitter's ray as it stands, as far as it goes straight; the zone it comes to.
fn begin() -> u32 {
  if (BOARDS) { return zoneOf(ray.pos.z); }
  if (!HAS_TUNNEL && LENS_KIND == 0u && leavesAtOnce()) { return deliver(); }
  if (HAS_TUNNEL && ray.pos.z >= param(P_zIn)) { return emitInTunnel(); }
  if (!(ray.dir.z > 0.0)) { return GAP_BELOW; }
  if (HAS_TUNNEL) { return throughTunnel(); }
  return reachLens();
}

/// An emitter under the face.
fn endBlocked() -> u32 {
  return endAt(FATE_blocked);
}

/// A ray of the sun; the zone that it begins in.
fn emitSun() -> u32 {
  leaveSun();
  chooseWavelength(0u);
  emit();
  if (LENS_KIND > 0u) { return LENS; }
  if (!HAS_TUNNEL) { return GAP_BELOW; }
  if (insideSection(ray.pos.x, ray.pos.y, sectionAt(param(P_zOut)))) { return TUNNEL; }
  return endAt(FATE_outsideLens);
}

/// Only a tilted emitter's light may go down.
fn leavesAtOnce() -> bool {
  return !TILTED || ray.dir.z > 0.0;
}

/// The emitter stands higher than the mouth.
fn emitInTunnel() -> u32 {
  if (ray.pos.z >= param(P_zOut)) {
    if (LENS_KIND > 0u || !leavesAtOnce()) { return GAP_ABOVE; }
    return deliver();
  }
  if (insideSection(ray.pos.x, ray.pos.y, sectionAt(ray.pos.z))) { return TUNNEL; }
  return endAt(FATE_blocked);
}

/// Zone of a new ray. One that it has crossed already counts as a step, as in the twin.
fn goOnNew(zone: u32) {
  let stands = SUN || zone == GAP_BELOW || zone == TUNNEL || zone == GAP_ABOVE;
  goOn(zone, select(1u, 0u, stands), 0u);
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
