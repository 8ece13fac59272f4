// Twin of nightFigures.ts: limbs of round section that melt into one another a little.

float toLimb(int i, vec3 p) {
  vec3 ba = uLimbB[i].xyz - uLimbA[i].xyz;
  vec3 pa = p - uLimbA[i].xyz;
  float h = clamp(dot(pa, ba) / dot(ba, ba), 0.0, 1.0);
  return length(pa - h * ba) - mix(uLimbA[i].w, uLimbB[i].w, h);
}

float toFigure(vec3 p) {
  float m = 1e9;
  for (int i = 0; i < uLimbs; i++) {
    float d = toLimb(i, p);
    float h = max(uMeltM - abs(m - d), 0.0) / uMeltM;
    m = min(m, d) - 0.25 * h * h * uMeltM;
  }
  return m;
}

vec3 paintAt(vec3 p) {
  float nearest = 1e9;
  int of = 0;
  for (int i = 0; i < uLimbs; i++) {
    float d = toLimb(i, p);
    if (d < nearest) {
      nearest = d;
      of = i;
    }
  }
  return uPaint[of];
}

vec3 normalOn(vec3 p) {
  vec2 e = vec2(1.0, -1.0) * 1e-3;
  return normalize(e.xyy * toFigure(p + e.xyy) + e.yyx * toFigure(p + e.yyx) + e.yxy * toFigure(p + e.yxy) +
    e.xxx * toFigure(p + e.xxx));
}

// Where the ray is inside the ball that holds the figure; y <= x: nowhere.
vec2 insideBall(vec3 from, vec3 way) {
  vec3 o = from - uBall.xyz;
  float b = dot(o, way);
  float under = b * b - dot(o, o) + uBall.w * uBall.w;
  if (uLimbs == 0 || under <= 0.0) return vec2(1.0, 0.0);
  float root = sqrt(under);
  return vec2(max(0.0, -b - root), -b + root);
}

// Distance along the ray, and how much of the pixel the figure fills: a near miss fills part of it.
vec2 hitFigure(vec3 from, vec3 way, float most, float pixel) {
  vec2 span = insideBall(from, way);
  float t = span.x;
  float end = min(most, span.y);
  vec2 best = vec2(0.0, 0.0);
  for (int i = 0; i < 90 && t < end; i++) {
    float m = toFigure(from + t * way);
    float wide = max(pixel * t, 1e-5);
    if (m < 0.02 * wide + 2e-4) return vec2(t, 1.0);
    float fills = 1.0 - m / wide;
    if (fills > best.y) best = vec2(t, fills);
    t += max(0.85 * m, 0.1 * wide);
  }
  return best;
}

// Share of the lamp's mouth that is seen from there past the figure.
float litShare(vec3 at, vec3 normal) {
  vec3 from = at + 0.012 * normal;
  float d = length(from);
  vec3 way = -from / d;
  vec2 span = insideBall(from, way);
  float t = max(span.x, 0.004);
  float open = 1.0;
  for (int i = 0; i < 60 && t < min(span.y, d); i++) {
    float m = toFigure(from + t * way);
    // The mouth's half width, as seen at t on the way to it.
    float half_ = max(uMouthM * t / d, 5e-4);
    open = min(open, 0.5 + 0.5 * m / half_);
    if (open < 0.0) return 0.0;
    t += max(0.8 * abs(m), 0.3 * half_);
  }
  return smoothstep(0.0, 1.0, open);
}

vec3 figureLight(vec3 p) {
  vec3 n = normalOn(p);
  float cosIn = max(0.0, -dot(n, normalize(p)));
  if (cosIn <= 0.0) return vec3(0.0);
  return paintAt(p) * squareLx(p) * (cosIn * litShare(p, n) / PI);
}
