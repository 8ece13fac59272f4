// A ray in flight: the record of src/optics/records.ts as a struct. The weight is kept on a grid of 2⁻²³ and its luminous worth in steps of
// 2⁻¹³ lm/W, so that what a ray loses on its way adds up to what it began with, to the last bit.

struct Ray {
  pos: vec3f,
  dir: vec3f,
  w: f32,
  lm: u32,
  index: f32,
  lum: f32,
  nm: f32,
  path: f32,
  reach: f32,
  side: u32,
  /// In a Fresnel lens: the ring it is in, and its surfaces so far in this passage.
  ring: u32,
  lensSteps: u32,
  riser: bool,
  returned: bool,
  entered: bool,
}
var<private> ray: Ray;
