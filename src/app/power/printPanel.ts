/** The panel alone on paper; otherwise the beam sheet is printed. */
export function printPanel(): void {
  const { dataset } = document.documentElement
  dataset['print'] = 'power'
  window.addEventListener('afterprint', () => delete dataset['print'], { once: true })
  window.print()
}
