#version 300 es
// Wall and ground lit by the traced intensity and by nothing else: E = I cos / d², L = rho E / pi, then the eye or a camera.
// The same laws in plain numbers: src/app/measure/nightLight.ts, nightScene.ts, nightTone.ts.
precision highp float;

uniform sampler2D uWindow;    // I near the axis over (theta cos phi, theta sin phi), as a share of uPeakCd
uniform sampler2D uProfile;   // azimuth mean over theta, 0 to 180 degrees, as a share of uPeakCd
uniform vec2 uWindowHalfDeg;
uniform float uPeakCd;
uniform vec3 uEye;
uniform vec3 uRight;
uniform vec3 uUp;
uniform vec3 uForward;
uniform vec2 uHalf;           // tangents of half the picture's width and height
uniform float uDistanceM;
uniform float uLampM;
uniform float uJointM;
uniform vec2 uReflectance;    // wall, ground
uniform float uCamera;        // 0: the eye, 1: a camera
uniform float uHalfResponse;  // eye: luminance of half response
uniform float uExponent;
uniform float uWhite;         // camera: luminance of white
uniform float uBlend;

in vec2 vPicture;
out vec4 outColour;

float shareTowards(vec3 d) {
  float flat_ = length(d.xy);
  float theta = degrees(atan(flat_, d.z));
  float far = texture(uProfile, vec2(theta / 180.0, 0.5)).r;
  vec2 uv = flat_ > 0.0 ? theta * d.xy / flat_ : vec2(theta, 0.0);
  vec2 rel = uv / uWindowHalfDeg;
  float outwards = max(abs(rel.x), abs(rel.y));
  if (outwards >= 1.0) return far;
  return mix(texture(uWindow, rel * 0.5 + 0.5).r, far, smoothstep(1.0 - uBlend, 1.0, outwards));
}

// Joints of the wall every uJointM, a little darker than the wall; they fade where they would be finer than the picture.
float joints(vec2 at, vec2 wide) {
  vec2 near = abs(fract(at / uJointM + 0.5) - 0.5) * uJointM;
  vec2 lines = 1.0 - smoothstep(wide * 0.6, wide * 1.4, near);
  float fade = 1.0 - smoothstep(0.05, 0.3, max(wide.x, wide.y) / uJointM);
  return 1.0 - 0.2 * fade * max(lines.x, lines.y);
}

void main() {
  vec3 sight = normalize(uForward + vPicture.x * uHalf.x * uRight + vPicture.y * uHalf.y * uUp);
  float tGround = sight.y < 0.0 ? (-uLampM - uEye.y) / sight.y : 1e20;
  float tWall = sight.z > 0.0 ? (uDistanceM - uEye.z) / sight.z : 1e20;
  float t = min(tGround, tWall);
  vec3 at = uEye + t * sight;
  vec2 wide = fwidth(at.xy) + 1e-6;
  float screen = 0.0;
  if (t < 1e19 && at.z > 0.0) {
    bool ground = tGround < tWall;
    float d2 = dot(at, at);
    float cosIn = (ground ? uLampM : at.z) / sqrt(d2);
    // The lamp's own x points to the left of someone who looks along its beam.
    float lx = uPeakCd * shareTowards(vec3(-at.x, at.y, at.z)) * cosIn / d2;
    float paint = ground ? uReflectance.y : uReflectance.x * joints(vec2(at.x, at.y + uLampM), wide);
    float luminance = paint * lx / 3.14159265;
    if (uCamera > 0.5) {
      float v = min(luminance / uWhite, 1.0);
      screen = v <= 0.0031308 ? 12.92 * v : 1.055 * pow(v, 1.0 / 2.4) - 0.055;
    } else {
      float l = pow(luminance, uExponent);
      screen = l / (l + pow(uHalfResponse, uExponent));
    }
  }
  // Less than a step of grain hides the steps of an 8-bit screen in the dark.
  float grain = fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715)))) - 0.5;
  // Neutral white light on a slightly warm wall; the dark itself is a trace of blue, as the page is.
  vec3 colour = mix(vec3(0.012, 0.018, 0.024), vec3(1.0, 0.975, 0.925), clamp(screen, 0.0, 1.0));
  outColour = vec4(colour + grain / 255.0, 1.0);
}
