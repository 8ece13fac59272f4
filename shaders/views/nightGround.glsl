// Wall, earth, grass and water: a reflectance, a little texture about it, and the cosine law.

// Joints of the wall, a little darker than the wall; the point aimed at lies in the middle of a slab.
float joints(vec2 at, float wide) {
  vec2 near = (0.5 - abs(fract(at / uJointM + 0.5) - 0.5)) * uJointM;
  vec2 lines = 1.0 - smoothstep(wide * 0.6, wide * 1.4, near);
  return 1.0 - 0.2 * seen(uJointM * 0.4, wide) * max(lines.x, lines.y);
}

float speckle(vec2 at, float size, float wide) {
  return (noise(at / size) - 0.5) * seen(size, wide);
}

vec3 wallLight(vec3 at, float t) {
  float wide = t * uPixel;
  vec2 on = at.xy - uCentre.xy;
  float grain = 1.0 + 0.07 * speckle(on, 0.31, wide) + 0.06 * speckle(on, 2.3, wide);
  return uWall * joints(on, wide) * grain * squareLx(at) * (max(0.0, at.z / length(at)) / PI) * litShare(at, vec3(0, 0, -1));
}

// The flat of rough ground, and what stands up from it and faces light coming in low.
float roughCosine(vec3 at, float upright) {
  float cosIn = uLampM / length(at);
  return cosIn + upright * sqrt(max(0.0, 1.0 - cosIn * cosIn)) * (1.0 - cosIn);
}

vec3 earthLight(vec3 at, vec3 backwardSetup, float t) {
  float wide = t * uPixel / max(0.02, -backwardSetup.y);
  vec2 on = mat2(0.8, 0.6, -0.6, 0.8) * at.xz; // the noise's own grid must not line up with the beam
  float grain = 1.0 + 0.45 * speckle(on, 0.045, wide) + 0.35 * speckle(on, 0.27, wide) + 0.22 * speckle(on, 1.7, wide) +
    0.16 * speckle(on, 11.0, wide);
  return uEarth * grain * squareLx(at) * (roughCosine(at, uUpright.x) / PI) * litShare(at, vec3(0, 1, 0));
}

// How far a place is inside a painted line.
float painted(float off, float wide) {
  const float LINE = 0.12;
  return clamp(0.5 + (max(LINE, wide) * 0.5 - abs(off)) / max(wide, 1e-4), 0.0, 1.0) * min(1.0, LINE / max(wide, 1e-4));
}

// Bounds of the field, its halfway line, and a ring about the middle.
float fieldLines(vec2 p, vec2 wide) {
  vec2 h = 0.5 * uTargetM;
  float on = 0.0;
  if (abs(p.y) < h.y + 0.06) on = max(on, painted(abs(p.x) - h.x, wide.x));
  if (abs(p.x) < h.x + 0.06) on = max(on, max(painted(abs(p.y) - h.y, wide.y), painted(p.y, wide.y)));
  float ring = 0.18 * min(uTargetM.x, uTargetM.y);
  vec2 out_ = p / max(length(p), 1e-4);
  return max(on, painted(length(p) - ring, length(out_ * wide)));
}

vec3 grassLight(vec3 at, vec3 backwardSetup, float t) {
  float across = t * uPixel;
  float along = across / max(0.02, -backwardSetup.y);
  vec2 p = at.xz - uCentre.xz;
  float blades = 1.0 + 0.55 * speckle(at.xz * vec2(1.0, 0.45), 0.025, along * 0.5) + 0.4 * speckle(at.xz, 0.11, along) +
    0.3 * speckle(at.xz, 0.8, along) + 0.2 * speckle(at.xz, 9.0, along);
  float mown = 2.0 * smoothstep(-0.08, 0.08, sin(PI * p.x / 3.0)) - 1.0;
  blades *= 1.0 + 0.11 * mown * seen(3.0, across);
  vec3 paint = mix(uGrass * blades, uLine, fieldLines(p, vec2(across, along)));
  return paint * squareLx(at) * (roughCosine(at, uUpright.y) / PI);
}

vec3 waves(vec2 p, float wide) {
  vec2 slope = vec2(0.0);
  float length_ = 5.2;
  float turn = 0.4;
  for (int i = 0; i < 6; i++) {
    vec2 way = vec2(cos(turn), sin(turn));
    float at = dot(p, way) * 2.0 * PI / length_ + 9.0 * noise(p / (3.1 * length_) + turn);
    slope += way * (0.06 * cos(at) * seen(length_ * 0.6, wide));
    length_ *= 0.57;
    turn += 2.1;
  }
  return normalize(vec3(slope.x, 1.0, slope.y));
}

// A little of the light comes back out of the water; the rest of what is seen is the lit boat, mirrored (n = 1.333, Schlick's form).
vec3 waterLight(vec3 at, vec3 backwardSetup, float t) {
  vec3 n = waves(at.xz, t * uPixel / max(0.05, -backwardSetup.y));
  vec3 light = uWater * squareLx(at) * (max(0.0, -dot(n, normalize(at))) * litShare(at, vec3(0, 1, 0)) / PI);
  vec3 away = reflect(backwardSetup, n);
  away.y = abs(away.y);
  vec2 hit = hitFigure(at, away, 1e9, uPixel);
  if (hit.y <= 0.0) return light;
  float mirror = 0.0204 + 0.9796 * pow(1.0 - max(0.0, -dot(backwardSetup, n)), 5.0);
  return light + mirror * hit.y * figureLight(at + hit.x * away);
}
