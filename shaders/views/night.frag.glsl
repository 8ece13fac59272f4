#version 300 es
// The night, lit by the traced intensity and by nothing else: E = I cos/d², L = rho E/pi, haze on the way, then the eye or a camera.
// The same laws in plain numbers: src/app/night/model/seen.ts and what it calls. After this head come nightLight, nightFigure,
// nightGround, nightAir, nightTone and nightMain.glsl, in that order.
precision highp float;

uniform sampler2D uWindow;    // I near the axis over (theta cos phi, theta sin phi), as a share of uPeakCd
uniform sampler2D uProfile;   // over theta, 0 to 180 degrees: azimuth mean as a share of uPeakCd, and the light's red, green, blue
uniform vec2 uWindowHalfDeg;
uniform float uPeakCd;
uniform float uBlend;

uniform vec3 uEye;
uniform vec3 uRight;
uniform vec3 uUp;
uniform vec3 uForward;
uniform vec2 uHalf;           // tangents of half the picture's width and height
uniform float uPixel;         // tangent of one pixel
uniform vec2 uCorner;         // of this picture on the canvas, px

uniform int uKind;            // 0 wall, 1 person, 2 boat, 3 field
uniform vec3 uAxis;           // along the beam
uniform vec3 uCentre;         // the point aimed at
uniform vec2 uTargetM;        // width and height (on the field: depth)
uniform float uLampM;         // height of the lamp
uniform float uMouthM;        // radius of its mouth
uniform float uJointM;
uniform vec3 uWall;           // reflectances
uniform vec3 uEarth;
uniform vec3 uGrass;
uniform vec3 uWater;
uniform vec3 uLine;
uniform vec2 uUpright;        // of earth, of grass

uniform int uLimbs;
uniform vec4 uLimbA[24];      // one end and its radius
uniform vec4 uLimbB[24];
uniform vec3 uPaint[24];
uniform vec4 uBall;           // holds the figure
uniform float uMeltM;

uniform float uPerM;          // extinction; 0: no haze
uniform float uApexM;
uniform float uCoreRad;
uniform vec3 uLobes;          // asymmetry ahead, asymmetry back, share of the second

uniform float uCamera;        // 0: the eye, 1: a camera
uniform float uSettled;       // eye: luminance of half response
uniform float uExponent;
uniform vec2 uMesopic;
uniform float uWhite;         // camera: luminance of white

in vec2 vPicture;
out vec4 outColour;

const float PI = 3.14159265;

float hash(vec2 p) {
  vec3 q = fract(p.xyx * vec3(0.1031, 0.103, 0.0973));
  q += dot(q, q.yzx + 33.33);
  return fract((q.x + q.y) * q.z);
}

float noise(vec2 p) {
  vec2 i = floor(p);
  vec2 f = p - i;
  vec2 s = f * f * (3.0 - 2.0 * f);
  return mix(mix(hash(i), hash(i + vec2(1, 0)), s.x), mix(hash(i + vec2(0, 1)), hash(i + vec2(1, 1)), s.x), s.y);
}

// Texture that would be finer than the picture gives way to its mean.
float seen(float size, float wide) {
  return 1.0 - smoothstep(0.2, 0.7, wide / size);
}
