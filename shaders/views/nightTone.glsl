// Twin of nightTone.ts: from luminance to what the screen is sent.

float luminance(vec3 rgb) {
  return dot(rgb, vec3(0.2126, 0.7152, 0.0722));
}

vec3 encoded(vec3 share) {
  vec3 v = clamp(share, 0.0, 1.0);
  return mix(1.055 * pow(v, vec3(1.0 / 2.4)) - 0.055, 12.92 * v, vec3(lessThanEqual(v, vec3(0.0031308))));
}

vec3 response(vec3 cdM2) {
  vec3 l = pow(max(cdM2, 0.0), vec3(uExponent));
  return l / (l + pow(uSettled, uExponent));
}

vec3 toScreen(vec3 rgb) {
  if (uCamera > 0.5) return encoded(rgb / uWhite);
  float lum = max(0.0, luminance(rgb));
  float colour = clamp(log(max(lum, 1e-9) / uMesopic.x) / log(uMesopic.y / uMesopic.x), 0.0, 1.0);
  return mix(response(vec3(lum)), response(rgb), colour);
}
