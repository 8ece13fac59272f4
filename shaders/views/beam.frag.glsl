// Light in air: the table of fluence (made from the traced profile) summed along the line of backwardSetup. Thin air is taken to
// send all of it on alike in every direction, so brightness is the sum times a constant; nothing is dimmed on the way.
precision highp float;

uniform sampler2D uFluence;   // x along the axis, y across, relative to the mean at the mouth
uniform float uMouthZMm;
uniform float uMouthMm;
uniform float uLengthMm;
uniform float uSpread;
uniform float uGain;          // how much of the light in air is shown
uniform vec3 uLight;
uniform float uCut;           // 1: the near half (x < 0) is cut away

in vec3 vPointMm;
out vec4 outColour;

const int STEPS = 56;

float fluence(vec3 p) {
  float s = p.z - uMouthZMm;
  float r = length(p.xy);
  float v = r / (uMouthMm + max(s, 0.0) * uSpread);
  if (s < 0.0 || s > uLengthMm || v > 1.0) return 0.0;
  vec2 size = vec2(textureSize(uFluence, 0));
  vec2 at = (vec2(s / uLengthMm, v) * (size - 1.0) + 0.5) / size;
  // The drawn part of the beam fades out: the beam itself goes on.
  float fade = 1.0 - smoothstep(0.35, 1.0, s / uLengthMm);
  return texture(uFluence, at).r * fade * (1.0 - smoothstep(0.92, 1.0, v));
}

void main() {
  vec3 from = cameraPosition;
  vec3 way = normalize(vPointMm - from);
  float reach = uMouthMm + uLengthMm * uSpread;
  vec3 low = vec3(-reach, -reach, uMouthZMm);
  vec3 high = vec3(reach, reach, uMouthZMm + uLengthMm);
  if (uCut > 0.5) low.x = 0.0;
  vec3 a = (low - from) / way;
  vec3 b = (high - from) / way;
  vec3 nearer = min(a, b);
  vec3 farther = max(a, b);
  float start = max(max(nearer.x, nearer.y), max(nearer.z, 0.0));
  float end = min(min(farther.x, farther.y), farther.z);
  if (end <= start) discard;
  float stride = (end - start) / float(STEPS);
  // A start that differs from pixel to pixel turns the steps' bands into fine grain.
  float shift = fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715))));
  float sum = 0.0;
  for (int i = 0; i < STEPS; i++) sum += fluence(from + way * (start + (float(i) + shift) * stride));
  float shown = 1.0 - exp(-uGain * sum * stride / (2.0 * uMouthMm));
  outColour = vec4(uLight * shown, shown);
}
