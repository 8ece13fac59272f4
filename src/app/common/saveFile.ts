// A file that the browser saves where the user's downloads go.

/** `type`: its media type. */
export function saveFile(name: string, content: BlobPart, type: string): void {
  const url = URL.createObjectURL(new Blob([content], { type }))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  // The browser reads the file after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}

/** "Gannet Head" → gannet-head: a lamp's name as the beginning of a file's name. */
export function fileStem(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60)
  return plain || 'lamp'
}
