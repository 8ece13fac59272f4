// The picture itself: one triangle, two textures, drawn when asked. Plain WebGL 2.
import fragment from '../../../shaders/views/night.frag.glsl?raw'
import vertex from '../../../shaders/views/night.vert.glsl?raw'
import { linear } from '../../num/interpolate.ts'
import { BLEND, type NightLight } from '../measure/nightLight.ts'
import type { Station } from '../measure/nightScene.ts'
import { EYE_EXPONENT, GROUND_REFLECTANCE, WALL_REFLECTANCE } from '../measure/nightTone.ts'

export interface NightPicture {
  station: Station
  /** Height over width. */
  aspect: number
  distanceM: number
  lampM: number
  jointM: number
  /** Exactly one of the two. */
  eyeHalf: number | null
  cameraWhite: number | null
}

const PROFILE_STEPS = 2048

export interface NightGl {
  light(of: NightLight): void
  draw(p: NightPicture): void
  dispose(): void
}

export function createNightGl(canvas: HTMLCanvasElement): NightGl | null {
  const gl = canvas.getContext('webgl2', { antialias: false, alpha: false, powerPreference: 'low-power' })
  if (!gl) return null
  const program = build(gl)
  if (!program) return null
  const at = (name: string) => gl.getUniformLocation(program, name)
  const textures = [gl.createTexture(), gl.createTexture()]
  const halfDeg: [number, number] = [1, 1]
  let peak = 1

  const upload = (unit: number, width: number, height: number, data: Float32Array) => {
    gl.activeTexture(gl.TEXTURE0 + unit)
    gl.bindTexture(gl.TEXTURE_2D, textures[unit]!)
    gl.pixelStorei(gl.UNPACK_ALIGNMENT, 4)
    // Half floats inside: every WebGL 2 filters them.
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.R16F, width, height, 0, gl.RED, gl.FLOAT, data)
    for (const [key, value] of [
      [gl.TEXTURE_MIN_FILTER, gl.LINEAR],
      [gl.TEXTURE_MAG_FILTER, gl.LINEAR],
      [gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE],
      [gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE],
    ] as const)
      gl.texParameteri(gl.TEXTURE_2D, key, value)
  }

  return {
    light({ directionMap: map, profile }) {
      peak = 1e-9
      for (const v of map.values) if (v > peak) peak = v
      for (let i = 0; i < profile.cd.length; i++) peak = Math.max(peak, profile.cd[i]!)
      upload(
        0,
        map.columns,
        map.rows,
        map.values.map((v) => v / peak),
      )
      const mean = Float32Array.from(
        { length: PROFILE_STEPS },
        (_, i) => linear(profile.thetaDeg, profile.cd, (180 * (i + 0.5)) / PROFILE_STEPS) / peak,
      )
      upload(1, PROFILE_STEPS, 1, mean)
      halfDeg[0] = Math.abs(map.toX)
      halfDeg[1] = Math.abs(map.toY)
    },
    draw(p) {
      gl.viewport(0, 0, canvas.width, canvas.height)
      // biome-ignore lint/correctness/useHookAtTopLevel: WebGL's useProgram is no React hook
      gl.useProgram(program)
      gl.uniform1i(at('uWindow'), 0)
      gl.uniform1i(at('uProfile'), 1)
      gl.uniform2f(at('uWindowHalfDeg'), ...halfDeg)
      gl.uniform1f(at('uPeakCd'), peak)
      gl.uniform3f(at('uEye'), ...p.station.eye)
      gl.uniform3f(at('uRight'), ...p.station.right)
      gl.uniform3f(at('uUp'), ...p.station.up)
      gl.uniform3f(at('uForward'), ...p.station.forward)
      gl.uniform2f(at('uHalf'), p.station.halfWidth, p.station.halfWidth * p.aspect)
      gl.uniform1f(at('uDistanceM'), p.distanceM)
      gl.uniform1f(at('uLampM'), p.lampM)
      gl.uniform1f(at('uJointM'), p.jointM)
      gl.uniform2f(at('uReflectance'), WALL_REFLECTANCE, GROUND_REFLECTANCE)
      gl.uniform1f(at('uCamera'), p.cameraWhite === null ? 0 : 1)
      gl.uniform1f(at('uHalfResponse'), p.eyeHalf ?? 1)
      gl.uniform1f(at('uExponent'), EYE_EXPONENT)
      gl.uniform1f(at('uWhite'), p.cameraWhite ?? 1)
      gl.uniform1f(at('uBlend'), BLEND)
      gl.drawArrays(gl.TRIANGLES, 0, 3)
    },
    dispose() {
      for (const t of textures) gl.deleteTexture(t)
      gl.deleteProgram(program)
    },
  }
}

/** Null when the driver refuses the shader: said on screen, no crash. */
function build(gl: WebGL2RenderingContext): WebGLProgram | null {
  const program = gl.createProgram()
  for (const [kind, text] of [
    [gl.VERTEX_SHADER, vertex],
    [gl.FRAGMENT_SHADER, fragment],
  ] as const) {
    const shader = gl.createShader(kind)
    if (!shader) return null
    gl.shaderSource(shader, text)
    gl.compileShader(shader)
    if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS)) {
      console.warn(gl.getShaderInfoLog(shader))
      return null
    }
    gl.attachShader(program, shader)
  }
  gl.linkProgram(program)
  return gl.getProgramParameter(program, gl.LINK_STATUS) ? program : null
}
