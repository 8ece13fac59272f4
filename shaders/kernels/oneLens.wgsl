// The lens and the wall of a plain lamp: each is one, and stands in the scene's own parameters. In its place for other lamps: assembly.wgsl.

/// No lens is cut off centre, and no tunnel has two pairs of walls.
const PIECES = false;
const RECTANGULAR = false;

fn lensParam(i: u32) -> f32 {
  return param(i);
}

fn wallParam(i: u32) -> f32 {
  return param(i);
}

fn lensRings() -> u32 {
  return setup.rings;
}

fn lensPerPitch() -> f32 {
  return setup.perPitch;
}

/// Sine, cosine, tip and cotangent of a ring.
fn ringRow(ring: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.ringQuadsAt + ring]);
}
