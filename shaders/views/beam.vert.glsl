// A box about the beam; the fragment shader walks through it.
out vec3 vPointMm;

void main() {
  vec4 world = modelMatrix * vec4(position, 1.0);
  vPointMm = world.xyz;
  gl_Position = projectionMatrix * viewMatrix * world;
}
