// Arrays that a device's maps are copied into: seven megabytes an edit, which as garbage cost more than the copying.
const spare: Float32Array[] = []
/** Of so many runs at once: one in hand and those whose first looks are being read. */
const SPARE_MOST = 6 * 16

/** Of whatever was in it. */
export function takeMaps(length: number): Float32Array {
  const at = spare.findIndex((maps) => maps.length === length)
  return at < 0 ? new Float32Array(length) : spare.splice(at, 1)[0]!
}

/** Nobody reads these any more. */
export function giveMaps(maps: Float32Array): void {
  if (spare.length >= SPARE_MOST) spare.shift()
  spare.push(maps)
}
