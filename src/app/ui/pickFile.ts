// The browser's own dialog for files.

interface FileChoice {
  /** As of an input element. */
  accept: string
  /** For screen readers and tests. */
  label: string
}

export const pickFile = (choice: FileChoice, take: (file: File) => void): void =>
  pick(choice, false, ([file]) => file && take(file))

/** One file or several, in the order of their names. */
export const pickFiles = (choice: FileChoice, take: (files: File[]) => void): void =>
  pick(choice, true, (files) => take(files.sort((a, b) => a.name.localeCompare(b.name))))

function pick({ accept, label }: FileChoice, multiple: boolean, take: (files: File[]) => void): void {
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
