// The browser's own dialog for one file.

/** `accept` as of an input element; `label` names it for screen readers and tests. */
export function pickFile({ accept, label }: { accept: string; label: string }, take: (file: File) => void): void {
  const input = document.createElement('input')
  input.type = 'file'
  input.accept = accept
  input.setAttribute('aria-label', label)
  input.addEventListener('change', () => {
    const file = input.files?.[0]
    if (file) take(file)
  })
  input.click()
}
