// Twin of src/optics/film.ts. A thin diffuser in the plane z = 0 of its frame: what it passes goes on about its own direction, what it reflects
// about the mirror direction, each with two Gaussian slopes; the rest is absorbed.

/// Pass or reflect the ray by a draw; what of the weight is not absorbed, `transmits` + `reflects`, is the caller's. `spread`: standard deviation
/// of each slope.
fn passFilm(transmits: f32, reflects: f32, spread: f32) {
  let unabsorbed = transmits + reflects;
  if (unabsorbed == 0.0) { return; }
  if (reflects > 0.0) {
    if (draw() * unabsorbed >= transmits) { ray.dir.z = -ray.dir.z; }
  }
  if (spread == 0.0) { return; }
  let m = ray.dir;
  for (var tries = 0; tries < 16; tries++) {
    scatterAbout(m, spread);
    if (ray.dir.z * m.z > 0.0) { return; }
  }
  ray.dir = m;
}
