// Twin of src/engine/forward/booking.ts. Where an assembled lamp's light is booked: each loss on its line of the ledger and on its part's. Zones
// as in walk.wgsl.

const ENDED = 0u;
const GAP_BELOW = 1u; // between face and tunnel
const TUNNEL = 2u; // somewhere in the tunnel
const GAP_ABOVE = 3u; // before the element that comes next, from the tunnel, the face or another element
const TUNNEL_WALL = 4u; // in the tunnel, and sure to meet its wall
const TUNNEL_STEP = 5u; // on a step, within the wider of its two stretches
/// The ray is over, its weight not yet booked: every end is booked at one place, so that the lanes that end do so together.
const ENDS = 6u;
const DELIVERS = 7u;
/// The ray has been through an element, and stands in its local frame.
const LENS_PASSED = 8u;
/// A ray of the sun on the outermost element.
const LENS = 9u;
// From BEFORE_FLAT (10) on: in a Fresnel lens, in that state of its walk.
/// Under this weight the roulette begins; a survivor is doubled.
const SMALL = 0.01;

/// Part on which the ray ended.
var<private> lastPart: u32;

/// Line for a loss: its own, or that of returned light once an element has sent the ray back.
fn lineOf(line: u32) -> u32 {
  return select(line, FATE_lensReturnedLost, ray.returned);
}

/// The ray keeps `left` of its weight; the rest goes onto a line and a part.
fn lose(line: u32, part: u32, left: f32) {
  lastFate = lineOf(line);
  let lost = keepOnly(left);
  if (lastFate == FATE_lensAbsorbed) { ownLens += lost; } else { addLost(lastFate, lost); }
  addPart(part, lost);
}

/// End the ray with all its weight on one line, whatever has sent it back: what the tracer itself gave up, so that the check on it sees all of it;
/// or, before the walk begins, a ray that starts outside the lamp or that its emitter's optic ended.
fn endAt(line: u32) -> u32 {
  lastFate = line;
  lastPart = select(NO_PART, PART_BLOCKED, line == FATE_blocked);
  return ENDS;
}

/// End the ray with all its weight on one line and one part.
fn endAtPart(line: u32, part: u32) -> u32 {
  lastFate = lineOf(line);
  lastPart = part;
  return ENDS;
}

fn deliver() -> u32 {
  lastFate = select(FATE_delivered, FATE_deliveredViaRiser, ray.riser);
  return DELIVERS;
}

/// The end of endAt, endAtPart and deliver.
fn settle(zone: u32) {
  finish(zone == DELIVERS);
  if (zone == DELIVERS) {
    bookDelivered(lastFate);
    return;
  }
  let lost = keepOnly(0.0);
  addLost(lastFate, lost);
  if (lastPart != NO_PART) { addPart(lastPart, lost); }
}

/// Under a small weight comes the game of survival, booked so that the ledger closes exactly. False when the ray has ended, on the line that
/// `lastFate` then names.
fn survives() -> bool {
  if (ray.w >= SMALL) { return true; }
  lastPart = NO_PART;
  if (ray.w == 0.0) { return false; }
  if (draw() < 0.5) {
    lastFate = FATE_roulette;
    return false;
  }
  book(FATE_roulette, 2.0 * ray.w);
  return true;
}

/// A surface keeps 1 − rho of the weight; false where the path ends there.
fn reflects(line: u32, part: u32, rho: f32) -> bool {
  lose(line, part, onGrid(ray.w * rho));
  return survives();
}
