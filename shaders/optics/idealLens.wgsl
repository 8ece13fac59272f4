// Twin of src/optics/idealLens.ts. The thin ideal lens: no loss, exact tangent law. A check mode.

/// Slopes change by −x/f, −y/f; the direction along the axis stays.
fn passIdeal() {
  let uv = ray.dir.xy / abs(ray.dir.z) - ray.pos.xy / lensParam(P_lensFocal);
  let scale = inverseSqrt(1.0 + dot(uv, uv));
  let d = vec3f(uv * scale, select(-scale, scale, ray.dir.z > 0.0));
  ray.dir = d * (1.5 - 0.5 * dot(d, d));
}
