// Keeps the straight stretches of a path in air: a trail that reads weight and wavelength of the ray itself.
import { DX, DY, DZ, ENTERED, RETURNED, W, WAVELENGTH } from '../../optics/records.ts'
import { LEAKED_PIECE, PIECE_STRIDE, RETURNED_PIECE } from '../../run/pieces.ts'
import type { Trail } from './walk.ts'

export interface Recorder extends Trail {
  /** The path has ended where it stands; light of this weight goes on from there into the open, `leaked`: where no beam should. */
  goesOn(x: number, y: number, z: number, weight: number, leaked: boolean): void
  /** The records made since the last call, PIECE_STRIDE floats each (run/pieces.ts). */
  take(): Float32Array
}

/** Shorter stretches are left out, mm: no place can be told on them. */
const SHORTEST_MM = 1e-3

/** `ray`: the ray in flight of the kernel whose paths are recorded. */
export function makeRecorder(ray: Float64Array): Recorder {
  let data = new Float32Array(4096 * PIECE_STRIDE)
  let used = 0
  let begun = false
  let [px, py, pz, pw, pBack] = [0, 0, 0, 0, 0]

  function keep(dx: number, dy: number, dz: number, length: number, weight: number, back: number): void {
    if (used + PIECE_STRIDE > data.length) {
      const more = new Float32Array(data.length * 2)
      more.set(data)
      data = more
    }
    data[used] = px
    data[used + 1] = py
    data[used + 2] = pz
    data[used + 3] = dx
    data[used + 4] = dy
    data[used + 5] = dz
    data[used + 6] = length
    data[used + 7] = weight
    data[used + 8] = ray[WAVELENGTH]!
    data[used + 9] = back
    used += PIECE_STRIDE
  }

  const isBack = () => (ray[RETURNED]! > 0 || ray[ENTERED]! > 0 ? RETURNED_PIECE : 0)
  const begin = (x: number, y: number, z: number) => {
    ;[px, py, pz, pw, pBack] = [x, y, z, ray[W]!, isBack()]
  }

  return {
    point(x, y, z, inLens) {
      if (begun) {
        const [ax, ay, az] = [x - px, y - py, z - pz]
        const length = Math.sqrt(ax * ax + ay * ay + az * az)
        if (length > SHORTEST_MM) keep(ax / length, ay / length, az / length, length, pw, pBack)
      }
      begin(x, y, z)
      begun = !inLens
    },
    stops: () => false,
    end() {
      begun = false
    },
    goesOn(x, y, z, weight, leaked) {
      begin(x, y, z)
      keep(ray[DX]!, ray[DY]!, ray[DZ]!, Number.POSITIVE_INFINITY, weight, pBack | (leaked ? LEAKED_PIECE : 0))
    },
    take() {
      const out = data.slice(0, used)
      used = 0
      return out
    },
  }
}
