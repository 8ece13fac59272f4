// Twin of src/optics/density.ts. The density per steradian with which leaveEmitter chooses a direction, read from the same tables.

/// Density per steradian of the direction d in the emitter's own frame, d.z > 0.
fn profileDensity(kind: u32, d: vec3f) -> f32 {
  let light = kindRow(kind, 1u);
  let profile = u32(light[KIND_profile - 4u]);
  let sin2 = dot(d.xy, d.xy);
  // 1 − cosθ without cancellation
  let c = select(1.0 - d.z, sin2 / (1.0 + d.z), d.z > 0.5);
  if (profile == 0u) {
    let power = 1.0 / light[KIND_profileAt - 4u];
    if (power == 2.0) { return (2.0 / TURN) * d.z; }
    // (m + 1)/2π cosᵐθ; the built-in power would lose four digits of a narrow beam
    let minus = select(-log(d.z), minusLnBeside(c), c <= 0.5);
    return (power / TURN) * exp((1.0 - power) * minus);
  }
  let at = u32(light[KIND_profileAt - 4u]) + setup.profilesAt;
  if (profile == 1u) { return tableAt(c, at) / TURN; }
  let rows = u32(kindRow(kind, 2u)[KIND_profileRows - 8u]);
  let phi = TURN * shareOfTurn(d.x, d.y);
  var sum = 0.0;
  for (var r = 0u; r < rows; r++) {
    let row = at + 5u * r;
    let hat = hatAt(phi - tables[row + 2u], tables[row + 3u], tables[row + 4u]);
    if (hat == 0.0) { continue; }
    var next = 1.0;
    if (r + 1u < rows) { next = tables[row + 5u]; }
    sum += (next - tables[row]) * hat * tableAt(c, setup.profilesAt + u32(tables[row + 1u]));
  }
  return sum;
}

/// Density of azimuthFromMap's hat at `off` from its row, rad⁻¹; both halves may reach the same place by way of the whole turn.
fn hatAt(off: f32, before: f32, after: f32) -> f32 {
  let ahead = off - TURN * floor(off / TURN);
  let behind = TURN - ahead;
  let rise = select(0.0, 1.0 - behind / before, behind < before);
  let fall = select(0.0, 1.0 - ahead / after, ahead < after);
  return (2.0 / (before + after)) * (rise + fall);
}

/// Intensity of a packed table at c, its integral over c being 1.
fn tableAt(c: f32, at: u32) -> f32 {
  let n = u32(tables[at]);
  let nodes = at + 2u;
  if (c > tables[nodes + n - 1u]) { return 0.0; }
  var low = 0u;
  var high = n - 2u;
  while (low < high) {
    let mid = (low + high + 1u) >> 1u;
    if (tables[nodes + mid] <= c) { low = mid; } else { high = mid - 1u; }
  }
  return max(0.0, tables[nodes + n + low] + 0.5 * tables[nodes + 3u * n + low] * (c - tables[nodes + low]));
}
