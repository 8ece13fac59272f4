// Work that several tests share: done by the first of them that asks, so that a fault in it fails a test and not the loading of the file.
export function once<T>(make: () => T): () => T {
  let made: { value: T } | null = null
  return () => {
    made ??= { value: make() }
    return made.value
  }
}
