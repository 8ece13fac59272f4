// Twin of src/optics/idealLens.ts: the same bits.
import * as C from './constants'
import { param, ray, set } from './memory'

export function passIdeal(): void {
  const f = param(C.P_lensFocal)
  const along = Math.abs(ray(C.DZ))
  const u = ray(C.DX) / along - ray(C.X) / f
  const v = ray(C.DY) / along - ray(C.Y) / f
  const scale = 1 / Math.sqrt(1 + u * u + v * v)
  set(C.DX, u * scale)
  set(C.DY, v * scale)
  set(C.DZ, ray(C.DZ) > 0 ? scale : -scale)
}
