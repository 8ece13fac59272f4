/** What zlib (RFC 1950), or deflate alone (RFC 1951), has packed; null where it comes to more than so many bytes: a few may inflate to a flood. Rejects where they are damaged. */
export async function inflateAtMost(
  packed: Uint8Array<ArrayBuffer>,
  mostBytes: number,
  format: 'deflate' | 'deflate-raw' = 'deflate',
): Promise<Uint8Array<ArrayBuffer> | null> {
  const reader = new Blob([packed]).stream().pipeThrough(new DecompressionStream(format)).getReader()
  const pieces: Uint8Array[] = []
  let size = 0
  for (;;) {
    const { done, value } = await reader.read()
    if (done) break
    size += value.length
    if (size > mostBytes) {
      await reader.cancel()
      return null
    }
    pieces.push(value)
  }
  const all = new Uint8Array(size)
  let at = 0
  for (const piece of pieces) {
    all.set(piece, at)
    at += piece.length
  }
  return all
}
