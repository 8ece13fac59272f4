#version 300 es
// One triangle over the whole picture; no buffers.
out vec2 vPicture;

void main() {
  vec2 corner = vec2(float((gl_VertexID << 1) & 2), float(gl_VertexID & 2));
  vPicture = corner * 2.0 - 1.0;
  gl_Position = vec4(vPicture, 0.0, 1.0);
}
