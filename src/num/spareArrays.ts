// Arrays whose buffers are used again. Garbage of large arrays costs more than its zeroing: V8 collects all of a thread's heap when some 8 MB of buffers
// were let go, and with it the compiled code of every closure that is made anew with each run. No library: a list of free buffers.

const free: ArrayBuffer[] = []
/** Kept at most, so many and of so many bytes together: the last ones given back. */
const FREE_MOST = 64
const FREE_BYTES = 1 << 27
let freeBytes = 0
/** New ones have room for a little more than is asked for. */
const STEP = 16_384

/** So many numbers, in the buffer of an array given back or in a new one: what stands in it is whatever was there. */
export const spareFloat64 = (length: number): Float64Array<ArrayBuffer> => new Float64Array(take(8 * length), 0, length)
/** The same in single precision. */
export const spareFloat32 = (length: number): Float32Array<ArrayBuffer> => new Float32Array(take(4 * length), 0, length)
/** The same of bytes. */
export const spareUint8 = (length: number): Uint8Array<ArrayBuffer> => new Uint8Array(take(length), 0, length)

/** Nobody reads or writes these any more. Each was taken here, and begins its buffer. */
export function giveBack(arrays: Iterable<ArrayBufferView<ArrayBufferLike>>): void {
  for (const { buffer } of arrays)
    if (buffer.byteLength > 0 && buffer instanceof ArrayBuffer) {
      free.push(buffer)
      freeBytes += buffer.byteLength
    }
  while (free.length > FREE_MOST || freeBytes > FREE_BYTES) freeBytes -= free.shift()?.byteLength ?? 0
}

/** The free one given back last that is not much too large. */
function take(bytes: number): ArrayBuffer {
  const whole = Math.ceil(bytes / STEP) * STEP
  const at = free.findLastIndex(({ byteLength }) => byteLength >= bytes && byteLength <= 2 * whole)
  const [found] = at >= 0 ? free.splice(at, 1) : []
  freeBytes -= found?.byteLength ?? 0
  return found ?? new ArrayBuffer(whole)
}
