// Twin of nightAir.ts: what haze sends to the eye of light scattered once, and how it dims what lies behind.

const int AIR_STEPS = 36;

float lobe(float g, float c) {
  float under = 1.0 + g * g - 2.0 * g * c;
  return (1.0 - g * g) / (4.0 * PI * under * sqrt(under));
}

float phase(float c) {
  return mix(lobe(uLobes.x, c), lobe(uLobes.y, c), uLobes.z);
}

// Over the angle beta at which the point behind the mouth sees the line of backwardSetup; dense about the place nearest to the axis.
vec3 airLight(vec3 backwardSetup, float toM, float shift) {
  vec3 q = uEye + uAxis * uApexM;
  float b = -dot(q, backwardSetup);
  vec3 foot = q + b * backwardSetup;
  float D = max(1e-4, length(foot));
  float along = dot(backwardSetup, uAxis);
  float across = dot(foot, uAxis) / D;
  float from = atan(-b / D);
  float to = atan((toM - b) / D);
  float middle = clamp(atan(along, across), from, to);
  float uFrom = asinh((from - middle) / uCoreRad);
  float du = (asinh((to - middle) / uCoreRad) - uFrom) / float(AIR_STEPS);
  vec3 sum = vec3(0.0);
  for (int i = 0; i < AIR_STEPS; i++) {
    float u = uFrom + (float(i) + shift) * du;
    float beta = middle + uCoreRad * sinh(u);
    float c = cos(beta);
    float s = sin(beta);
    float r = D / c;
    if (r * (across * c + along * s) < uApexM) continue;
    float passed = exp(-uPerM * (b + D * s / c + max(0.0, r - uApexM)));
    sum += intensityTowards(foot / D * c + backwardSetup * s) * (phase(-s) * passed * cosh(u));
  }
  return sum * (uPerM * uCoreRad * du / D);
}
