// Renders the picture in plain WebGL 2: one triangle and two small textures for each lamp. Program and textures are created once; a
// new sheet only refills the textures.

import head from '../../../shaders/views/night.frag.glsl?raw'
import vertex from '../../../shaders/views/night.vert.glsl?raw'
import air from '../../../shaders/views/nightAir.glsl?raw'
import figureText from '../../../shaders/views/nightFigure.glsl?raw'
import ground from '../../../shaders/views/nightGround.glsl?raw'
import lightText from '../../../shaders/views/nightLight.glsl?raw'
import main from '../../../shaders/views/nightMain.glsl?raw'
import tone from '../../../shaders/views/nightTone.glsl?raw'
import { linear } from '../../num/interpolate.ts'
import { type Air, LOBES } from './model/air.ts'
import { type Figure, MELT_M, PAINTS } from './model/figures.ts'
import { BLEND, type NightLight } from './model/light.ts'
import { jointM, type Place, type Station, TARGETS, type Triple } from './model/scene.ts'
import { REFLECTANCE, UPRIGHT } from './model/seen.ts'
import { type Exposure, EYE_EXPONENT, EYE_HALF, MESOPIC } from './model/tone.ts'

export interface NightPicture {
  /** Which lamp's light, from 0 on. */
  slot: number
  /** Viewport on the canvas, px from its lower left corner. */
  frame: { x: number; y: number; width: number; height: number }
  station: Station
  place: Place
  figure: Figure | null
  air: Air
  mouthM: number
  exposure: Exposure
}

export interface NightGl {
  light(slot: number, of: NightLight, tint: (thetaDeg: number) => Triple): void
  clear(): void
  /** Returns when the GPU has finished drawing. */
  finish(): void
  draw(p: NightPicture): void
  dispose(): void
}

const PROFILE_STEPS = 2048
const LIMBS = 24

interface Slot {
  window: WebGLTexture
  profile: WebGLTexture
  columns: number
  rows: number
  halfDeg: [number, number]
  peakCd: number
}

/** Null when this browser can't draw it. `lamps`: so many lamps' light at once, in one context. */
export function createNightGl(canvas: HTMLCanvasElement, lamps = 2): NightGl | null {
  const gl = canvas.getContext('webgl2', { antialias: false, alpha: false, powerPreference: 'low-power' })
  if (!gl) return null
  const program = build(gl)
  if (!program) return null
  const known = new Map<string, WebGLUniformLocation | null>()
  const at = (name: string) => {
    if (!known.has(name)) known.set(name, gl.getUniformLocation(program, name))
    return known.get(name)!
  }
  const slots = Array.from({ length: lamps }, () => emptySlot(gl))
  const mean = new Float32Array(4 * PROFILE_STEPS)
  const onePixel = new Uint8Array(4)

  return {
    light(slot, of, tint) {
      const s = slots[slot]!
      const { directionMap: map, profile } = of
      s.peakCd = 1e-9
      for (const v of map.values) if (v > s.peakCd) s.peakCd = v
      for (let i = 0; i < profile.cd.length; i++) s.peakCd = Math.max(s.peakCd, profile.cd[i]!)
      if (s.columns !== map.columns || s.rows !== map.rows) {
        gl.deleteTexture(s.window)
        s.window = texture(gl, gl.R16F, map.columns, map.rows)
        s.columns = map.columns
        s.rows = map.rows
      }
      const share = map.values.map((v) => v / s.peakCd)
      gl.bindTexture(gl.TEXTURE_2D, s.window)
      gl.texSubImage2D(gl.TEXTURE_2D, 0, 0, 0, map.columns, map.rows, gl.RED, gl.FLOAT, share)
      for (let i = 0; i < PROFILE_STEPS; i++) {
        const thetaDeg = (180 * (i + 0.5)) / PROFILE_STEPS
        mean[4 * i] = linear(profile.thetaDeg, profile.cd, thetaDeg) / s.peakCd
        mean.set(tint(thetaDeg), 4 * i + 1)
      }
      gl.bindTexture(gl.TEXTURE_2D, s.profile)
      gl.texSubImage2D(gl.TEXTURE_2D, 0, 0, 0, PROFILE_STEPS, 1, gl.RGBA, gl.FLOAT, mean)
      s.halfDeg = [Math.abs(map.toX), Math.abs(map.toY)]
    },
    clear() {
      gl.disable(gl.SCISSOR_TEST)
      gl.clearColor(0.02, 0.03, 0.04, 1)
      gl.clear(gl.COLOR_BUFFER_BIT)
    },
    finish() {
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, onePixel)
    },
    draw(p) {
      const { x, y, width, height } = p.frame
      gl.viewport(x, y, width, height)
      gl.enable(gl.SCISSOR_TEST)
      gl.scissor(x, y, width, height)
      // biome-ignore lint/correctness/useHookAtTopLevel: WebGL's useProgram is no React hook
      gl.useProgram(program)
      const s = slots[p.slot]!
      gl.activeTexture(gl.TEXTURE0)
      gl.bindTexture(gl.TEXTURE_2D, s.window)
      gl.activeTexture(gl.TEXTURE1)
      gl.bindTexture(gl.TEXTURE_2D, s.profile)
      gl.activeTexture(gl.TEXTURE0)
      gl.uniform1i(at('uWindow'), 0)
      gl.uniform1i(at('uProfile'), 1)
      gl.uniform2f(at('uWindowHalfDeg'), ...s.halfDeg)
      for (const [name, value] of numbersOf(p, s.peakCd)) gl.uniform1f(at(name), value)
      for (const [name, value] of triplesOf(p)) gl.uniform3f(at(name), ...value)
      gl.uniform2f(at('uHalf'), p.station.halfWidth, (p.station.halfWidth * height) / width)
      gl.uniform2f(at('uCorner'), x, y)
      gl.uniform2f(at('uTargetM'), p.place.widthM, p.place.heightM)
      gl.uniform2f(at('uUpright'), UPRIGHT.earth, UPRIGHT.grass)
      gl.uniform2f(at('uMesopic'), MESOPIC.from, MESOPIC.to)
      gl.uniform1i(
        at('uKind'),
        TARGETS.findIndex((t) => t.key === p.place.kind),
      )
      figure(gl, at, p.figure)
      gl.drawArrays(gl.TRIANGLES, 0, 3)
    },
    dispose() {
      for (const s of slots) {
        gl.deleteTexture(s.window)
        gl.deleteTexture(s.profile)
      }
      gl.deleteProgram(program)
    },
  }
}

function numbersOf(p: NightPicture, peakCd: number): [string, number][] {
  const { exposure, air, place } = p
  return [
    ['uPeakCd', peakCd],
    ['uBlend', BLEND],
    ['uPixel', (2 * p.station.halfWidth) / p.frame.width],
    ['uLampM', place.lampM],
    ['uMouthM', p.mouthM],
    ['uJointM', jointM(place.widthM, place.heightM)],
    ['uMeltM', MELT_M],
    ['uPerM', air.perM],
    ['uApexM', air.apexM],
    ['uCoreRad', air.coreRad],
    ['uCamera', exposure.kind === 'camera' ? 1 : 0],
    ['uSettled', exposure.kind === 'eye' ? EYE_HALF * exposure.adaptedCdM2 : 1],
    ['uWhite', exposure.kind === 'camera' ? exposure.whiteCdM2 : 1],
    ['uExponent', EYE_EXPONENT],
  ]
}

function triplesOf({ station, place }: NightPicture): [string, Triple][] {
  return [
    ['uEye', station.eye],
    ['uRight', station.right],
    ['uUp', station.up],
    ['uForward', station.forward],
    ['uAxis', place.axis],
    ['uCentre', place.centre],
    ['uWall', REFLECTANCE.wall],
    ['uEarth', REFLECTANCE.earth],
    ['uGrass', REFLECTANCE.grass],
    ['uWater', REFLECTANCE.water],
    ['uLine', REFLECTANCE.line],
    ['uLobes', [LOBES.ahead, LOBES.back, LOBES.backShare]],
  ]
}

function figure(gl: WebGL2RenderingContext, at: (name: string) => WebGLUniformLocation | null, f: Figure | null) {
  const limbs = f?.limbs ?? []
  if (limbs.length > LIMBS) throw new Error(`a figure of ${limbs.length} limbs; the shader holds ${LIMBS}`)
  gl.uniform1i(at('uLimbs'), limbs.length)
  if (!f) return
  gl.uniform4fv(
    at('uLimbA'),
    limbs.flatMap((l) => [...l.a, l.ra]),
  )
  gl.uniform4fv(
    at('uLimbB'),
    limbs.flatMap((l) => [...l.b, l.rb]),
  )
  gl.uniform3fv(
    at('uPaint'),
    limbs.flatMap((l) => [...PAINTS[l.paint]]),
  )
  gl.uniform4f(at('uBall'), ...f.ball.centre, f.ball.radius)
}

function emptySlot(gl: WebGL2RenderingContext): Slot {
  return {
    window: texture(gl, gl.R16F, 1, 1),
    profile: texture(gl, gl.RGBA16F, PROFILE_STEPS, 1),
    columns: 1,
    rows: 1,
    halfDeg: [1, 1],
    peakCd: 1,
  }
}

/** A texture of half floats: every WebGL 2 can filter them. */
function texture(gl: WebGL2RenderingContext, format: number, width: number, height: number): WebGLTexture {
  const made = gl.createTexture()
  gl.bindTexture(gl.TEXTURE_2D, made)
  gl.texStorage2D(gl.TEXTURE_2D, 1, format, width, height)
  for (const [key, value] of [
    [gl.TEXTURE_MIN_FILTER, gl.LINEAR],
    [gl.TEXTURE_MAG_FILTER, gl.LINEAR],
    [gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE],
    [gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE],
  ] as const)
    gl.texParameteri(gl.TEXTURE_2D, key, value)
  return made
}

/** Null when the driver refuses the shader; the view then says so. */
function build(gl: WebGL2RenderingContext): WebGLProgram | null {
  const program = gl.createProgram()
  const fragment = [head, lightText, figureText, ground, air, tone, main].join('\n')
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
