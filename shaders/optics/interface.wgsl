// Twin of src/optics/interface.ts. Light at a smooth boundary between two media.
// References: [1] M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2 (Fresnel formulae), 1.5.3 (unpolarised light).

/// True when the draw u is at least the mean reflectance: u ≥ ½ (A²/B² + C²/D²) [1], multiplied out so that nothing is divided.
fn refracts(u: f32, cosIn: f32, cosOut: f32, eta: f32) -> bool {
  let a = eta * cosIn - cosOut;
  let b = eta * cosIn + cosOut;
  let c = cosIn - eta * cosOut;
  let d = cosIn + eta * cosOut;
  let bb = b * b;
  let dd = d * d;
  return 2.0 * u * bb * dd >= a * a * dd + c * c * bb;
}

/// Reflect or refract by a draw. n: unit normal on the side the ray comes FROM; eta: n(from)/n(to). True when refracted.
fn cross(n: vec3f, eta: f32) -> bool {
  let cosIn = max(0.0, -dot(ray.dir, n));
  let sin2 = eta * eta * (1.0 - cosIn * cosIn);
  if (sin2 < 1.0) {
    let cosOut = sqrt(1.0 - sin2);
    if (refracts(draw(), cosIn, cosOut, eta)) {
      let d = eta * ray.dir + (eta * cosIn - cosOut) * n;
      ray.dir = d * (1.5 - 0.5 * dot(d, d)); // one Newton step keeps the length at 1
      return true;
    }
  }
  ray.dir += 2.0 * cosIn * n;
  return false;
}

/// The same at a plane square to the axis.
fn crossPlane(eta: f32) -> bool {
  let cosIn = abs(ray.dir.z);
  // 1 − cos² from the other two components: no cancellation near the axis
  let sin2 = eta * eta * (ray.dir.x * ray.dir.x + ray.dir.y * ray.dir.y);
  if (sin2 < 1.0) {
    let cosOut = sqrt(1.0 - sin2);
    if (refracts(draw(), cosIn, cosOut, eta)) {
      ray.dir = vec3f(eta * ray.dir.x, eta * ray.dir.y, select(cosOut, -cosOut, ray.dir.z < 0.0));
      return true;
    }
  }
  ray.dir.z = -ray.dir.z;
  return false;
}

/// Share that the material lets pass over ray.path: exp(−a s) (Lambert–Beer), a by wavelength where it varies. Short ways by the series.
fn absorb() -> f32 {
  var a = lensParam(P_lensAbsorption);
  if (lensParam(P_lensAbsorptionVaries) > 0.0) {
    let s = (ray.nm - NM_FIRST) / NM_STEP;
    let i = min(u32(max(s, 0.0)), u32(NM_COUNT) - 2u);
    let below = lensParam(P_lensAbsorptionTable + i);
    a = below + (s - f32(i)) * (lensParam(P_lensAbsorptionTable + i + 1u) - below);
  }
  let x = a * ray.path;
  if (x < 0.05) { return 1.0 - x * (1.0 - x * (0.5 - x * (1.0 / 6.0 - x / 24.0))); }
  return exp(-x);
}

/// Lambertian direction about n: cosθ = √u.
fn lambertian(n: vec3f) {
  let bits = draw24();
  let t = turnOfDraw(draw24()) * sqrt(restOf(bits));
  tilt(n, vec3f(t, sqrt(numberOf(bits))));
}

/// A rounded tip scatters into the half space ahead.
fn scatterAlong(up: bool) -> vec3f {
  ray.riser = true;
  lambertian(vec3f(0.0, 0.0, select(-1.0, 1.0, up)));
  return ray.dir;
}

/// Direction from the frame about n (Duff et al., J. Comput. Graph. Tech. 6 (2017) 1, branchless frame).
fn tilt(n: vec3f, t: vec3f) {
  let s = select(-1.0, 1.0, n.z >= 0.0);
  let p = -1.0 / (s + n.z);
  let q = n.x * n.y * p;
  let d = vec3f(
    t.x * (1.0 + s * n.x * n.x * p) + t.y * q + t.z * n.x,
    t.x * s * q + t.y * (s + n.y * n.y * p) + t.z * n.y,
    -t.x * s * n.x - t.y * n.y + t.z * n.z,
  );
  ray.dir = d * (1.5 - 0.5 * dot(d, d));
}
