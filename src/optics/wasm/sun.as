// Twin of the sun in src/optics/emission.ts: the same bits. What hangs on the lamp alone is worked out once a lamp.
import * as C from './constants'
import { unit } from './draws'
import { cosHost, powHost, sinHost } from './host'
import { param, point, set } from './memory'

const TURN: f64 = 6.283185307179586

/** Twice this is 1 − cosine of the disc's half angle. */
let halfSine2: f64 = 0
let cosAzimuth: f64 = 0
let sinAzimuth: f64 = 0

/** Once the parameters are in their place. */
export function placeSun(): void {
  halfSine2 = powHost(sinHost(param(C.P_sunHalfAngle) / 2), 2)
  cosAzimuth = cosHost(param(C.P_sunAzimuth))
  sinAzimuth = sinHost(param(C.P_sunAzimuth))
}

function aimSun(): void {
  const limb = param(C.P_sunLimb)
  const even = (3 - 3 * limb) / (3 - limb)
  const u = unit(point(C.polar))
  const square = u <= even ? u / even : 1 - powHost((u - even) / (1 - even), 2.0 / 3)
  const c = square * 2 * halfSine2
  const sin = Math.sqrt(c * (2 - c))
  const phi = TURN * unit(point(C.azimuth))
  const a = sin * cosHost(phi)
  const b = sin * sinHost(phi)
  const x = a * param(C.P_sunCosTilt) + (1 - c) * param(C.P_sunSinTilt)
  const z = -a * param(C.P_sunSinTilt) + (1 - c) * param(C.P_sunCosTilt)
  set(C.DX, -(cosAzimuth * x - sinAzimuth * b))
  set(C.DY, -(sinAzimuth * x + cosAzimuth * b))
  set(C.DZ, -z)
}

export function leaveSun(): void {
  const radius = param(C.P_sunRadius)
  const u = unit(point(C.pointU))
  const v = unit(point(C.pointV))
  if (param(C.P_sunSquare) > 0) {
    set(C.X, (2 * u - 1) * radius)
    set(C.Y, (2 * v - 1) * (param(C.P_sunSquare) > 1 ? param(C.P_sunHalfY) : radius))
  } else {
    const r = radius * Math.sqrt(u)
    set(C.X, r * cosHost(TURN * v))
    set(C.Y, r * sinHost(TURN * v))
  }
  set(C.Z, param(C.P_sunZ))
  aimSun()
}
