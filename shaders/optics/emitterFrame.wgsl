// Twin of src/optics/emitterFrame.ts. A tilted emitter's own frame.

/// The ray from the emitter's own frame into the lamp's.
fn leaveFrame(number: u32) {
  let x = frameRow(number, 0u);
  let y = frameRow(number, 1u);
  let z = frameRow(number, 2u);
  let p = vec4f(ray.pos, 1.0);
  let d = ray.dir;
  ray.pos = vec3f(dot(x, p), dot(y, p), dot(z, p));
  ray.dir = normalize(vec3f(dot(x.xyz, d), dot(y.xyz, d), dot(z.xyz, d)));
}
