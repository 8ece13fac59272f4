// Keeps the segments of a path in air: a trail that reads weight and wavelength of the ray itself.
import { DX, DY, DZ, ENTERED, RETURNED, W, WAVELENGTH } from '../../optics/records.ts'
import { LEAKED_SEGMENT, RETURNED_SEGMENT, SEGMENT_STRIDE } from '../../run/segments.ts'
import type { Trail } from './walk.ts'

export interface Recorder extends Trail {
  /** The path has ended where it stands; light of this weight goes on from there into the open, `leaked`: where no beam should. */
  goesOn(x: number, y: number, z: number, weight: number, leaked: boolean): void
  /** The records made since the last call, SEGMENT_STRIDE floats each (run/segments.ts). */
  take(): Float32Array
}

/** Cosine over which two directions are one: single precision keeps seven digits. */
const STRAIGHT = 1 - 1e-6
/** Place of the length in a record. */
const LENGTH = 6
/** Shorter segments are left out, mm: no place can be located on them. */
const SHORTEST_MM = 1e-3

/** `ray`: the ray in flight of the kernel whose paths are recorded. */
export function makeRecorder(ray: Float64Array): Recorder {
  let data = new Float32Array(4096 * SEGMENT_STRIDE)
  let used = 0
  let begun = false
  /** The path's last corner has left a record. */
  let fresh = false
  let [px, py, pz, pw, pBack] = [0, 0, 0, 0, 0]

  function keep(dx: number, dy: number, dz: number, length: number, weight: number, back: number): void {
    if (used + SEGMENT_STRIDE > data.length) {
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
    used += SEGMENT_STRIDE
  }

  /** The last record runs the way that the ray runs now. */
  const isStraightOn = () => {
    const at = used - SEGMENT_STRIDE
    return data[at + 3]! * ray[DX]! + data[at + 4]! * ray[DY]! + data[at + 5]! * ray[DZ]! > STRAIGHT
  }
  const isBack = () => (ray[RETURNED]! > 0 || ray[ENTERED]! > 0 ? RETURNED_SEGMENT : 0)
  const begin = (x: number, y: number, z: number) => {
    px = x
    py = y
    pz = z
    pw = ray[W]!
    pBack = isBack()
  }

  return {
    point(x, y, z, inLens) {
      if (begun) {
        const ax = x - px
        const ay = y - py
        const az = z - pz
        const length = Math.sqrt(ax * ax + ay * ay + az * az)
        fresh = length > SHORTEST_MM
        if (fresh) keep(ax / length, ay / length, az / length, length, pw, pBack)
      }
      begin(x, y, z)
      begun = !inLens
      if (inLens) fresh = false
    },
    stops: () => false,
    end() {
      begun = false
      fresh = false
    },
    goesOn(x, y, z, weight, leaked) {
      // Light that leaves without a turn leaves by the segment that brought it here: the way through a gap is part of it.
      if (fresh && isStraightOn()) {
        data[used - SEGMENT_STRIDE + LENGTH] = Number.POSITIVE_INFINITY
        if (leaked) data[used - 1] = data[used - 1]! | LEAKED_SEGMENT
        return
      }
      begin(x, y, z)
      keep(ray[DX]!, ray[DY]!, ray[DZ]!, Number.POSITIVE_INFINITY, weight, pBack | (leaked ? LEAKED_SEGMENT : 0))
    },
    take() {
      const out = data.slice(0, used)
      used = 0
      return out
    },
  }
}
