// What an assembled lamp's tally has besides tally.wgsl: the unrolled tunnel, and the ledger by part (src/run/parts.ts). There each loss stands a second time, on the line of the stretch, step, element or gap that it
// happened in. As tally.wgsl gathers the lines of the ledger; no part gives weight back, so that none has a sign.

/// Numbers of the parts, radiant and luminous weight, and how often each stands in the workgroup's memory.
override PART_NUMBERS: u32 = 2u;
override PART_COPIES: u32 = 1u;
var<workgroup> partLow: array<atomic<u32>, PART_NUMBERS * PART_COPIES>;
var<workgroup> partHigh: array<atomic<u32>, PART_NUMBERS>;

/// In place of a part: what no part takes.
const NO_PART = 0xffffffffu;

fn wallPart(i: u32) -> u32 {
  return FIRST_STRETCH + 2u * i;
}

fn stepPart(i: u32) -> u32 {
  return wallPart(i) + 1u;
}

fn absorbedPart(element: u32) -> u32 {
  return FIRST_STRETCH + 2u * setup.stretches + 3u * element;
}

fn rimPart(element: u32) -> u32 {
  return absorbedPart(element) + 1u;
}

fn gapPart(element: u32) -> u32 {
  return absorbedPart(element) + 2u;
}

fn beginParts(lane: u32) {
  for (var i = lane; i < PART_NUMBERS * PART_COPIES; i += WORKGROUP) { atomicStore(&partLow[i], 0u); }
  for (var i = lane; i < PART_NUMBERS; i += WORKGROUP) { atomicStore(&partHigh[i], 0u); }
}

/// A loss, in steps of radiant and luminous weight.
fn addPart(part: u32, lost: vec2u) {
  addPartNumber(part, lost.x);
  addPartNumber(setup.parts + part, lost.y);
}

fn addPartNumber(at: u32, v: u32) {
  if (v == 0u) { return; }
  let old = atomicAdd(&partLow[at * PART_COPIES + copyNow % PART_COPIES], v);
  if (old + v < old) { atomicAdd(&partHigh[at], 1u); }
}

/// What the workgroup has gathered, after a barrier, by its lanes in turn.
fn addParts(lane: u32) {
  for (var at = lane; at < PART_NUMBERS; at += WORKGROUP) {
    var low = 0u;
    var high = atomicLoad(&partHigh[at]);
    for (var copy = 0u; copy < PART_COPIES; copy++) {
      let v = atomicLoad(&partLow[at * PART_COPIES + copy]);
      low += v;
      high += select(0u, 1u, low < v);
    }
    addTally(setup.partsW + at, low, high);
  }
}

/// On the lens, or on another element: each of these has a map of its own.
fn onPiece(element: u32) {
  let map = u32(elementAt(element, ELEMENT_map));
  if (map == 0u) {
    onLens();
  } else {
    let n = setup.elementN;
    let half = elementAt(element, ELEMENT_mapHalf);
    addSquare(setup.elementsW + (map - 1u) * n * n, ray.pos.xy, half, f32(n) / (2.0 * half), n, stepsOf(ray.w));
  }
}

/// On the tunnel, at these shares of its unrolled length and of its way round.
fn onUnrolled(along: f32, round: f32) {
  if (setup.wallAlong == 0u) { return; }
  let row = min(setup.wallAlong - 1u, u32(max(0.0, along * f32(setup.wallAlong))));
  let column = min(setup.wallRound - 1u, u32(round * f32(setup.wallRound)));
  addMap(setup.wallW + row * setup.wallRound + column, stepsOf(ray.w));
}
