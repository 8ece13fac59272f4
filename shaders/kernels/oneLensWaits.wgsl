// How the rays of a plain lamp wait (waiting.wgsl), and what its tally has not got. In its place for other lamps: assembly.wgsl.

/// Where a waiting ray is needs no word: there is one wall and one lens. Gives the steps it has gone, which its flags hold.
fn placeBits() -> u32 {
  return 0u;
}

fn takePlace(flags: u32) -> u32 {
  return flags >> 8u;
}

/// Rays wait on two stacks in one room, one for those in the cavity (grown from below), one for those between grooves (from above).
const STACKS = 2u;

fn stackOf(zone: u32) -> u32 {
  return select(CAVITY, GROOVES, zone > LENS);
}

fn placeOnStack(stack: u32, place: u32) -> u32 {
  return select(place, ROOM * WORKGROUP - 1u - place, stack == GROOVES);
}

/// The fuller stack, and how many wait there.
fn fullestStack() -> vec2u {
  let cavity = atomicLoad(&waits[CAVITY]);
  let grooves = atomicLoad(&waits[GROOVES]);
  return vec2u(select(CAVITY, GROOVES, grooves > cavity), max(cavity, grooves));
}

/// A plain lamp's ledger has no parts.
fn beginParts(lane: u32) {}
fn addParts(lane: u32) {}
