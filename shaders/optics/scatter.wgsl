// Twin of src/optics/scatter.ts. Gaussian scatter about a direction.
// References: [1] Box & Muller, Ann. Math. Statist. 29 (1958) 610, normal deviates.

/// The unit direction m with two independent Gaussian slopes of standard deviation sigma across it [1]. Where that is no way to go is the
/// caller's to see.
fn scatterAbout(m: vec3f, sigma: f32) {
  let radius = sigma * sqrt(2.0 * minusLn(draw24())); // [1]
  let along = 1.0 / sqrt(1.0 + radius * radius);
  tilt(m, vec3f(turnOfDraw(draw24()) * radius * along, along));
}
