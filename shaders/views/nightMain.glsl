// One pixel: the surface or the figure that is seen, the lamp's own mouth, the air before them.

// The lamp itself, should it face the eye: its intensity over the mouth's area, never smaller than a pixel or two.
vec3 mouthLight(vec3 backwardSetup, float t) {
  float far = length(uEye);
  if (far > t || dot(backwardSetup, uEye) > 0.0 || dot(uEye, uAxis) <= 0.0) return vec3(0.0);
  float off = length(cross(backwardSetup, uEye)) / far;
  float half_ = max(uMouthM / far, 1.1 * uPixel);
  float fills = 1.0 - smoothstep(half_ - 0.7 * uPixel, half_ + 0.7 * uPixel, off);
  if (fills <= 0.0) return vec3(0.0);
  return fills * intensityTowards(uEye) / (PI * half_ * half_ * far * far) * exp(-uPerM * far);
}

void main() {
  vec3 backwardSetup = normalize(uForward + vPicture.x * uHalf.x * uRight + vPicture.y * uHalf.y * uUp);
  float shift = fract(52.9829189 * fract(dot(gl_FragCoord.xy - uCorner, vec2(0.06711056, 0.00583715))));
  float tGround = backwardSetup.y < 0.0 ? (-uLampM - uEye.y) / backwardSetup.y : 1e20;
  float tWall = uKind == 0 && backwardSetup.z > 0.0 ? (uCentre.z - uEye.z) / backwardSetup.z : 1e20;
  float t = min(tGround, tWall);
  vec3 at = uEye + t * backwardSetup;
  vec3 light = vec3(0.0);
  // Nothing behind the lamp's front is lit.
  if (t < 1e19 && dot(at, uAxis) > 0.0) {
    if (tWall < tGround) light = wallLight(at, t);
    else if (uKind == 2) light = waterLight(at, backwardSetup, t);
    else if (uKind == 3) light = grassLight(at, backwardSetup, t);
    else light = earthLight(at, backwardSetup, t);
  }
  vec2 hit = hitFigure(uEye, backwardSetup, t, uPixel);
  if (hit.y > 0.0) {
    light = mix(light * exp(-uPerM * min(t, 1e7)), figureLight(uEye + hit.x * backwardSetup) * exp(-uPerM * hit.x), hit.y);
    if (hit.y > 0.5) t = hit.x;
  } else light *= exp(-uPerM * min(t, 1e7));
  light += mouthLight(backwardSetup, t);
  if (uPerM > 0.0) light += airLight(backwardSetup, min(t, 1e6), shift);
  vec3 screen = toScreen(light);
  // The dark itself is a trace of blue, as the page is; less than a step of grain hides the steps of an 8-bit screen.
  vec3 colour = screen + vec3(0.012, 0.018, 0.024) * (1.0 - screen);
  outColour = vec4(colour + (shift - 0.5) / 255.0, 1.0);
}
