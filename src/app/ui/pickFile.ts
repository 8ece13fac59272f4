// The browser's own dialog for files.

interface FileWish {
  /** As of an input element. */
  accept: string
  /** For screen readers and tests. */
  label: string
}

export const pickFile = (wish: FileWish, take: (file: File) => void): void =>
  pick(wish, false, ([file]) => file && take(file))

/** One file or several, in the order of their names. */
export const pickFiles = (wish: FileWish, take: (files: File[]) => void): void =>
  pick(wish, true, (files) => take(files.sort((a, b) => a.name.localeCompare(b.name))))

function pick({ accept, label }: FileWish, multiple: boolean, take: (files: File[]) => void): void {
  const input = document.createElement('input')
  input.type = 'file'
  input.multiple = multiple
  input.accept = accept
  input.setAttribute('aria-label', label)
  input.addEventListener('change', () => {
    const files = [...(input.files ?? [])]
    if (files.length > 0) take(files)
  })
  input.click()
}
