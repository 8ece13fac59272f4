/** Prints the panel alone; by default the page prints the beam sheet. */
export function printPanel(): void {
  const { dataset } = document.documentElement
  dataset['print'] = 'power'
  window.addEventListener('afterprint', () => delete dataset['print'], { once: true })
  window.print()
}
