// Twin of src/optics/groovesBack.ts: the same bits, the same draws. The reasons stand there.
import * as C from './constants'
import { draw } from './draws'
import { lambertian } from './interface'
import { param, ray, rings, set, single } from './memory'
import { outside } from './outline'

export function backThroughTip(): bool {
  const share = param(C.P_lensTipShare)
  if (param(C.P_lensSquare) > 0 && outside(ray(C.X), ray(C.Y))) return false
  const scattered = share * ray(C.INDEX) * ray(C.INDEX)
  const groove = Math.max(1 - share, 0.1)
  const both = scattered + groove
  if (draw() * both >= scattered) {
    set(C.W, ray(C.W) * (both / groove))
    return false
  }
  set(C.W, ray(C.W) * both)
  set(C.NX, 0)
  set(C.NY, 0)
  set(C.NZ, -1)
  lambertian()
  set(C.Z, 0)
  return true
}

export function backOntoTip(ring: i32): bool {
  const at = ring * C.G_size
  const r = Math.max(Math.sqrt(ray(C.X) * ray(C.X) + ray(C.Y) * ray(C.Y)), 1e-12)
  const z = (<f64>(ring + 1) * param(C.P_lensPitch) - r) * single(rings, at + C.G_tan)
  if (z > single(rings, at + C.G_tip)) return false
  const scattered = param(C.P_lensTipShare) / (ray(C.INDEX) * ray(C.INDEX) * single(rings, at + C.G_cos))
  set(C.W, ray(C.W) * (1 + scattered))
  if (draw() * (1 + scattered) >= scattered) return false
  const sin = single(rings, at + C.G_sin) / r
  set(C.NX, sin * ray(C.X))
  set(C.NY, sin * ray(C.Y))
  set(C.NZ, single(rings, at + C.G_cos))
  lambertian()
  set(C.Z, Math.max(0, z))
  return true
}
