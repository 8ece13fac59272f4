// Twin of nightLight.ts: candela towards a direction of the place, and what they put on a surface.

vec3 lampFromPlace(vec3 p) {
  return vec3(-p.x, p.y * uAxis.z - p.z * uAxis.y, p.y * uAxis.y + p.z * uAxis.z);
}

// Red, green and blue candela, whose luminous sum is the traced intensity.
vec3 intensityTowards(vec3 towards) {
  vec3 d = lampFromPlace(towards);
  float flat_ = length(d.xy);
  float theta = degrees(atan(flat_, d.z));
  vec4 far = texture(uProfile, vec2(theta / 180.0, 0.5));
  vec2 uv = flat_ > 0.0 ? theta * d.xy / flat_ : vec2(theta, 0.0);
  vec2 rel = uv / uWindowHalfDeg;
  float outwards = max(abs(rel.x), abs(rel.y));
  float share = far.r;
  if (outwards < 1.0)
    share = mix(texture(uWindow, rel * 0.5 + 0.5).r, far.r, smoothstep(1.0 - uBlend, 1.0, outwards));
  return uPeakCd * share * far.gba;
}

// lx on a surface square to the light, dimmed by the haze on the way.
vec3 squareLx(vec3 at) {
  float d2 = dot(at, at);
  return intensityTowards(at) / d2 * exp(-uPerM * sqrt(d2));
}
