// Arrays that a device's maps are copied into: seven megabytes an edit, which as garbage cost more than the copying.
const freeMaps: Float32Array[] = []
/** Of so many runs at once: the one being traced and those whose first sheets are being read. */
const FREE_MOST = 6 * 16

/** Of whatever was in it. */
export function acquireMaps(length: number): Float32Array {
  const at = freeMaps.findIndex((maps) => maps.length === length)
  return at < 0 ? new Float32Array(length) : freeMaps.splice(at, 1)[0]!
}

/** Nobody reads these any more. */
export function releaseMaps(maps: Float32Array): void {
  if (freeMaps.length >= FREE_MOST) freeMaps.shift()
  freeMaps.push(maps)
}
